"""How one pass of a thread is made: set, half nut or spindle, out at the end, back to the start."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.jobs.lathe.setup import CROSS
from assistant.jobs.operations.thread.infeed import ThreadWork
from assistant.jobs.operations.thread.job import ThreadJob
from assistant.jobs.operations.thread.setup import zero_of
from assistant.jobs.steps import Cut, Move, Step
from assistant.replacing import replace
from assistant.units import quantity


@dataclass(frozen=True)
class ThreadStroke:
    """A pass along the thread, out of it, and back to the start."""

    work: ThreadWork
    job: ThreadJob
    closed: bool
    """The half nut stays closed: the spindle is reversed to come back."""
    line: str
    """Where to close it: `Close on any line.`"""
    too_fast: str = ""
    """How far the carriage runs in a second, where that is more than a hand stops in time."""

    @property
    def _out(self) -> str:
        return self.work.machine.axis(CROSS).way(1 if self.job.inner else -1)

    @property
    def _zero(self) -> str:
        return zero_of(self.work.machine.axis(CROSS))

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Set it, cut, out and back; spring passes after a finishing cut."""
        scratch = cut.kind == "witness"
        name = cut.id.removesuffix("-cut")
        steps: list[Step] = [
            self._set(move, "Set the scratch pass" if scratch else move.title, scratch),
            self._running(replace(cut, title="Scratch pass" if scratch else cut.title), scratch),
            self._back(name, move),
        ]
        for number in range(1, self.job.spring_passes + 1 if cut.kind == "finishing" else 1):
            steps += self._spring(f"{name}-spring-{number}", move, cut)
        return steps

    def back(self, name: str) -> list[Step]:
        """It is back already."""
        return []

    def _set(self, move: Move, title: str, first: bool = False) -> Move:
        said = tuple(text for text in move.say if "witness" not in text)
        # after the number, so that it is said too where only the number is given
        back = (f"Cross slide to {self._zero}.",) if self.job.by_compound and not first else ()
        return replace(move, title=title, say=said, after=back, lock=False)

    def _running(self, cut: Cut, first: bool) -> Cut:
        """With its words. Where the half nut stays closed the spindle stops at every end, is
        reversed to come back, and starts forward for the next cut."""
        said = replace(cut, say=self._along(first), traced=True)
        if not self.closed:
            return said
        forward = "" if first else "Spindle forward."
        return replace(said, spindle_words=forward, spindle_after="off")

    def _along(self, first: bool) -> tuple[str, ...]:
        # said at each cut: the speed may have been changed since it was asked about
        fast = (f"It runs {self.too_fast}: stop early.",) if self.too_fast else ()
        if self.closed:
            begin = ("Half nut closed, and leave it so.",) if first else ()
            return (*begin, *fast, "At the end: spindle off, tool out at once.")
        return (self.line, *fast, "At the end: tool out, and open the half nut.")

    def _spring(self, name: str, move: Move, cut: Cut) -> list[Step]:
        """Once more with nothing set deeper."""
        say: tuple[str, ...] = (
            f"Cross slide back to {self._zero}. Compound untouched.",
            "A spring pass.",
        )
        steps: list[Step] = []
        if not self.job.by_compound:
            say = ("A spring pass.",)
            steps.append(
                replace(
                    move,
                    id=f"{name}-set",
                    title="Set it as it was",
                    say=("Same depth again.",),
                    after=(),
                    lock=False,
                    pass_fact="",
                    pass_number=0,
                    leaves_inside=None,
                )
            )
        spring = replace(
            cut, id=f"{name}-cut", title="Spring pass", kind="spring", taken=cut.taken * 0
        )
        made = self._running(spring, False)
        steps.append(replace(made, say=(*say, *made.say)))
        return [*steps, self._back(name, move)]

    def _back(self, name: str, move: Move) -> Move:
        """Clear of the thread, and back. Fed straight in, the turns by which the slide is taken out
        are counted, so that the depth is still known."""
        how = "Reverse the spindle to come back." if self.closed else "Carriage back to the start."
        if self.job.by_compound:
            return Move(
                id=f"{name}-back", title="Back to the start",
                say=(f"Cross slide {self._out}, well clear.", how),
                axis=CROSS, target=None, done_words="clear",
            )  # fmt: skip
        assert move.target is not None
        return Move(
            id=f"{name}-back",
            title="Back to the start",
            axis=CROSS,
            target=move.target - quantity(self.work.lift, self.job.unit) * self.work.sign,
            approach=-self.work.sign,
            lock=False,
            after=(how,),
        )
