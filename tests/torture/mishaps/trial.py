"""One trial: a trouble at a step, the way on by whatever is asked, a told size, and the rules."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from tests.torture.mishaps import meant, rules
from tests.torture.mishaps.answers import go_on
from tests.torture.mishaps.bench import RESUME, Bench, UnspokenError, page_of
from tests.torture.mishaps.lines import Line, told
from tests.torture.mishaps.plain import Plain

PLAIN = "(what is said there on the plain way)"
BEFORE = 24
"""Turns until a size is asked for."""
AFTER = 18
"""Turns after it was told."""
HARDLY = {"inch": Decimal("0.005"), "mm": Decimal("0.12")}
"""No nonsense: a gauge held askew tells as much. A tenth of a witness skim is so near to it."""
SAME = 4
"""Turns on one page that lead nowhere."""
A_LITTLE = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
MUCH = {"inch": Decimal("0.1"), "mm": Decimal("2.5")}
"""What a first cut takes at most where nothing says it."""
SOME = {"inch": "0.005 in", "mm": "0.1 mm"}


@dataclass(frozen=True)
class Trouble:
    """Words that tell a trouble."""

    name: str
    words: tuple[str, ...]
    shakes: bool = False
    """Whether a zero or a count may be gone by it."""
    of_tool_or_work: bool = False
    """Whether it is gone though the dial is as it was: reading that finds nothing then."""
    takes_back: bool = False


TROUBLES = (
    Trouble("nothing", ()),
    Trouble("went past", ("i went past",)),
    Trouble("went past by something", ("i went past by {some}",)),
    Trouble("lost count", ("lost count",), shakes=True),
    Trouble("dial slipped", ("dial slipped",), shakes=True),
    Trouble("new cutter", ("new cutter",), shakes=True, of_tool_or_work=True),
    Trouble("new cutter, power cut", ("new cutter", RESUME), shakes=True, of_tool_or_work=True),
    Trouble("something moved", ("something moved",), shakes=True, of_tool_or_work=True),
    Trouble("scratch that", ("scratch that",), takes_back=True),
    Trouble("scratch that, twice", ("scratch that", "scratch that"), takes_back=True),
    Trouble("power cut", (RESUME,), shakes=True),
    Trouble("said too early", (PLAIN, "scratch that", "lost count"), shakes=True, takes_back=True),
)


@dataclass(frozen=True)
class Finding:
    """One way on that a rule flags."""

    kind: str
    operation: str
    job: str
    place: int
    trouble: str
    told: str
    """Which kind of size was told; '' where none was yet."""
    words: tuple[str, ...]
    """All that was typed, from the beginning of the job."""
    spoken: str
    """What was said last."""

    @property
    def replay(self) -> str:
        """As a command line; where the program was ended, it is begun again with `run`."""
        typed = " ".join(f'"{words}"' for words in self.words)
        return f"wheelcall say {self.job} {typed}"


@dataclass
class Trial:
    """One trouble at one step of one job."""

    plain: Plain
    place: int
    trouble: Trouble
    tried: int = 0
    """Ways on that were tried."""

    def run(self) -> Iterator[Finding]:
        """Every way on that is flagged."""
        bench = self.plain.benches[self.place].fork()
        try:
            yield from self._trouble(bench)
        except UnspokenError as error:
            yield self._finding(rules.RAISED, bench, "", str(error))

    # -- until a size is asked for ------------------------------------------------------------

    def _trouble(self, bench: Bench) -> Iterator[Finding]:
        begun, in_cut = page_of(bench.page), bench.cut_at_hand
        if not self.trouble.words and meant.asked(bench.job) is None:
            return
        self.tried += 1
        zeroed = bool(bench.travel)
        some = SOME[bench.job.state.unit]
        grounded, lost = True, self._lost(bench)
        for words in self.trouble.words:
            typed = self.plain.words[self.place] if words == PLAIN else words.format(some=some)
            said = bench.say(typed)
            if bench.asking:
                said = bench.say("yes")
            if not said.taken:
                return
            grounded = rules.grounds(said)
            lost = rules.still_lost(lost, said)
        if self.trouble.words and page_of(bench.page) == begun and not bench.cut_at_hand:
            return  # nothing came of it: the plain way goes on
        if in_cut and self.trouble.of_tool_or_work and page_of(bench.page) == begun:
            yield self._finding(rules.SHAKEN, bench)
            return
        shaken = self.trouble.shakes and zeroed
        ahead = self.plain.benches[self.place :]
        last, same, touched = page_of(bench.page), 0, False
        for _ in range(BEFORE):
            asked = meant.asked(bench.job)
            if asked is not None:
                yield from self._all_sizes(bench, asked)
                if asked.limited:
                    return
            line = self._line(bench)
            of_depth = line is not None and line.axis in lost
            # the cut at hand may be finished: what is lost is needed for the next
            counted = shaken and not grounded and not (in_cut and page_of(bench.page) == begun)
            if bench.cut_at_hand and (of_depth or counted):
                yield self._finding(rules.SHAKEN, bench)
                return
            if rules.astray(bench, self.plain.benches, line):
                yield self._finding(rules.ASTRAY, bench)
                return
            if not touched and rules.deeper_than_a_pass(bench, line):
                yield self._finding(rules.TOO_MUCH, bench)
                return
            if not self.trouble.takes_back and rules.forgotten(bench, ahead):
                yield self._finding(rules.FORGOTTEN, bench)
                return
            if bench.done:
                return
            said_on = go_on(bench, self.plain.size)
            same = same + 1 if page_of(bench.page) == last else 0
            last = page_of(bench.page)
            if said_on is None or same >= SAME:
                yield self._finding(rules.STUCK, bench)
                return
            grounded = grounded or rules.grounds(said_on)
            lost = rules.still_lost(lost, said_on)
            touched = touched or bool(said_on.zeroed)

    def _line(self, bench: Bench) -> Line | None:
        return self.plain.lines.get(meant.cutting(bench.job))

    def _lost(self, bench: Bench) -> frozenset[str]:
        """The axes that set a depth, and whose zero is gone with the tool or the work."""
        if not self.trouble.of_tool_or_work:
            return frozenset()
        return frozenset(line.axis for line in self.plain.lines.values()) & bench.travel.keys()

    # -- sizes --------------------------------------------------------------------------------

    def _all_sizes(self, bench: Bench, asked: meant.Asked) -> Iterator[Finding]:
        for kind, size in self._sizes(bench, asked):
            self.tried += 1
            trial = bench.fork()
            try:
                if kind in ("inside", "past", "short", "earlier"):
                    yield from self._true_size(trial, asked, kind, size)
                else:
                    yield from self._nonsense(trial, asked, kind, size)
            except UnspokenError as error:
                yield self._finding(rules.RAISED, trial, kind, str(error))

    def _sizes(self, bench: Bench, asked: meant.Asked) -> Iterator[tuple[str, Decimal]]:
        unit, line = bench.job.state.unit, self.plain.lines.get(asked.key)
        place = None if line is None else bench.in_the_metal(line.axis)
        now = asked.now if line is None or place is None else line.size_at(place)
        less = -1 if asked.grows else 1
        if asked.low is not None and asked.high is not None:
            first, last = (asked.low, asked.high) if asked.grows else (asked.high, asked.low)
            yield "inside", (asked.low + asked.high) / 2
            yield "past", last - less * A_LITTLE[unit]
            yield "short", first + less * A_LITTLE[unit]
        made = [] if line is None else rules.made(bench.cuts, asked.key, line.axis)
        earlier = made if meant.in_a_cut(bench.job) else made[:-1]
        if line is not None and earlier and line.size_at(earlier[-1]) != now:
            yield "earlier", line.size_at(earlier[-1])
        if line is not None and made:
            took = meant.most(bench.job, asked.key) or MUCH[unit]
            never = line.before(made[0]) + less * (took * abs(line.slope) * 2 + MUCH[unit] / 5)
            if never > 0:
                yield "more than there was", never
        for name, told_as in ("ten times", now * 10), ("a tenth", now / 10), ("nothing", now * 0):
            if abs(told_as - now) > HARDLY[unit]:
                yield name, told_as

    def _nonsense(
        self, bench: Bench, asked: meant.Asked, kind: str, size: Decimal
    ) -> Iterator[Finding]:
        said = bench.say(told(size, bench.job.state.unit))
        if bench.asking:
            bench.say("no")
        still = meant.asked(bench.job)
        if still is None or still.key != asked.key:
            yield self._finding(rules.NONSENSE, bench, kind, said.spoken)

    def _true_size(
        self, bench: Bench, asked: meant.Asked, kind: str, size: Decimal
    ) -> Iterator[Finding]:
        line = self.plain.lines.get(asked.key)
        at = None if line is None else bench.in_the_metal(line.axis)
        truth = rules.Told(kind, size, asked, line, at, len(bench.cuts))
        said = bench.say(told(size, bench.job.state.unit))
        spoken = said.spoken
        if bench.asking:
            said = bench.say("yes")
            spoken = f"{spoken} {said.spoken}"
        if not said.taken:
            return
        still = meant.asked(bench.job)
        goes_on = still is None or still.key != asked.key
        if kind == "past" and goes_on and not rules.said_of_it(spoken):
            yield self._finding(rules.NO_WORD, bench, kind, spoken)
            return
        yield from self._afterwards(bench, truth)

    def _afterwards(self, bench: Bench, truth: rules.Told) -> Iterator[Finding]:
        size = self._truly(truth)
        last, same = page_of(bench.page), 0
        for _ in range(AFTER):
            wrong = rules.wrong_cut(truth, bench)
            if wrong:
                yield self._finding(wrong, bench, truth.kind)
                return
            if bench.done:
                return
            said = go_on(bench, size)
            same = same + 1 if page_of(bench.page) == last else 0
            last = page_of(bench.page)
            if said is None or same >= SAME:
                if truth.kind != "past":  # a scrapped part leads nowhere
                    yield self._finding(rules.STUCK, bench, truth.kind)
                return

    def _truly(self, truth: rules.Told) -> Callable[[Bench], str]:
        def size(bench: Bench) -> str:
            asked = meant.asked(bench.job)
            if asked is None or asked.key != truth.asked.key:
                return self.plain.size(bench)
            return told(truth.now(bench), bench.job.state.unit)

        return size

    def _finding(self, kind: str, bench: Bench, told: str = "", spoken: str = "") -> Finding:
        return Finding(
            kind, self.plain.operation, self.plain.name, self.place, self.trouble.name, told,
            bench.typed, spoken or bench.spoken,
        )  # fmt: skip
