"""`wheelcall check --ear`: a dozen phrases through every ear there is, and the best one kept."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path

import typer

from assistant.app.cli.terminal import is_a_terminal
from assistant.app.ear_trial import Trial, try_ears
from assistant.app.keep_setting import keep_setting, own_settings_path
from assistant.app.prompts import DOZEN, Take, Verdict, from_files, from_microphone
from assistant.app.settings import Settings, load_settings
from assistant.app.wiring import every_ear, find_asker
from assistant.devices.microphone import find_microphone
from assistant.errors import DeviceMissing


def check_ears(
    folder: Path | None, *, as_json: bool, dry_run: bool, yes: bool, settings: Path | None = None
) -> int:
    """Say or read the phrases, try the ears, and ask whether to keep the best; exit status 0."""
    chosen = load_settings(settings)
    takes = takes_of(folder, DOZEN, chosen, quiet=as_json)
    trials = try_ears(every_ear(chosen), takes)
    best = trials[0]
    if as_json:
        print(json.dumps([_plain(trial, takes) for trial in trials], indent=1))
    else:
        _print(trials, takes)
    if dry_run or best.trouble or (as_json and not yes):
        return 0
    path = settings or own_settings_path()
    if yes or _confirmed(f"\nKeep {_name(best)} in {path}?", err=as_json):
        keep_setting("ear", best.ear, path)
        if best.model:
            keep_setting("model", best.model, path)
        if not as_json:
            print(f"Kept: {path}")
    return 0


def _confirmed(question: str, *, err: bool) -> bool:
    """No where nobody answers. Raises `KeyboardInterrupt` where the answer is Control-C."""
    try:
        return typer.confirm(question, default=False, err=err)
    except typer.Abort:
        if is_a_terminal():
            raise KeyboardInterrupt from None
        print("\nNothing is kept: nobody answered. --yes keeps it.", file=sys.stderr)
        return False


def takes_of(
    folder: Path | None, phrases: Sequence[str], settings: Settings, *, quiet: bool = False
) -> list[Take]:
    """The phrases from files, or as they are said into the microphone when they are asked for.

    Raises `KeyboardInterrupt` where the window is closed.
    """
    if folder is not None:
        return from_files(folder, phrases)
    tell = partial(typer.echo, err=quiet)
    tell("Say each phrase as you would at the machine, and as far from the microphone.")
    try:
        microphone = find_microphone(settings.microphone)
    except DeviceMissing as missing:
        cost = "--from FOLDER reads the phrases from sound files instead"
        raise DeviceMissing(missing.device, missing.why, cost) from missing
    return from_microphone(microphone, phrases, find_asker(settings, tell))


def _print(trials: Sequence[Trial], takes: Sequence[Take]) -> None:
    print(f"\n{len(takes)} phrases, held to the whole phrase book at once (a step allows less):")
    print(f"{'ear':42}{'right':>7}{'asked':>7}{'unheard':>9}{'wrong':>7}{'work':>7}{'memory':>9}")
    for trial in trials:
        if trial.trouble:
            print(f"{_name(trial):42}can't be tried: {trial.trouble}")
            continue
        counts = [trial.count(verdict) for verdict in (Verdict.RIGHT, Verdict.ASKED,
                                                       Verdict.UNHEARD, Verdict.WRONG)]  # fmt: skip
        memory = "not told" if trial.megabytes is None else f"{trial.megabytes:.0f} MB"
        print(
            f"{_name(trial):42}{counts[0]:>7}{counts[1]:>7}{counts[2]:>9}{counts[3]:>7}"
            f"{trial.real_time_factor:>7.2f}{memory:>9}"
        )
        for take, heard, verdict in zip(takes, trial.heard, trial.verdicts, strict=True):
            if verdict is not Verdict.RIGHT:
                print(f'    {verdict}: "{take.phrase}" heard as "{heard.words}"'
                      f" ({heard.confidence:.2f})")  # fmt: skip
    print("work: seconds of one core a second of sound. A wrong one is worse than many asked back.")
    if not trials[0].trouble:
        print(f"Best here: {_name(trials[0])}.")


def _name(trial: Trial) -> str:
    return f"{trial.ear}, {Path(trial.model).name}" if trial.model else f"{trial.ear} (built in)"


def _plain(trial: Trial, takes: Sequence[Take]) -> dict[str, object]:
    phrases = [
        {"said": take.phrase, "heard": heard.words, "confidence": round(heard.confidence, 4),
         "verdict": verdict.value}
        for take, heard, verdict in zip(takes, trial.heard, trial.verdicts, strict=True)
    ] if not trial.trouble else []  # fmt: skip
    return {
        "ear": trial.ear,
        "model": trial.model,
        "trouble": trial.trouble,
        **{verdict.value: trial.count(verdict) for verdict in Verdict},
        "real_time_factor": round(trial.real_time_factor, 4),
        "megabytes": None if trial.megabytes is None else round(trial.megabytes),
        "phrases": phrases,
    }
