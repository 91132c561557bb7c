"""The command line behind `scripts/bench_ear`."""

from __future__ import annotations

import argparse
import json
import os
import platform
import sys
from collections.abc import Callable, Iterator
from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import Any

from assistant.errors import DeviceMissing
from assistant.ports import Recogniser
from earbench import corpora, plan, stretches, table
from earbench.measure import Timing, counted, live_decisions, measure, resident_megabytes
from earbench.mixing import SHOP, Surroundings

ENGINES = ("moonshine", "vosk", "pocketsphinx")
SHIPPED = corpora.ROOT / "voice_models" / "wheelcall-en-small"


def make_engine(name: str, model: Path) -> Callable[[], Recogniser]:
    """What makes an ear. Raises `DeviceMissing`."""
    if name == "moonshine":
        from assistant.devices.moonshine import MoonshineEar

        return partial(MoonshineEar, threads=1)
    if name == "vosk":
        from assistant.devices.vosk import VoskEar

        return partial(VoskEar, model)
    from earbench.sphinx import SphinxEar

    return SphinxEar


def spoken(
    ear: Recogniser, options: argparse.Namespace, part: str, before: list[dict[str, Any]]
) -> Iterator[dict[str, Any]]:
    """A part in which commands are spoken, after each row of it: a run that is stopped keeps what
    it has. Every row is printed when it is done; rows of `before` that aren't measured now stay."""
    conditions = [
        each
        for each in plan.SPOKEN[part]()
        if each.utterances and (not options.where or each.where.name in options.where)
    ]
    now = {(each.name, each.where.name) for each in conditions}
    timing, rows = Timing(), [row for row in before if (row["corpus"], row["where"]) not in now]
    for condition in conditions:
        if options.most:
            condition.utterances = corpora.drawn(condition.utterances, options.most)
        hits = measure(ear, condition, timing)
        count, lines = counted(hits)
        where = condition.where.name
        print(table.row(condition.name, where, count, condition.inside), flush=True)
        if options.wrong:
            print(*(f"      {line}" for line in lines), sep="\n")
        rows.append({
            "corpus": condition.name, "where": where, "inside": condition.inside,
            **table.outcome(hits, spoken=True), "hits": [asdict(hit) for hit in hits],
        })  # fmt: skip
        yield {"rows": rows, "real_time_factor": round(timing.real_time_factor, 4)}


def stretch(ear: Recogniser, part: str, minutes: float) -> Iterator[dict[str, Any]]:
    """A part in which nobody says a command, after every ten minutes of it."""
    sound = stretches.machines() if part == "machines" else stretches.talk("talk_hour")
    for found in stretches.listen(ear, sound, corpora.whole_book(), minutes):
        print(f"{part}: {json.dumps(found.as_json(), indent=1)}", flush=True)
        yield {**found.as_json(), "hits": [asdict(hit) for hit in found.hits]}


def speed(ear: Recogniser, before: float, most: int) -> dict[str, Any]:
    """Delay after the end of speech, real-time factor and memory, quiet and at 10 dB."""
    timing = Timing()
    for where in (Surroundings(), Surroundings(10.0)):
        said = corpora.drawn(corpora.synthetic("clips", False), most or 40, seed=7)
        for number, each in enumerate(said):
            sound = where.around(each.sound(), corpora.DATA / "noise", number)
            timing.decisions += live_decisions(ear, sound, corpora.whole_book())
    return {
        "decision_to_text_s": timing.decision(), "memory_mb": round(resident_megabytes()),
        "memory_before_ear_mb": round(before),
    }  # fmt: skip


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="How well the ear hears.")
    parser.add_argument("--engine", choices=ENGINES, default="moonshine")
    parser.add_argument("--model", type=Path, default=SHIPPED, help="Vosk model folder")
    parser.add_argument("--part", action="append", choices=plan.PARTS, help="only this; repeatable")
    parser.add_argument("--where", action="append", help="only there, as in the table; repeatable")
    parser.add_argument("--minutes", type=float, default=60, help="of machines, and of talk")
    parser.add_argument("--most", type=int, default=0, help="utterances a row, 0 for all")
    parser.add_argument("--quick", action="store_true", help="a dozen a row, two minutes")
    parser.add_argument("--wrong", action="store_true", help="also list what was not taken right")
    parser.add_argument("--make", action="store_true", help="make what is listened to, and stop")
    parser.add_argument("--show", action="store_true", help="draw the report's table, and stop")
    parser.add_argument("--weigh", action="store_true", help="count the report's hearings anew, "
                        "as sure as the ear would be of them today, and show")  # fmt: skip
    parser.add_argument("--json", type=Path, default=corpora.DATA / "bench_ear.json")
    return parser.parse_args()


def main() -> None:
    options = _options()
    if options.make:
        from earbench.material import make

        make()
        return
    if options.weigh:
        table.save(options.json, table.weighed_anew(table.load(options.json)))
    if options.show or options.weigh:
        print(*table.lines(table.load(options.json)), sep="\n")
        return
    if options.quick:
        options.most, options.minutes = options.most or 12, min(options.minutes, 2)
    if not os.environ.get("WHEELCALL_SPEECH"):
        print("WHEELCALL_SPEECH is not set: no recordings of real people are measured.")
    try:
        before = resident_megabytes()
        ear = make_engine(options.engine, options.model)()
    except DeviceMissing as missing:
        sys.exit(str(missing))
    print(f"engine {ear.name}; {platform.machine()}, {os.cpu_count()} cores, load "
          f"{os.getloadavg()[0]:.1f}; noises {', '.join(SHOP)} by turns\n{table.HEAD}")  # fmt: skip
    for part in options.part or plan.PARTS:
        if part in plan.SPOKEN:
            so_far = table.load(options.json).get(ear.name, {}).get(part, {})
            found = spoken(ear, options, part, so_far.get("rows", []))
        elif part == "speed":
            found = iter([speed(ear, before, options.most)])
        else:
            found = stretch(ear, part, options.minutes)
        for so_far in found:
            report = table.load(options.json)  # anew: another run may have added to it
            so_far["load"] = round(os.getloadavg()[0], 1)
            report.setdefault(ear.name, {})[part] = so_far
            table.save(options.json, report)
    print(*table.lines(table.load(options.json)), sep="\n")


if __name__ == "__main__":
    main()
