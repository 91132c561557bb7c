"""The phones of the model: the sounds of CMUdict, their places in a word, their HMM states.

Phone 1 is silence; then each sound four times, as it begins, is inside, ends or is a whole word.
The acoustic model doesn't tell places apart: its output 0 is "no new sound" (CTC's blank, which
is also silence), output i + 1 is sound i.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

SOUNDS = [
    "AA", "AE", "AH", "AO", "AW", "AY", "B", "CH", "D", "DH", "EH", "ER", "EY", "F", "G", "HH",
    "IH", "IY", "JH", "K", "L", "M", "N", "NG", "OW", "OY", "P", "R", "S", "SH", "T", "TH", "UH",
    "UW", "V", "W", "Y", "Z", "ZH",
]  # fmt: skip
"""ARPAbet, in CMUdict's spelling without stress."""

OUTPUTS = len(SOUNDS) + 1
BLANK = 0
SILENCE = 1
PLACES = {"B": "begin", "I": "internal", "E": "end", "S": "singleton"}

State = list[tuple[int, float]]
"""Transitions of one HMM state: (state after it, probability)."""

LAST: list[State] = [[(0, 0.5), (1, 0.5)]]
"""Silence and a word's last sound: nothing may follow inside the word, so that silence after a
word counts as silence, which the end of an utterance is found by."""
INNER: list[State] = [[(0, 0.5), (1, 0.25), (2, 0.25)], [(1, 0.5), (2, 0.5)]]
"""A sound with more to come: the sound, then blanks or none."""


@dataclass(frozen=True)
class PhoneTable:
    """Numbers of phones, of HMM states and of transitions, as Kaldi numbers them."""

    ids: dict[str, int] = field(default_factory=lambda: {"SIL": SILENCE})
    outputs: dict[int, int] = field(default_factory=lambda: {SILENCE: BLANK})
    places: dict[int, str] = field(default_factory=lambda: {SILENCE: "nonword"})
    states: list[tuple[int, int, int]] = field(default_factory=list)
    """(phone, state, output) of each HMM state, sorted."""
    transitions: dict[tuple[int, int, int], int] = field(default_factory=dict)
    """Transition id of (phone, state, state after it), from 1."""
    log_probabilities: list[float] = field(default_factory=lambda: [0.0])

    def __post_init__(self) -> None:
        for number, sound in enumerate(SOUNDS):
            for letter, place in PLACES.items():
                phone = len(self.ids) + 1
                self.ids[f"{sound}_{letter}"] = phone
                self.outputs[phone] = number + 1
                self.places[phone] = place
        for phone in sorted(self.outputs):
            for state, arcs in enumerate(self.topology(phone)):
                output = self.outputs[phone] if state == 0 else BLANK
                self.states.append((phone, state, output))
                for after, probability in arcs:
                    self.transitions[phone, state, after] = len(self.log_probabilities)
                    self.log_probabilities.append(math.log(probability))

    def topology(self, phone: int) -> list[State]:
        """The HMM of a phone."""
        return INNER if self.places[phone] in ("begin", "internal") else LAST

    def sound(self, phone: int) -> str:
        """The sound of a phone that isn't silence, wherever in a word it stands."""
        return SOUNDS[self.outputs[phone] - 1]

    def in_word(self, sounds: list[str] | tuple[str, ...]) -> tuple[int, ...]:
        """Phones of a pronunciation, each with its place in the word."""
        if len(sounds) == 1:
            return (self.ids[f"{sounds[0]}_S"],)
        inner = (self.ids[f"{sound}_I"] for sound in sounds[1:-1])
        return (self.ids[f"{sounds[0]}_B"], *inner, self.ids[f"{sounds[-1]}_E"])
