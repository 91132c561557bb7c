"""`wheelcall learn`: twenty phrases said once, so that the built-in ear knows the voice better."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

from assistant.app.cli.ear_check import takes_of
from assistant.app.cli.exits import EXIT_UNFINISHED
from assistant.app.learn_voice import learn
from assistant.app.own_voice import OwnVoice, delete_voice, load_voice, save_voice, voice_path
from assistant.app.prompts import TWENTY, Verdict
from assistant.app.settings import load_settings
from assistant.devices.moonshine import Tuning
from assistant.phrases.book import load_book


def learn_voice(folder: Path | None, *, dry_run: bool, file: Path | None) -> int:
    """Say or read the phrases, learn from them, and keep that; 1 where nothing could be learned."""
    takes = takes_of(folder, TWENTY, load_settings())
    print(f"{len(takes)} phrases. This takes half a minute or so.")
    learned = learn(load_book(), takes, datetime.now().astimezone())
    for take, before, after in zip(takes, learned.before, learned.after, strict=True):
        if (before, after) != (Verdict.RIGHT, Verdict.RIGHT):
            print(f'  "{take.phrase}": {before}, now {after}')
    print(describe(learned.voice))
    if learned.voice.right_after < len(takes) / 2:
        print("Nothing is kept: too few were heard right. Is the microphone well set? "
              "wheelcall check tells.")  # fmt: skip
        return EXIT_UNFINISHED
    if dry_run:
        print("Nothing is kept (--dry-run).")
    else:
        print(f"Kept: {save_voice(learned.voice, file)}. wheelcall learn --delete removes it.")
    return 0


def show_voice(file: Path | None, *, as_json: bool = False) -> int:
    """What was learned; 1 where nothing was."""
    voice = load_voice(file)
    if as_json:
        print(json.dumps(None if voice is None else _plain(voice), indent=1))
    else:
        print("No voice is known yet." if voice is None else describe(voice))
    return EXIT_UNFINISHED if voice is None else 0


def forget_voice(file: Path | None) -> int:
    """Remove the file; 1 where there was none."""
    if delete_voice(file):
        print(f"Removed: {file or voice_path()}")
        return 0
    print("No voice is known.")
    return EXIT_UNFINISHED


def describe(voice: OwnVoice) -> str:
    """One line for the operator."""
    floor = Tuning(lean=voice.lean).floor
    spellings = "; ".join(f"{words}: {', '.join(texts)}" for words, texts in voice.sounds.items())
    return (
        f"Own voice of {voice.made:%Y-%m-%d}: {voice.right_before} of {voice.phrases} phrases "
        f"right before, {voice.right_after} now; confidence wanted {floor:.2f} in place of 0.50"
        f"{' (numbers: 0.50 as before)' if voice.lean > 0 else ''}; "
        f"{f'spellings {spellings}' if spellings else 'no extra spellings'}."
    )


def _plain(voice: OwnVoice) -> dict[str, object]:
    return {
        "made": voice.made.isoformat(),
        "phrases": voice.phrases,
        "right_before": voice.right_before,
        "right_after": voice.right_after,
        "floor": round(Tuning(lean=voice.lean).floor, 3),
        "sounds": {words: list(texts) for words, texts in voice.sounds.items()},
    }
