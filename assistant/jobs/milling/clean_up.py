"""A face that is only cleaned up: skimmed till it is clean all over.

Nobody knows how hollow a sawn or cast face is, so it is asked after every skim. Common practice,
no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.dial import settle
from assistant.jobs.steps import NO_SURFACE, Cut, Facts, Measure, Move, Note, Step, SurfaceKey
from assistant.jobs.to_size.depth_work import Stroke
from assistant.jobs.to_size.sizing import sized
from assistant.machine import Axis
from assistant.spoken import Figure, Term
from assistant.units import Quantity

SKIM = {"inch": Decimal("0.015"), "mm": Decimal("0.4")}
"""What is skimmed off a face to clean it up at a time: common practice."""
MOST_SKIMS = 6


@dataclass(frozen=True)
class CleanUp:
    """The skims of one face, counted from the touch on it; decimals in the job's unit."""

    unit: str
    axis: Axis
    """That sets them."""
    facts: Facts
    prefix: str
    """Before the ids of its steps and its facts: `face-1`."""
    title: str
    skim: Decimal
    limit: Decimal
    """How deep it may be skimmed, so that enough is left for the face opposite."""
    pass_limit: Decimal
    sign: int = 1
    """The way of the axis that goes deeper."""
    held: bool = False
    """Whether it ends at the limit: else that is only told, since nobody measured the stock."""
    close: Decimal = Decimal(0)
    """What a last pass takes once it is clean, for its finish; none where that is 0."""

    @property
    def skims(self) -> int:
        """How many are foreseen: one, and one more for every time that it wasn't clean."""
        count = 1
        while count < MOST_SKIMS and self.facts.get(self._clean(count)) == "no":
            count += 1
        return count

    @property
    def takes(self) -> Decimal:
        """How deep it is cut in all, as foreseen."""
        return self.skim * self.skims + self.close

    def steps(self, stroke: Stroke) -> list[Step]:
        """Skim, look, and again where it isn't clean; then the last pass, where there is one."""
        steps: list[Step] = []
        for number in range(1, self.skims + 1):
            if self.held and self.skim * number + self.close > self.limit:
                words = "Another skim would leave too little for the size."
                return [*steps, self._note("no-stock", "No stock left to skim", words)]
            steps += self._pass(stroke, f"skim-{number}", f"skim {number}", self.skim * number,
                                self.skim, number)  # fmt: skip
            steps.append(
                Measure(
                    id=f"{self.prefix}-clean-{number}",
                    title="Clean all over?",
                    spindle="off",
                    spindle_words="Spindle off.",
                    say=("Is it clean all over?",),
                    fact=self._clean(number),
                    gauge="by eye",
                    kind="gauge",
                    optional=True,
                )
            )
        if self.facts.get(self._clean(MOST_SKIMS)) == "no":
            words = f"Not clean after {MOST_SKIMS} skims."
            steps.append(self._note("not-clean", "Still not clean", words))
        if self.close:
            steps += self._pass(stroke, "close", "finishing cut", self.takes, self.close,
                                self.skims + 1, "finishing")  # fmt: skip
        return steps

    def _clean(self, number: int) -> str:
        return f"{self.prefix}.clean.{number}"

    def _q(self, size: Decimal) -> Quantity:
        return sized(size, self.unit)

    def _note(self, name: str, title: str, words: str) -> Note:
        return Note(id=f"{self.prefix}-{name}", title=title, say=(words, "Ask before you go on."))

    def _pass(
        self, stroke: Stroke, name: str, called: str, depth: Decimal, taken: Decimal, number: int,
        kind: str = "roughing",
    ) -> list[Step]:  # fmt: skip
        level = self.axis.name in ("saddle", "table")
        # one skim too deep says nothing of the finishing cut: it has a surface of its own
        part = "skims" if kind == "roughing" else name
        surface = SurfaceKey(f"{self.prefix}.{part}") if self.held else NO_SURFACE
        move = Move(
            id=f"{self.prefix}-{name}-set",
            title=f"{self.title}: {called}",
            say=(f"Unlock the {self.axis.name}.",) if level else (),
            after=("Lock it.",),
            verify=level,
            axis=self.axis.name,
            target=settle(self._q(depth * self.sign), self.axis.graduation, halves=False),
            approach=self.sign,
            terms_of=Figure(self._q(depth), "depth", 3, (Term("skim", self._q(self.skim)),),
                            source="common practice"),
            depth_after=self._q(depth),
            surface=surface,
            deeper=self.sign if self.held else 0,
            limit=self._q(self.limit * self.sign),
            pass_limit=self._q(self.pass_limit),
        )  # fmt: skip
        cut = Cut(
            id=f"{self.prefix}-{name}-cut",
            title=f"{self.title}: {called.rstrip(' 0123456789')}",
            surface=surface,
            number=number,
            of=number,
            depth=self._q(depth),
            taken=self._q(taken),
            kind=kind,
            made="what was cut",
            figure=Figure(self._q(depth), "deep, after this cut", 3),
        )
        return [*stroke.passes(move, cut), *stroke.back(f"{self.prefix}-{name}")]
