"""The clear voice: the package hibari-tts with care for words, pace, level and spectrum.

Its voice is in the package (Apache-2.0); a sentence takes some 30 ms on one thread. The same text
gives the same samples.
"""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np

from assistant.devices.voice.shaped import RATE, Sound, heard, shaped
from assistant.devices.voice.words import CantSay, check_letters, parts, plain_t, with_sounds
from assistant.errors import DeviceMissing
from assistant.intact import LIST, differing, in_words, read_list

PACKAGE = "hibari"
ASSETS = "assets"
NETWORK = "hibari.onnx"
DEVICE = "clear voice"
COST = "the system's voice speaks"

USUAL_RATE = 190
"""Words a minute at which `PACE` holds, so that one setting serves both voices."""
PACE, NUMBER_PACE = 0.9, 0.8
"""Of the voice's own, for words and for values: what is written down is wanted slower than talk."""
PAUSE_SECONDS = 0.05
"""Of silence before and after a value, beside the breath that the voice makes itself."""
SLOWEST, FASTEST = 0.5, 1.8
"""Of its own pace; outside it slurs."""
PHONEME_SECONDS = (0.035, 0.2)
"""Of speech a phoneme at pace 1. Outside it something was dropped or drawn out."""
PADDING_SECONDS = 0.4
"""What a short sentence may have more than that: its own beginning and end."""


class ClearVoice:
    """Loaded once; used from one thread."""

    rate = RATE

    def __init__(self, network: Path | None = None) -> None:
        """Takes 0.6 s. `network` is a file that the settings name in place of the package's.

        Raises `DeviceMissing` where the package or one of its files isn't there, and where a file
        is another than was tested.
        """
        if wrong := _wrong(network):
            raise DeviceMissing(DEVICE, wrong, COST)
        from hibari import Hibari

        self._hibari: Any = Hibari(threads=1, model=network and str(network))
        self.sound("Ready.")  # loads the lexicon, too: nothing is left for the first sentence

    def phonemes(self, text: str) -> list[str]:
        """What is said, in the voice's signs, a string for each stretch said at one pace.

        Raises `CantSay` where something would be left out.
        """
        return [signs for _, signs in self._stretches(text)]

    def sound(self, text: str, rate: float = USUAL_RATE, shape: float = 1.0) -> Sound:
        """`text` at about `rate` words a minute, shaped for noise by `shape` (0 to 1.5).

        Raises `CantSay`.
        """
        made: list[Sound] = []
        pause = np.zeros(round(PAUSE_SECONDS * RATE), np.float32)
        for number, signs in self._stretches(text):
            pace = (NUMBER_PACE if number else PACE) * rate / USUAL_RATE
            pace = float(np.clip(pace, SLOWEST, FASTEST))
            samples = heard(self._hibari.from_phonemes(signs, pace, seed=0))
            _check(samples, signs, pace)
            made += [pause, samples] if made else [samples]
        return shaped(np.concatenate(made), shape)

    def _stretches(self, text: str) -> list[tuple[bool, str]]:
        check_letters(text)
        found = []
        for part in parts(text):
            made: list[str] = self._hibari.phonemize(with_sounds(part.text))
            signs = plain_t(" ".join(made))
            if not any(each.isalpha() for each in signs):
                raise CantSay(f"nothing to say in {part.text!r}")
            found.append((part.number, signs))
        if not found:
            raise CantSay(f"nothing to say in {text!r}")
        return found


def _check(samples: Sound, signs: str, pace: float) -> None:
    """Raises `CantSay` for sound that can't be the whole of these signs."""
    count = sum(sign.isalpha() for sign in signs)
    each = samples.size / RATE * pace / count
    low, high = PHONEME_SECONDS
    if not np.isfinite(samples).all() or not low <= each <= high + PADDING_SECONDS / count:
        raise CantSay(f"{each:.3f} s a phoneme in {signs!r}")


def _wrong(network: Path | None) -> str:
    """What is wrong with the voice's files; '' where nothing is."""
    spec = find_spec(PACKAGE)
    if spec is None or not spec.submodule_search_locations:
        return f"the package {PACKAGE} is not installed"
    wanted = read_list(Path(__file__).with_name(LIST))
    if network is not None:
        if not network.is_file():
            return f"{network} is not there"
        del wanted[NETWORK]  # what is in the one that was named is its owner's word
    wrong = differing(Path(next(iter(spec.submodule_search_locations))) / ASSETS, wanted)
    return in_words(wrong) if wrong else ""
