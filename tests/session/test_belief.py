"""What rests on what: each ground shaken, what it makes unsure, and what it leaves as it was.

Records are numbered: the knee was zeroed at 10 and told to stand at 20, the saddle at 11 and 12.
"""

from __future__ import annotations

from types import MappingProxyType

import pytest

from assistant.jobs.steps import Ground, SurfaceKey
from assistant.session.belief import CRANK, AxisState, Belief
from assistant.units import inches

ON_THE_WORK = (Ground.WORK, Ground.TOOL)
FLOOR, WALL = SurfaceKey("size"), SurfaceKey("near.size")


def told(by: tuple[Ground, ...] = ON_THE_WORK) -> Belief:
    """Knee, saddle, and a table that never had a zero."""
    nothing = AxisState(inches(0))
    axes = MappingProxyType({"knee": nothing, "saddle": nothing, "table": nothing})
    return (
        Belief(axes)
        .zero("knee", 1, None, by, 10)
        .zero("saddle", -1, inches("0.040"), by, 11)
        .stand("saddle", inches("-0.9375"), -1, 12)
        .stand("knee", inches("0.043"), 1, 20)
    )


def test_nothing_is_lost_before_a_word_of_trouble() -> None:
    belief = told()
    assert {axis: belief.lost(axis) for axis in belief.axes} == dict.fromkeys(belief.axes)
    assert belief.axes["knee"].position == inches("0.043")
    assert belief.axes["saddle"].zero_reading == inches("0.040")
    assert belief.lost("an axis of another machine") is None


# -- each ground ----------------------------------------------------------------------------------


@pytest.mark.parametrize("ground", [Ground.WORK, Ground.TOOL])
def test_work_and_tool_take_every_zero_that_rests_on_them(ground: Ground) -> None:
    shaken = told().shake(ground, "", 30)
    assert shaken.lost("knee") is ground
    assert shaken.lost("saddle") is ground
    assert shaken.lost("table") is None  # it had none to lose
    assert not shaken.near("knee")


def test_an_edge_found_for_the_spindle_keeps_its_zero_under_a_new_drill() -> None:
    on_the_spindle = told(by=(Ground.WORK,))
    assert on_the_spindle.shake(Ground.TOOL, "", 30).lost("knee") is None
    assert on_the_spindle.shake(Ground.WORK, "", 30).lost("knee") is Ground.WORK


@pytest.mark.parametrize(
    ("ground", "near"),
    [
        (Ground.DIAL, False),
        (Ground.COUNT, False),
        (Ground.AWAY, False),
        (Ground.TURN, True),
        (Ground.PLACE, True),
    ],
)
def test_what_is_an_axis_own_leaves_the_others_alone(ground: Ground, near: bool) -> None:
    """Where only its dial has to be read it is near where it was; after a lost count it may be
    anywhere."""
    shaken = told().shake(ground, "knee", 30)
    assert shaken.lost("knee") is ground
    assert shaken.near("knee") is near
    assert shaken.lost("saddle") is None


def test_metal_and_the_question_whether_it_was_held_take_no_axis() -> None:
    shaken = told().shake(Ground.METAL, FLOOR, 30).shake(Ground.HELD, "", 31)
    assert {shaken.lost(axis) for axis in shaken.axes} == {None}
    assert shaken.unsure(Ground.METAL, FLOOR)
    assert not shaken.unsure(Ground.METAL, WALL)
    assert shaken.unsure(Ground.HELD)


def test_a_zero_that_is_gone_is_named_before_a_place_that_is() -> None:
    """To read the dial is worth nothing where its zero isn't."""
    shaken = told().shake(Ground.PLACE, "knee", 30).shake(Ground.WORK, "", 31)
    assert shaken.lost("knee") is Ground.WORK
    slipped = shaken.shake(Ground.DIAL, "knee", 32)
    assert slipped.lost("knee") is Ground.DIAL


def test_without_a_zero_a_ring_that_slipped_loses_nothing_but_a_count_does() -> None:
    assert told().shake(Ground.DIAL, "table", 30).lost("table") is None
    assert told().shake(Ground.COUNT, "table", 30).lost("table") is Ground.COUNT


# -- before and since -----------------------------------------------------------------------------


def test_what_was_shaken_before_it_was_told_is_told() -> None:
    """The same record is no later one: it was told with the word itself."""
    for at, lost in ((10, None), (11, Ground.WORK)):
        assert told().shake(Ground.WORK, "", at).lost("knee") is lost
    for at, lost in ((20, None), (21, Ground.COUNT)):
        assert told().shake(Ground.COUNT, "knee", at).lost("knee") is lost


def test_a_touch_gives_zero_and_place_anew_and_to_that_axis_alone() -> None:
    again = told().shake(Ground.WORK, "", 30).zero("knee", 1, None, ON_THE_WORK, 31)
    assert again.lost("knee") is None
    assert again.axes["knee"].position == inches(0)
    assert again.lost("saddle") is Ground.WORK


def test_a_dial_that_was_read_finds_the_place_but_no_zero() -> None:
    read = told().shake(Ground.TURN, "knee", 30).stand("knee", inches("0.041"), 0, 31)
    assert read.lost("knee") is None
    assert read.axes["knee"].position == inches("0.041")
    assert read.axes["knee"].came == 1  # from which side isn't told: as before
    assert read.axes["knee"].found_at == 31
    moved = told().shake(Ground.WORK, "", 30).stand("knee", inches("0.041"), 1, 31)
    assert moved.lost("knee") is Ground.WORK


def test_only_what_was_lost_is_found() -> None:
    """By the job's own moves an axis is not found anew: nothing is set again for that."""
    assert told().axes["knee"].found_at == 10
    assert told().stand("knee", inches("0.083"), 1, 30).axes["knee"].found_at == 10


def test_a_ground_found_good_holds_till_it_is_shaken_again() -> None:
    crank = told().shake(Ground.COUNT, CRANK, 30).find(Ground.COUNT, CRANK, 31)
    assert not crank.unsure(Ground.COUNT, CRANK)
    assert crank.shake(Ground.COUNT, CRANK, 32).unsure(Ground.COUNT, CRANK)
    assert crank.since(Ground.COUNT, CRANK) == 30
    assert crank.since(Ground.COUNT, "knee") == 0


# -- metal ----------------------------------------------------------------------------------------


def test_what_is_measured_is_so_for_that_surface() -> None:
    shaken = told().shake(Ground.METAL, FLOOR, 30).shake(Ground.METAL, WALL, 31)
    known = shaken.measure(FLOOR, 1, 32)
    assert not known.unsure(Ground.METAL, FLOOR)
    assert known.unsure(Ground.METAL, WALL)
    assert (known.measured[FLOOR], known.sizes[FLOOR]) == (32, 1)


def test_what_was_cut_stays_where_it_was_cut_until_its_axis_has_another_zero() -> None:
    cut = told().cut()
    moved = cut.stand("knee", inches("-0.500"), -1, 30)
    assert moved.cut_at["knee"].position == inches("0.043")
    touched = moved.zero("knee", 1, None, ON_THE_WORK, 31)
    assert "knee" not in touched.cut_at
    assert touched.cut_at["saddle"].position == inches("-0.9375")


def test_an_earlier_belief_is_not_changed_by_what_is_folded_in_after_it() -> None:
    before = told()
    before.shake(Ground.WORK, "", 30).zero("knee", 1, None, ON_THE_WORK, 31).cut()
    assert before.lost("knee") is None
    assert before.axes["knee"].position == inches("0.043")
    assert not before.cut_at
