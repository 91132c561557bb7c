"""What was cut before the job came to it: told by its size, the passes go on from there, in every
operation, and no metal is counted from a touch on what is cut as if it were whole."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

import pytest

from assistant.guard import check
from assistant.jobs.steps import Cut, Measure, Move, SurfaceKey, Touch
from assistant.session.already import (
    BEING_CUT,
    PLACES,
    TRACED,
    UNMEASURED,
    surface_at_hand,
    tells_of_it,
    why_not,
)
from assistant.session.cuts import last_cut
from assistant.session.state import State
from assistant.spoken import Reason, Refused, Understood
from assistant.spoken.limits import Standing
from assistant.units import Quantity, magnitude
from tests.factories import Job, answer, expected_words
from tests.session.walks import DEMOS, walked

FINEST = {"inch": Decimal("0.001"), "mm": Decimal("0.01")}
SAID = {"inch": "in", "mm": "mm"}


def surfaces(demo: str) -> Iterator[tuple[int, State, Measure]]:
    """The first state of a plain job, with its place, at which each surface may be told."""
    seen: set[SurfaceKey] = set()
    for place, state in enumerate(walked(demo)[:-1]):
        step = tells_of_it(state.ahead)
        if step is not None and not why_not(state) and surface_at_hand(state.ahead) not in seen:
            seen.add(surface_at_hand(state.ahead))
            yield place, state, step


def between(step: Measure, share: str, unit: str) -> Decimal:
    """A size on the way from none cut to the first limit, as a gauge reads it."""
    assert step.at_none is not None
    assert step.limits.first is not None
    none, first = (magnitude(size, unit) for size in (step.at_none, step.limits.first))
    return (none + (first - none) * Decimal(share)).quantize(FINEST[unit])


def brought_to(demo: str, place: int) -> Job:
    """A job worked as planned for so many commands."""
    job = Job(demo)
    for state in walked(demo)[:place]:
        job.say(expected_words(state))
    return job


def tell(job: Job, size: Decimal) -> str:
    """What is answered; that nothing was touched on what is cut is said where it is asked."""
    said = job.say(f"already cut to {size} {SAID[job.state.plan.unit]}")
    while job.state.question is not None:
        assert "touched where nothing was cut" in said
        said = job.say("yes")
    return said


def worked_on(job: Job, surface: SurfaceKey) -> list[State]:
    """The states to the end, or to where nothing is left of that surface; nothing held back."""
    states = [job.state]
    for _ in range(300):
        assert check(job.state) is None
        if job.state.finished or job.state.doubts:
            break
        words = expected_words(job.state)
        # ten over may be more than was there
        said = job.say("bang on" if words == "ten over" else words)
        assert "hold that back" not in said
        assert job.state.question is None, said
        states.append(job.state)
        if not _left_of(job.state, surface):
            break
    assert not job.state.doubts
    return states


def _left_of(state: State, surface: SurfaceKey) -> bool:
    """Whether anything of a surface is still to be cut or measured."""
    rest = state.plan.steps[state.ahead.undone :]
    return any(isinstance(one, Cut | Measure) and one.surface == surface for one in rest)


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("share", ["0.6"])
def test_the_passes_go_on_from_what_is_cut(demo: str, share: str) -> None:
    for place, before, step in surfaces(demo):
        unit = before.plan.unit
        size, surface = between(step, share, unit), surface_at_hand(before.ahead)
        job = brought_to(demo, place)
        said = tell(job, size)
        assert job.state.belief.sizes[surface] == 1
        assert said, "read back"
        for state in worked_on(job, surface):
            cut = state.step
            if not isinstance(cut, Cut) or cut.surface != surface or cut.kind == "spring":
                continue
            assert cut.leaves is None or _deeper(step, cut.leaves, size, unit), "cut in the air"
            move = next(
                one for one in reversed(state.plan.steps[: state.plan.index(cut.id)])
                if isinstance(one, Move) and one.surface == surface
            ) if state.ahead.setter_of(surface) else None  # fmt: skip
            most = move.pass_limit if move is not None else None
            if last_cut(state, surface) is None and cut.leaves is not None and most is not None:
                grain = state.machine.axis(move.axis).graduation if move is not None else None
                bite = abs(magnitude(cut.leaves, unit) - size) / abs(step.slope)
                assert bite <= magnitude(most + (grain or most * 0) * 2, unit), "more than a pass"
        sizes = job.state.facts
        told = [sizes[f"{surface}.{n}"] for n in range(1, job.state.belief.sizes[surface] + 1)]
        assert len(told) > 1, "and measured before it is done"


def _deeper(step: Measure, leaves: Quantity, size: Decimal, unit: str) -> bool:
    gone = (magnitude(leaves, unit) - size) * (1 if step.slope > 0 else -1)
    return gone > 0


@pytest.mark.parametrize("demo", DEMOS)
def test_a_size_in_its_limits_or_past_them_is_cut_no_deeper(demo: str) -> None:
    for place, before, step in surfaces(demo):
        unit, surface = before.plan.unit, surface_at_hand(before.ahead)
        if step.low is None or step.high is None:
            continue
        middle = (magnitude(step.low, unit) + magnitude(step.high, unit)) / 2
        grain = Decimal("0.0001") if unit == "inch" else Decimal("0.01")
        past = magnitude(step.high if step.grows else step.low, unit)
        past += (FINEST[unit] if step.grows else -FINEST[unit]) * 2
        for size, standing in ((middle, Standing.IN), (past, Standing.PAST)):
            job = brought_to(demo, place)
            said = tell(job, size.quantize(grain))
            if standing is Standing.IN:
                assert "That's in." in said
            else:
                assert step.too_far in said
            cuts = [one for one in job.state.plan.steps if isinstance(one, Cut)]
            undone = [one for one in cuts if one.id not in job.state.done]
            assert surface not in [one.surface for one in undone], demo
            assert check(job.state) is None


def test_it_says_where_to_touch_and_counts_from_there() -> None:
    lathe = Job("turn-metric")
    lathe.say("already cut to twenty six and a half")
    seat = Job("keyseat-inch")
    seat.say("already cut to one seven fifty")
    said = {}
    for job in (lathe, seat):
        while not isinstance(job.state.step, Touch) or job.state.step.axis not in (
            "cross slide", "knee"
        ):  # fmt: skip
            said[job] = job.say(expected_words(job.state))
    assert "Touch what is cut." in said[lathe]
    assert "Touch where nothing is cut." in said[seat]
    lathe.say("touched")
    lathe.to_step("roughing-1-set")
    step = lathe.state.step
    assert isinstance(step, Move)
    # the dial has its zero at 26.5, and counts the tool's travel: half of what comes off
    assert step.target is not None
    assert Decimal("26.5") - 2 * magnitude(step.target, "mm") > Decimal("25")
    seat.to_step("roughing-1-set")
    step = seat.state.step
    assert isinstance(step, Move)
    # from the top of the shaft: 1.875 is over the key where nothing is cut
    assert step.target is not None
    assert magnitude(step.target, "inch") > Decimal("0.125")


def test_after_the_touch_it_is_asked_where_that_was() -> None:
    job = Job("turn-metric")
    job.to_step("witness-1-set")
    said = job.say("already cut to twenty seven")
    assert "Twenty-seven millimetres: and touched where nothing was cut. Right? Yes or no." in said
    assert job.state.belief.sizes == {}
    job.say("no")
    assert job.state.belief.sizes == {}
    job.say("already cut to twenty seven")
    assert "The diameter." in job.say("yes")
    assert job.state.belief.sizes == {surface_at_hand(job.state.ahead): 1}


BITE = Decimal("0.1")
"""Twice the most that is cut on one side."""


def first_bite(job: Job, on: str) -> Decimal:
    """What the first pass takes off 1.4, where the slide was last touched on that size."""
    job.to_step("roughing-1-set")
    step = job.state.step
    assert isinstance(step, Move)
    assert step.target is not None
    return magnitude(step.target, "inch") - (Decimal(on) - Decimal("1.4"))


def to_the_touch(job: Job, said: str = "") -> str:
    """Goes on as planned to the touch of the cross slide; what is said there."""
    while not (isinstance(job.state.step, Touch) and job.state.step.axis == "cross slide"):
        said = job.say(expected_words(job.state))
    return said


def test_touched_on_what_is_cut_it_is_touched_again() -> None:
    """With the zero lost nothing is asked of the touch that gave it: the next is on what is cut."""
    job = Job("turn-shaft")
    job.to_step("witness-1-set")
    job.says("already cut to one four hundred", "no", "dial slipped")
    assert isinstance(job.state.step, Touch)
    said = job.say("already cut to one four hundred")
    assert job.state.question is None
    assert "Touch what is cut." in said
    job.say("touched")
    assert 0 < first_bite(job, "1.4") < BITE


@pytest.mark.parametrize("trouble", ["dial slipped", "something moved", "new cutter"])
def test_a_zero_that_is_lost_after_it_was_told_is_found_on_what_is_cut(trouble: str) -> None:
    """Touched first where nothing was cut, then on what is cut: the size is where the last was."""
    job = Job("turn-shaft")
    job.to_step("witness-1-set")
    job.says("already cut to one four hundred", "yes")
    before = first_bite(job, "1.5")
    assert 0 < before < BITE
    assert "Touch what is cut." in to_the_touch(job, job.say(trouble))
    job.say("touched")
    assert first_bite(job, "1.4") == before


def test_cut_to_its_size_it_is_touched_all_the_same() -> None:
    """What the slide is fed in to afterwards is counted from the size that it was touched on."""
    job = Job("turn-shaft")
    job.say("already cut to one two four nine")
    assert "Touch what is cut." in to_the_touch(job)
    job.say("touched")
    feed = next(one for one in job.state.plan.steps if one.id == "shoulder-finishing-1-cut")
    assert isinstance(feed, Cut)
    assert feed.feed_target is not None
    assert not feed.feed_target.magnitude


def test_told_twice_the_last_counts_and_it_can_be_taken_back() -> None:
    job = Job("turn-metric")
    surface = surface_at_hand(job.state.ahead)
    job.say("already cut to twenty eight")
    job.say("already cut to twenty seven")
    assert job.state.belief.sizes[surface] == 2
    job.says("scratch that", "scratch that")
    assert job.state.belief.sizes == {}
    assert job.state.facts == {}
    job.says("already cut to twenty eight", "no, twenty seven")
    assert job.state.belief.sizes == {surface: 1}
    assert magnitude(job.state.facts[f"{surface}.1"], "mm") == 27


@pytest.mark.parametrize(
    ("demo", "words", "why"),
    [
        ("flats-square", "already cut to 15 mm", PLACES),
        ("thread-external", "already cut to 0.8 in", TRACED),
        ("drill-press", "already cut to 0.2 in", UNMEASURED),
        ("tram-vice", "already cut to 10 mm", UNMEASURED),
        ("divide-table", "already cut to 1 in", UNMEASURED),
    ],
)
def test_where_it_can_not_be_it_is_refused_in_words(demo: str, words: str, why: str) -> None:
    job = Job(demo)
    before = job.state
    assert why in answer(job.try_saying(words))
    assert job.state.plan == before.plan
    assert job.state.belief == before.belief


def test_what_is_being_cut_here_is_measured_instead() -> None:
    job = Job("turn-metric")
    job.to_step("roughing-2-set")
    assert BEING_CUT in job.say("already cut to twenty seven")
    assert job.state.belief.sizes == {}


@pytest.mark.parametrize("words", ["already cut to 90 mm", "already cut to 2 mm"])
def test_a_size_that_can_not_be_is_asked_back(words: str) -> None:
    job = Job("turn-metric")
    outcome = job.try_saying(words)
    assert isinstance(outcome.said, Refused)
    assert outcome.said.reason is Reason.IMPLAUSIBLE
    assert job.state.question is not None
    assert job.state.belief.sizes == {}


def test_numbers_near_in_sound_are_asked() -> None:
    job = Job("turn-metric")
    outcome = job.try_saying("already cut to twenty five point one five")
    assert isinstance(outcome.said, Understood)
    assert "Twenty-five point one five" in answer(outcome)
