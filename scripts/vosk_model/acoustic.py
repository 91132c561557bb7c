"""The acoustic half of the model folder: the network and the settings. Needs torch."""

from __future__ import annotations

from pathlib import Path

import torch

from vosk_model.features import FBANK_CONF
from vosk_model.network import Network, export
from vosk_model.phones import PhoneTable

BLANK_PENALTY = 2.0
"""How much "no new sound" is marked down; tuned with the costs."""

MODEL_CONF = """\
--min-active=20
--max-active=3000
--beam=11.0
--lattice-beam=3.5
--acoustic-scale=1.0
--frame-subsampling-factor=3
--endpoint.silence-phones=1
--endpoint.rule2.min-trailing-silence=0.5
--endpoint.rule3.min-trailing-silence=1.0
--endpoint.rule4.min-trailing-silence=2.0
"""


def export_network(work: Path, model: Path, blank_penalty: float = BLANK_PENALTY) -> None:
    """Write `am` and `conf` from the trained network."""
    saved = torch.load(work / "network.pt", map_location="cpu", weights_only=True)
    network = Network(saved["width"], saved["narrow"])
    network.load_state_dict(saved["weights"])
    (model / "am").mkdir(parents=True, exist_ok=True)
    export(network, model / "am" / "final.mdl", PhoneTable(), blank_penalty)
    (model / "conf").mkdir(exist_ok=True)
    (model / "conf" / "model.conf").write_text(MODEL_CONF)
    (model / "conf" / "fbank.conf").write_text(FBANK_CONF)
