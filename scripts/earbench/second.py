"""What a second opinion on numbers gains and costs.

    python -m earbench.second [--most N] [--model FOLDER]

Both ears hear the same sentences with a number, each sentence in one of the surroundings of the
table above 5 dB by turns. The limits of the rule are chosen on the tuning voices (number
sentences, and AN4's `train` speakers) and counted on the voices that were kept back and on AN4's
`test` speakers: what the first ear alone takes wrong or asks back without need, and what becomes
of both where the second ear may object.

Hearings are kept in data/second_NAME.json. An ear hears anew what it was changed for: the built-in
one where its code is another, Vosk where its model is.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from pathlib import Path

from assistant import audio
from assistant.devices import ear, moonshine
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.vosk import VoskEar
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.opinion import CLEAR, DOUBTFUL, SURE, objects
from assistant.session.allowed import CONSEQUENT
from assistant.spoken import Expected, Heard, Opinion, Slot, SlotKind, WordAutomaton
from earbench import corpora
from earbench.kept import Case, heard, mark_of
from earbench.plan import ABOVE_5_DB
from earbench.score import right, wilson

MODEL = corpora.ROOT / "voice_models" / "wheelcall-en-small"
CHOICE, MEASURE = "choice", "measure"
REAL, SYNTHETIC = "real numbers", "number sentences"
MOST_ASKED = 0.03
"""Share of right numbers that may be asked back more for the second ear."""


@dataclass(frozen=True)
class Row:
    """One sentence, heard by both."""

    part: str
    corpus: str
    where: str
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
        return bool(self.first) and self.sure >= CONSEQUENT

    @property
    def differs(self) -> bool:
        """The second ear heard another number, or nothing."""
        return not right(self.second, self.first)


@dataclass(frozen=True)
class Limits:
    """Those of `phrases/opinion.py`."""

    doubtful: float = DOUBTFUL
    clear: float = CLEAR
    sure: float = SURE

    def asks(self, row: Row) -> bool:
        """Whether the second ear's objection has `row` asked back."""
        if not row.differs:
            return False
        if row.sure < self.doubtful:
            return True
        return row.sure < self.clear and bool(row.second) and row.second_sure >= self.sure


def in_use(row: Row) -> bool:
    """As `phrases/opinion.py` has it today."""
    opinion = Opinion(row.second, row.second_sure, "second", row.better)
    return row.differs and objects(Heard(row.first, row.sure, opinion=opinion))


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


def cases(most: int) -> Iterator[tuple[str, Case]]:
    """What is heard for the choice, and for the measure: at most so many of each corpus."""
    for part, split, folder in (
        (CHOICE, "train", "numbers_tuning"), (MEASURE, "test", "numbers"),
    ):  # fmt: skip
        real = [each for each in corpora.real(split, "AN4") if each.kind == "number"]
        synthetic = corpora.synthetic(folder, tuning=part == CHOICE)
        for name, said in ((REAL, real), (SYNTHETIC, synthetic)):
            for number, each in enumerate(corpora.drawn(said, most, seed=9)):
                where = ABOVE_5_DB[number % len(ABOVE_5_DB)]
                yield part, Case(name, each, where, number)


def rows(most: int, model: Path) -> list[Row]:
    """Every sentence as both ears hear it."""
    parts, wanted = zip(*cases(most), strict=True)
    grammars = {
        REAL: corpora.numbers_in_a_row(corpora.NUMBERS, 11), SYNTHETIC: corpora.whole_book(),
    }  # fmt: skip
    # What finds the utterance in the sound is part of both.
    around = [path for each in (audio, ear) for path in Path(each.__file__).parent.glob("*.py")]
    code = Path(moonshine.__file__).parent
    first = heard(
        wanted, grammars, corpora.DATA / "second_moonshine.json",
        mark_of([*around, *code.glob("*.py"), *code.glob("*.toml")]),
        partial(MoonshineEar, threads=1),
    )  # fmt: skip
    second = heard(
        wanted, grammars, corpora.DATA / "second_vosk.json",
        mark_of([*around, *(path for path in model.rglob("*") if path.is_file())]),
        partial(VoskEar, model),
    )  # fmt: skip
    return [
        Row(part, case.corpus, case.where.name, case.utterance.text, *one, *other)
        for part, case, one, other in zip(parts, wanted, first, second, strict=True)
    ]


