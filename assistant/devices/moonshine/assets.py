"""Where the model's files are: inside the pinned wheel, read without importing its package."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

from assistant.errors import DeviceMissing

PACKAGE = "moonshine_voice"
"""Distribution `moonshine-voice`, pinned: another release may carry other files, or none."""

FOLDER = Path("assets") / "tiny-en"
ENCODER = "encoder_model.ort"
DECODER = "decoder_model_merged.ort"
TOKENIZER = "tokenizer.bin"

COST = "the built-in ear can't listen; type the commands, or use --ear vosk"


def model_folder() -> Path:
    """The folder with the three files. Raises `DeviceMissing` where one isn't there."""
    # `importlib.resources.files` would import the package and with it a native library that
    # this program has no use for; the finder tells the place without running anything.
    spec = find_spec(PACKAGE)
    if spec is None or not spec.submodule_search_locations:
        raise DeviceMissing("built-in ear", f"the package {PACKAGE} is not installed", COST)
    folder = Path(next(iter(spec.submodule_search_locations))) / FOLDER
    for name in (ENCODER, DECODER, TOKENIZER):
        if not (folder / name).is_file():
            raise DeviceMissing("built-in ear", f"{name} is missing in {folder}", COST)
    return folder
