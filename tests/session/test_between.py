"""A size told unasked, between two cuts, in every operation: the next cut starts from it, and one
inside the limits or past them is cut no deeper."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

import pytest

from assistant.guard import check
from assistant.jobs.steps import Cut, Measure, SurfaceKey
from assistant.session.between import FIRST_THROUGH, NOTHING_CUT, told_unasked, why_not
from assistant.session.cuts import last_cut
from assistant.session.state import State
from assistant.spoken.limits import Standing
from assistant.units import magnitude
from tests.factories import Job, answer, expected_words
from tests.session.walks import DEMOS, said, unmoved, walked

GAUGE = {"inch": Decimal("0.0001"), "mm": Decimal("0.01")}
"""What is read off: as fine as any gauge of the demos."""
UNIT = {"inch": "in", "mm": "mm"}
MOST = 60
"""Commands after which a surface is done."""


def places(demo: str) -> Iterator[tuple[State, Measure]]:
    """Where a size of each surface may first be told unasked, and where last."""
    found: dict[SurfaceKey, list[tuple[State, Measure]]] = {}
    for state in walked(demo)[:-1]:
        step = told_unasked(state)
        if step is not None and not why_not(state):
            found.setdefault(step.surface, []).append((state, step))
    for each in found.values():
        yield each[0]
        if len(each) > 1:
            yield each[-1]


def told(state: State, size: Decimal) -> tuple[State, str]:
    """What comes of it, as typed; what is asked back is so."""
    outcome = said(state, f"measured {size} {UNIT[state.plan.unit]}", "typed")
    heard = answer(outcome)
    for _ in range(4):
        if outcome.state.question is None:
            break
        outcome = said(outcome.state, "yes", "typed")
        heard += " " + answer(outcome)
    assert outcome.state.question is None, heard
    return outcome.state, heard


def cuts_to_come(state: State, step: Measure) -> list[Cut]:
    """What is yet taken off that surface, worked as told from here."""
    cuts = []
    for _ in range(MOST):
        assert check(state) is None
        if state.finished or state.doubts:
            return cuts
        one = state.step
        if isinstance(one, Cut) and one.surface == step.surface and one.kind != "spring":
            cuts.append(one)
        words = expected_words(state)
        state = said(state, "bang on" if words == "ten over" else words, "typed").state
        if state.question is not None:
            return cuts
    return cuts


def _deeper(step: Measure, cut: Cut, before: Cut) -> bool:
    if cut.leaves is None or before.leaves is None:
        return bool(cut.taken.magnitude > 0)
    return bool((cut.leaves - before.leaves).magnitude * step.slope > 0)


def left(step: Measure, size: Decimal, cut: Cut, unit: str) -> Decimal:
    """How much the size is yet to be cut to what the cut leaves: more than nothing."""
    assert cut.leaves is not None
    return (magnitude(cut.leaves, unit) - size) * (1 if step.slope > 0 else -1)


@pytest.mark.parametrize("demo", DEMOS)
def test_the_next_cut_starts_from_what_was_told(demo: str) -> None:
    for state, step in places(demo):
        cut = last_cut(state, step.surface)
        if cut is None or cut.leaves is None:
            continue
        unit = state.plan.unit
        size = magnitude(cut.leaves, unit).quantize(GAUGE[unit])
        after, heard = told(state, size)
        assert not after.doubts, heard
        assert after.belief.sizes[step.surface] == state.belief.sizes.get(step.surface, 0) + 1
        for each in cuts_to_come(after, step):
            assert each.leaves is None or left(step, size, each, unit) > -GAUGE[unit], each.id


@pytest.mark.parametrize("demo", DEMOS)
def test_a_size_in_its_limits_or_past_them_is_cut_no_deeper(demo: str) -> None:
    for state, step in places(demo):
        if step.low is None or step.high is None:
            continue
        unit = state.plan.unit
        middle = (magnitude(step.low, unit) + magnitude(step.high, unit)) / 2
        past = magnitude(step.high if step.grows else step.low, unit)
        past += (GAUGE[unit] if step.grows else -GAUGE[unit]) * 5
        for size, standing in ((middle, Standing.IN), (past, Standing.PAST)):
            after, heard = told(state, size.quantize(GAUGE[unit]))
            at = last_cut(state, step.surface)
            assert at is not None
            deeper = [
                one.id for one in cuts_to_come(after, step) if _deeper(step, one, at)
            ]  # not what is cut beside it, to the same setting
            assert not deeper, (state.step_id, standing, size, heard)


@pytest.mark.parametrize("demo", DEMOS)
def test_in_a_cut_and_before_the_first_nothing_is_taken_and_it_says_why(demo: str) -> None:
    seen: set[str] = set()
    for state in walked(demo)[:-1]:
        step = told_unasked(state)
        why = why_not(state) if step is not None else ""
        if step is None or not why or why in seen or step.nominal is None:
            continue
        seen.add(why)
        unit = state.plan.unit
        size = magnitude(step.nominal, unit).quantize(GAUGE[unit])
        outcome = said(state, f"measured {size} {UNIT[unit]}", "typed")
        while outcome.state.question is not None:
            outcome = said(outcome.state, "yes", "typed")
        assert answer(outcome).startswith(why)
        assert unmoved(state, outcome.state)
    assert not seen or seen & {FIRST_THROUGH, NOTHING_CUT}


def test_a_size_of_a_pass_ago_is_asked_about() -> None:
    job = Job("turn-shaft")
    job.to_step("roughing-3-set")
    assert "as before the last cut" in job.say("measured one point four nine")
    job.say("no")
    assert job.state.step_id == "roughing-3-set"
    assert "Cross slide in" in job.say("what now")


def test_what_it_was_taken_for_is_said_and_can_be_taken_back() -> None:
    job = Job("turn-shaft")
    job.to_step("roughing-3-set")
    before = job.glance.number
    heard = job.say("measured one point four two one")
    assert heard.startswith("The diameter. One four two one:")
    assert job.glance.number != before
    heard = job.say("scratch that")
    assert "Read me the cross slide dial" in heard  # the move may have been begun
    job.say("dial reads eighty four")
    assert job.glance.number == before


def test_past_the_last_limit_nothing_deeper_comes() -> None:
    job = Job("turn-shaft")
    job.to_step("roughing-3-set")
    job.try_saying("measured one point one")
    heard = job.say("yes")
    assert "too small" in heard
    assert job.state.step_id == "too-far"


def test_it_outlives_the_program() -> None:
    job = Job("turn-shaft")
    job.to_step("roughing-3-set")
    job.say("measured one point four two one")
    before = job.state.plan
    job.resume()
    assert job.state.plan == before