def chosen(taken: list[Row]) -> Limits:
    """Of the rules that ask back no more than `MOST_ASKED` of the right ones, the one that leaves
    the fewest wrong; of those alike, the one that asks the least."""
    good = [row for row in taken if row.good and row.differs]
    bad = [row for row in taken if not row.good]
    allowed = MOST_ASKED * sum(row.good for row in taken)
    never = Limits(0.0, 0.0, 1.0)
    found = [(len(bad), 0, never)]
    for doubtful, clear, sure in product(
        (0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0), (0.9, 0.95, 0.97, 0.99, 1.0),
        (0.3, 0.5, 0.6, 0.7, 0.8, 0.9),
    ):  # fmt: skip
        limits = Limits(doubtful, max(clear, doubtful), sure)
        more = sum(map(limits.asks, good))
        if more <= allowed:
            found.append((sum(not limits.asks(row) for row in bad), more, limits))
    return min(found, key=lambda each: each[:2])[2]


def rules(limits: Limits) -> dict[str, Callable[[Row], bool]]:
    """When a sentence is asked back that the first ear alone would have taken."""
    return {
        "one ear alone": lambda row: False,
        "in use": in_use,
        f"chosen: {limits.doubtful}, {limits.clear}, {limits.sure}": limits.asks,
        "one ear, floor 0.80": lambda row: row.sure < 0.80,
        "one ear, floor 0.85": lambda row: row.sure < 0.85,
        "any difference": lambda row: row.differs,
        "another number": lambda row: bool(row.second) and row.differs,
    }


def report(title: str, rows: list[Row], limits: Limits) -> None:
    """One table: each rule over these rows."""
    taken = [row for row in rows if row.taken]
    good = [row for row in taken if row.good]
    bad = [row for row in taken if not row.good]
    asked = sum(row.good and not row.taken for row in rows)
    alike = sum(not row.differs for row in bad)
    rights = sum(right(row.second, row.said) for row in rows)
    print(f"\n{title}: {len(rows)} sentences; first ear right {sum(row.good for row in rows)}, "
          f"second {rights}; wrong taken {len(bad)}, of them {alike} heard alike by both; right "
          f"not taken {asked}")  # fmt: skip
    print(f"{'rule':30}{'wrong taken':>12}{'95 %':>16}{'right asked back more':>23}{'share':>8}")
    for name, asks in rules(limits).items():
        wrong = sum(not asks(row) for row in bad)
        low, high = wilson(wrong, len(rows))
        more = sum(map(asks, good))
        share = more / max(1, sum(row.good for row in rows))
        between = f"{100 * low:.2f}-{100 * high:.2f} %"
        print(f"{name:30}{wrong:>12}{between:>16}{more:>23}{share:>8.3f}")


def main() -> None:
    parser = argparse.ArgumentParser(description="What a second opinion on numbers gains.")
    parser.add_argument("--most", type=int, default=600, help="sentences of a corpus; 0 for all")
    parser.add_argument("--model", type=Path, default=MODEL, help="Vosk model folder")
    options = parser.parse_args()
    found = rows(options.most, options.model)
    limits = chosen([row for row in found if row.part == CHOICE and row.taken])
    report("chosen on these", [row for row in found if row.part == CHOICE], limits)
    kept_back = [row for row in found if row.part == MEASURE]
    for name in (REAL, SYNTHETIC):
        of_it = [row for row in kept_back if row.corpus == name]
        for where in dict.fromkeys(row.where for row in of_it):
            report(f"{name}, {where}", [row for row in of_it if row.where == where], limits)
        report(f"{name}, all", of_it, limits)
    report("kept back, all", kept_back, limits)
    report("kept back, the ears exchanged", [exchanged(row) for row in kept_back], limits)


if __name__ == "__main__":
    main()
