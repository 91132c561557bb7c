"""What a second opinion on numbers gains and costs.

    python -m earbench.second [--collect FILE] [--most N] [--again]

Both ears hear the same sentences with a number: real people (AN4, split `test`) and synthetic
sizes, quiet and in shop noise. Counted is what the first ear alone takes wrong or asks back
without need, and what becomes of both where the second ear may object, by several rules. The rule
in use was chosen on one voice (`rms`) and is reported on the others; neither is in the Vosk
model's training.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.vosk import VoskEar
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.opinion import objects
from assistant.spoken import Expected, Heard, Opinion, Slot, SlotKind, WordAutomaton
from earbench import corpora
from earbench.mixing import SHOP, mixed, noise
from earbench.score import right, wilson

MODEL = corpora.ROOT / "voice_models" / "wheelcall-en-small"
CHOSEN_ON = ("rms",)
FLOOR = 0.6
"""Confidence wanted of a size, as in session/allowed.py."""
MOST_ASKED = 0.03
"""Share of right numbers that may be asked back more for it."""


@dataclass(frozen=True)
class Row:
    """One sentence, heard by both."""

    corpus: str
    speaker: str
    snr: float | None
    said: str
    first: str
    sure: float
    second: str
    second_sure: float
    better: bool = False
    """Whether the second is the better ear."""

    @property
    def good(self) -> bool:
        return right(self.first, self.said)

    @property
    def taken(self) -> bool:
        """By the first ear alone."""
        return bool(self.first) and self.sure >= FLOOR

    @property
    def differs(self) -> bool:
        """The second ear heard another number, or nothing."""
        return not right(self.second, self.first)


def heard_by_both(row: Row) -> Heard:
    """As the second ear's wrapper reports it."""
    return Heard(
        row.first, row.sure, opinion=Opinion(row.second, row.second_sure, "second", row.better)
    )


def exchanged(row: Row) -> Row:
    """The same sentence with the Vosk ear as the first."""
    return replace(
        row, first=row.second, sure=row.second_sure, second=row.first, second_sure=row.sure,
        better=True,
    )  # fmt: skip


def step_grammar() -> WordAutomaton:
    """A measuring step's own sentences, and those that go with it."""
    book = corpora.book()
    names = [name for name in book.intents if not name.startswith("sum_") and name != "number"]
    size = (Slot("size", SlotKind.LENGTH, "inch"),)
    rest = [each for each in book.expected(names) if each.intent != "measured"]
    return compile_grammar(book, (Expected("measured", size), *rest))


def collect(path: Path, most: int, snrs: Sequence[float | None]) -> list[Row]:
    """Hear everything once; kept in `path`."""
    first, second = MoonshineEar(threads=1), VoskEar(MODEL)
    numbers = corpora.numbers_in_a_row(corpora.NUMBERS, 11)
    an4 = [each for each in corpora.real("test", "AN4") if each.kind == "number"]
    sizes = corpora.drawn(corpora.synthetic("sizes_b", False), most)
    rows: list[Row] = []
    for name, utterances, grammar in (
        ("real numbers", an4, numbers),
        ("synthetic sizes", sizes, step_grammar()),
    ):
        first.prepare([grammar])
        second.prepare([grammar])
        for snr in snrs:
            for number, each in enumerate(utterances):
                sound = each.sound()
                if snr is not None:
                    kind = noise(corpora.DATA / "noise", SHOP[number % len(SHOP)])
                    sound = mixed(sound, kind, snr, number)
                one, other = hear(first, sound, grammar), hear(second, sound, grammar)
                rows.append(
                    Row(name, each.speaker, snr, each.text, one.words, one.confidence,
                        other.words, other.confidence)
                )  # fmt: skip
            print(name, snr, len(rows), file=sys.stderr, flush=True)
    path.write_text("\n".join(json.dumps(asdict(row)) for row in rows) + "\n")
    return rows


RULES: dict[str, Callable[[Row], bool]] = {
    "one ear alone": lambda row: False,
    "in use": lambda row: row.differs and objects(heard_by_both(row)),
    "one ear, floor 0.80": lambda row: row.sure < 0.80,
    "one ear, floor 0.85": lambda row: row.sure < 0.85,
    "any difference": lambda row: row.differs,
    "another number": lambda row: bool(row.second) and row.differs,
    "difference, first under 0.80": lambda row: row.differs and row.sure < 0.80,
    "difference, first under 0.90": lambda row: row.differs and row.sure < 0.90,
    "difference, second over 0.70": lambda row: row.differs and row.second_sure >= 0.70,
}
"""When the second ear's objection has the sentence asked back."""


def report(title: str, rows: list[Row]) -> None:
    """One table: each rule over these rows."""
    of = len(rows)
    taken = [row for row in rows if row.taken]
    good = [row for row in taken if row.good]
    bad = [row for row in taken if not row.good]
    asked = [row for row in rows if row.good and not row.taken]
    low, high = wilson(len(bad), of)
    agreed = sum(not row.differs for row in bad)
    rights = sum(right(row.second, row.said) for row in rows)
    print(f"\n{title}: {of} sentences; first ear right {sum(row.good for row in rows)}, second "
          f"{rights}; wrong taken {len(bad)} ({low:.4f}-{high:.4f}), of them {agreed} heard alike "
          f"by both; right asked back {len(asked)}")  # fmt: skip
    print(f"{'rule':38}{'wrong taken':>12}{'right asked back more':>23}{'share':>8}")
    for name, asks in RULES.items():
        wrong = sum(not asks(row) for row in bad)
        more = sum(asks(row) for row in good)
        share = more / max(1, sum(row.good for row in rows))
        print(f"{name:38}{wrong:>12}{more:>23}{share:>8.3f}")


def main() -> None:
    parser = argparse.ArgumentParser(description="What a second opinion on numbers gains.")
    parser.add_argument("--collect", type=Path, default=corpora.DATA / "second.jsonl")
    parser.add_argument("--most", type=int, default=0, help="synthetic sizes; 0 for all")
    parser.add_argument("--again", action="store_true", help="hear everything again")
    parser.add_argument("--snr", default="quiet,15,10,5", help="quiet, or dB; commas between")
    options = parser.parse_args()
    snrs = [None if each == "quiet" else float(each) for each in options.snr.split(",")]
    if options.again or not options.collect.exists():
        rows = collect(options.collect, options.most, snrs)
    else:
        rows = [Row(**json.loads(line)) for line in options.collect.read_text().splitlines()]
    chosen_on = [row for row in rows if row.speaker in CHOSEN_ON]
    rest = [row for row in rows if row.speaker not in CHOSEN_ON]
    for snr in dict.fromkeys(row.snr for row in rows):
        noise_at = "quiet" if snr is None else f"{snr:.0f} dB"
        for name in ("real numbers", "synthetic sizes"):
            report(f"{name}, {noise_at}", [r for r in rest if r.corpus == name and r.snr == snr])
    report("chosen on: synthetic sizes, one voice", chosen_on)
    report("all the rest", rest)
    report("all", rows)
    report("all, the ears exchanged", [exchanged(row) for row in rows])


if __name__ == "__main__":
    main()
