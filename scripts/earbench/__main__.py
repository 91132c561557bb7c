"""The command line behind `scripts/bench_ear`."""

from __future__ import annotations

import argparse
import json
import os
import platform
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path

from assistant.errors import DeviceMissing
from assistant.ports import Recogniser
from earbench import corpora
from earbench.measure import Condition, Timing, listen_to_noise, measure, resident_megabytes
from earbench.mixing import SHOP
from earbench.score import wilson

ENGINES = ("moonshine", "vosk")


def make_engine(name: str, model: Path | None) -> Callable[[], Recogniser]:
    """What makes an ear. Raises `DeviceMissing`."""
    if name == "moonshine":
        from assistant.devices.moonshine import MoonshineEar

        return partial(MoonshineEar, threads=1)
    from assistant.devices.vosk import VoskEar

    if model is None:
        raise DeviceMissing("Vosk model", "none named", "name one with --model")
    return partial(VoskEar, model)


def conditions(quick: bool, snrs: list[float | None], number_words_only: bool) -> list[Condition]:
    """What is measured. An ear that knows number words alone gets only those."""
    most = 12 if quick else 0
    an4 = corpora.real("test", "AN4")
    found = []
    for snr in snrs:
        found += [
            Condition("real numbers (AN4 test)", _of(an4, "number"), corpora.an4_grammar(), snr),
            Condition(
                "real digits (FSDD)",
                corpora.drawn(corpora.real("test", "FSDD") or corpora.real("test", "Digit"), 60),
                corpora.digit_grammar(), snr,
            ),
        ]  # fmt: skip
        if number_words_only:
            continue
        final = corpora.synthetic("clips", False)
        found += [
            Condition("real commands (AN4 test)", _of(an4, "command"), corpora.an4_grammar(), snr),
            Condition(
                "synthetic phrases", corpora.drawn(final, 120), corpora.whole_book(), snr
            ),
            Condition(
                "synthetic sizes", corpora.drawn(corpora.synthetic("sizes_b", False), 80),
                corpora.whole_book(), snr,
            ),
        ]  # fmt: skip
    if not number_words_only:
        talk = corpora.drawn(corpora.synthetic("talk", False), 80)
        found += [
            Condition("talk, whole book", talk, corpora.whole_book(), None, inside=False),
            Condition("talk, commands", talk, corpora.without_numbers(), None, inside=False),
            Condition(
                "numbers, commands", _of(an4, "number"), corpora.without_numbers(), None,
                inside=False,
            ),
        ]  # fmt: skip
    found = [condition for condition in found if condition.utterances]
    if most:
        for condition in found:
            condition.utterances = corpora.drawn(condition.utterances, most)
    return found


def _of(utterances: list[corpora.Utterance], kind: str) -> list[corpora.Utterance]:
    return [each for each in utterances if each.kind == kind]


def main() -> None:
    parser = argparse.ArgumentParser(description="How well the ear hears.")
    parser.add_argument("--engine", choices=ENGINES, default="moonshine")
    parser.add_argument("--model", type=Path, help="Vosk model folder")
    parser.add_argument("--numbers", action="store_true", help="an ear of number words alone")
    parser.add_argument("--snr", default="quiet,15,10,5", help="quiet, or dB; commas between")
    parser.add_argument("--quick", action="store_true", help="a dozen of each")
    parser.add_argument("--wrong", action="store_true", help="also list what was misheard")
    parser.add_argument("--json", type=Path, default=corpora.DATA / "bench_ear.json")
    options = parser.parse_args()
    snrs = [None if each == "quiet" else float(each) for each in options.snr.split(",")]
    try:
        make = make_engine(options.engine, options.model)
        before = resident_megabytes()
        ear = make()
    except DeviceMissing as missing:
        sys.exit(str(missing))
    if not os.environ.get("WHEELCALL_SPEECH"):
        print("WHEELCALL_SPEECH is not set: no recordings of real people are measured.")
    load = os.getloadavg()[0]
    print(f"engine {ear.name}; {platform.machine()}, {os.cpu_count()} cores, load {load:.1f}; "
          f"noises {', '.join(SHOP)} by turns")  # fmt: skip
    print(f"{'':28}{'noise':>7}{'right':>10}{'share':>7}{'95 %':>14}"
          f"{'refused':>9}{'wrong taken':>13}")  # fmt: skip
    timing, report = Timing(), []
    for condition in conditions(options.quick, snrs, options.numbers):
        count, wrong = measure(ear, condition, timing)
        low, high = wilson(count.right, count.of)
        noise = "quiet" if condition.snr is None else f"{condition.snr:.0f} dB"
        right = f"{count.right}/{count.of}" if condition.inside else "-"
        share = f"{count.right / count.of:.3f}" if condition.inside else ""
        interval = f"{low:.3f}-{high:.3f}" if condition.inside else ""
        print(f"{condition.name:28}{noise:>7}{right:>10}{share:>7}{interval:>14}"
              f"{count.refused:>9}{count.accepted_wrong:>13}", flush=True)  # fmt: skip
        if options.wrong:
            print(*(f"      {line}" for line in wrong), sep="\n")
        report.append({
            "corpus": condition.name, "snr_db": condition.snr, "of": count.of,
            "right": count.right, "low": low, "high": high, "refused": count.refused,
            "wrong_taken": count.accepted_wrong, "wrong": wrong,
        })  # fmt: skip
    idle = listen_to_noise(ear)
    figures = {
        "real_time_factor": timing.real_time_factor,
        "decision_to_text_s": timing.decision(),
        "memory_mb": resident_megabytes(),
        "memory_before_ear_mb": before,
        "noise": idle,
        "load": load,
    }
    print(json.dumps(figures, indent=2))
    options.json.parent.mkdir(parents=True, exist_ok=True)
    options.json.write_text(
        json.dumps({"engine": ear.name, "conditions": report, **figures}, indent=1) + "\n"
    )


if __name__ == "__main__":
    main()
