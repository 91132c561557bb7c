"""`wheelcall check --voice`: both voices in the noise at hand, and the one that is understood kept.

Which is which isn't told before the choice.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from assistant.app.cli.exits import EXIT_UNFINISHED
from assistant.app.keep_setting import keep_setting, own_settings_path
from assistant.app.settings import Settings, load_settings
from assistant.app.wiring import speaker_of
from assistant.devices.speaker import CLEAR, SYSTEM
from assistant.errors import DeviceMissing
from assistant.spoken import Sentence

SENTENCES = (
    "Saddle in, four turns and one forty and a half.",
    "Knee up fifteen. Stop at fifty.",
    "Measured one six six two.",
)
"""With values that are easily taken for others."""
ASK = "Which did you understand better: 1, 2, or again? "
LONGEST_SECONDS = 30.0
ANSWERS = {"1": 0, "one": 0, "2": 1, "two": 1}

Say = Callable[[str, Settings], None]


def check_voices(
    *,
    dry_run: bool,
    settings: Path | None = None,
    say: Say | None = None,
    order: Sequence[str] = (),
) -> int:
    """Play both, ask, and keep the choice; 0 where one was chosen.

    Raises `DeviceMissing` without a sound card. `say` and `order` are for tests.
    """
    chosen = load_settings(settings)
    voices = list(order) or random.sample([CLEAR, SYSTEM], 2)
    print("Stand where you work, with the machine running. Each voice says the same three "
          "sentences. Write down the numbers, if you like.")  # fmt: skip
    while True:
        for number, voice in enumerate(voices, 1):
            print(f"\nVoice {number}.", flush=True)
            (say or _say)(voice, chosen)
        print(f'\nSaid was: "{" ".join(SENTENCES)}"')
        answer = _answer()
        if answer is None:
            print("Nothing is kept: nobody answered.", file=sys.stderr)
            return EXIT_UNFINISHED
        if answer in ANSWERS:
            break
    voice = voices[ANSWERS[answer]]
    print(f"That is the {voice} voice.")
    if dry_run:
        print("Nothing is kept (--dry-run).")
    else:
        print(f"Kept: {keep_setting('voice', voice, settings or own_settings_path())}")
    return 0


def _answer() -> str | None:
    """`1`, `2`, or anything else for once more; None where nobody answers."""
    print(ASK, end="", flush=True)
    line = sys.stdin.readline()
    return line.strip().casefold() if line else None


def _say(voice: str, settings: Settings) -> None:
    speaker = speaker_of(replace(settings, voice=voice), mode="card")
    try:
        for notice in speaker.notices:
            raise DeviceMissing("voice", notice.rstrip("."), "there is nothing to choose")
        speaker.say([Sentence(text) for text in SENTENCES])
        speaker.wait(LONGEST_SECONDS)
    finally:
        speaker.close()
