"""A told size against what was cut: the one from before, more than there was, deeper than a pass.

A floor of 1.875 over the key before any cut, cut to 91 thou: it should measure 1.784. The pass took
58, of which a quarter, 14.5 thou, may be off; a size may be deeper by a pass, and shallower by a
pass and twice that, before it is wondered about.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.jobs.steps import Cut, Ground, Measure, SurfaceKey
from assistant.session.contradiction import Contradiction, contradicts
from assistant.session.state import State
from assistant.spoken import Intent
from assistant.units import inches
from tests.session.walks import walked

FLOOR = SurfaceKey("size")


def cut_to(step_id: str, **wrong: object) -> State:
    """The keyseat at a step, its third pass in doubt, and that cut changed."""
    state = next(one for one in walked("keyseat-inch") if one.step_id == step_id)
    steps = tuple(replace(one, **wrong) if one.id == "roughing-3-cut" else one
                  for one in state.plan.steps)  # fmt: skip
    return replace(
        state,
        plan=replace(state.plan, steps=steps),
        belief=state.belief.shake(Ground.METAL, FLOOR, state.seq),
    )


def told(state: State, size: str) -> Contradiction | None:
    """What is wondered about in a measured size, in inches."""
    return contradicts(state, Intent("measured", (("size", inches(size)),)))


AFTER, IN_IT = "roughing-4-set", "roughing-3-cut"


def test_what_the_state_holds() -> None:
    state = cut_to(AFTER)
    assert state.doubts[0].surface == FLOOR
    cut = state.plan.step("roughing-3-cut")
    assert isinstance(cut, Cut)
    assert (cut.leaves, cut.taken) == (inches("1.784"), inches("0.058"))
    assert isinstance(state.ahead.measure_of(FLOOR), Measure)


@pytest.mark.parametrize(
    ("size", "why"),
    [
        ("1.784", None),
        ("1.790", None),
        ("1.726", None),  # deeper by the whole pass, 58
        ("1.725", Contradiction.DEEPER),
        ("1.827", None),  # 43 shallower: 15 from what was before the pass
        ("1.828", Contradiction.BEFORE),  # 14
        ("1.842", Contradiction.BEFORE),  # as it was
        ("1.856", Contradiction.BEFORE),
        ("1.857", None),
        ("1.871", None),  # 87, a pass and 29: as far as it goes
        ("1.872", Contradiction.GROWN),
    ],
)
def test_after_a_cut(size: str, why: Contradiction | None) -> None:
    assert told(cut_to(AFTER), size) == why


@pytest.mark.parametrize(
    ("size", "why"),
    [
        ("1.842", None),
        ("1.784", None),
        ("1.725", Contradiction.DEEPER),
        ("1.872", Contradiction.GROWN),
    ],
)
def test_with_the_cutter_still_in_it_the_size_from_before_may_be_so(
    size: str, why: Contradiction | None
) -> None:
    assert told(cut_to(IN_IT), size) == why


def test_a_light_pass_is_held_to_what_nobody_wonders_about() -> None:
    """Four thou: three of them are plain, twelve deeper still may be, and the size from before is
    too near to be told from this one."""
    light = cut_to(AFTER, taken=inches("0.004"))
    assert [told(light, size) for size in ("1.788", "1.772", "1.771")] == [
        None,
        None,
        Contradiction.DEEPER,
    ]
    assert [told(light, size) for size in ("1.794", "1.795")] == [None, Contradiction.GROWN]
    # above six thou it is told from it
    assert told(cut_to(AFTER, taken=inches("0.006")), "1.790") is None
    assert told(cut_to(AFTER, taken=inches("0.007")), "1.791") == Contradiction.BEFORE


def test_a_size_that_grows_is_counted_the_other_way() -> None:
    state = cut_to(AFTER)
    steps = tuple(replace(one, slope=-one.slope) if isinstance(one, Measure) else one
                  for one in state.plan.steps)  # fmt: skip
    grows = replace(state, plan=replace(state.plan, steps=steps))
    assert told(grows, "1.726") == Contradiction.BEFORE
    assert told(grows, "1.843") == Contradiction.DEEPER


def test_what_it_can_not_know_it_does_not_wonder_about() -> None:
    state = cut_to(AFTER)
    assert contradicts(state, Intent("measured", (("size", inches("1.842")),)))
    assert not contradicts(state, Intent("dial_reads", (("reading", inches("1.842")),)))
    assert not told(cut_to(AFTER, leaves=None), "1.842")
    assert not told(cut_to(AFTER, taken=inches(0)), "1.842")
    # nothing was cut since it was measured
    again = replace(state, belief=state.belief.measure(FLOOR, 1, state.seq).shake(
        Ground.METAL, FLOOR, state.seq + 1))  # fmt: skip
    assert not told(again, "1.842")
