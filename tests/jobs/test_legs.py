"""A schedule of depths: what is cut from one measurement to the next, worked by hand.

A seat of 93 thou: a witness of 3, passes to 43 and 83, ten left for the finishing cut; no pass may
take more than 40, none less than 3, and the dial has divisions of one thou.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from assistant.errors import ImpossibleInput
from assistant.jobs.to_size.legs import FINISHING, Leg, Reached, Schedule
from assistant.jobs.to_size.passes import Pass
from assistant.spoken.limits import Standing


def thou(number: str | int) -> Decimal:
    """Thousandths of an inch."""
    return Decimal(number) / 1000


PLANNED = (
    Pass(1, "witness", thou(3), thou(3), thou(40)),
    Pass(2, "roughing", thou(43), thou(40), thou(40)),
    Pass(3, "roughing", thou(83), thou(40), thou(40)),
)
SEAT = Schedule(
    passes=PLANNED,
    start=Decimal(0),
    aim=thou(93),
    finish=thou(10),
    least=thou(3),
    most=thou(40),
    step=thou(1),
    chosen={},
    finish_from=lambda _last: thou(93),
)


def found(
    depth: str | int, cuts: int, *, number: int = 1, begun: bool = False,
    standing: Standing = Standing.SHORT, offset: str | int = 0,
) -> Reached:  # fmt: skip
    """A measurement, in thousandths."""
    return Reached(number, thou(depth), thou(offset), cuts, begun, standing)


def after(*told: Reached, seat: Schedule = SEAT) -> Leg:
    """What is still to be cut."""
    return seat.legs(told)[-1]


def rows(leg: Leg) -> list[tuple[int, str, Decimal, Decimal]]:
    """Number, kind, depth and take of each pass, the finishing cut last, in thousandths."""
    every = [*leg.passes, *([leg.finishing] if leg.finishing is not None else [])]
    return [(one.number, one.kind, one.depth * 1000, one.taken * 1000) for one in every]


# -- the plain way --------------------------------------------------------------------------------


def test_before_anything_is_measured_all_is_as_planned() -> None:
    (only,) = SEAT.legs(())
    assert rows(only) == [
        (1, "witness", 3, 3), (2, "roughing", 43, 40), (3, "roughing", 83, 40),
        (4, FINISHING, 93, 10),
    ]  # fmt: skip
    assert not only.done
    assert only.begins is None
    assert only.ends is None
    assert only.offset == 0
    assert only.number == 1


def test_measured_before_the_finishing_cut_there_is_that_cut_alone_from_what_was_found() -> None:
    first, second = SEAT.legs((found(82, 3),))
    assert rows(first) == [(1, "witness", 3, 3), (2, "roughing", 43, 40), (3, "roughing", 83, 40)]
    assert first.ends == found(82, 3)
    assert rows(second) == [(4, FINISHING, 93, 11)]


def test_without_a_finishing_cut_planned_the_first_comes_from_a_measurement() -> None:
    plain = replace(SEAT, finish=Decimal(0))
    assert rows(plain.legs(())[0])[-1] == (3, "roughing", 83, 40)
    assert rows(after(found(83, 3), seat=plain)) == [(4, FINISHING, 93, 10)]
    # and none where passes are still to come
    assert rows(after(found(43, 2), seat=plain)) == [(3, "roughing", 83, 40)]


# -- the first depth that is deeper ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("depth", "expected"),
    [
        (43, [(3, "roughing", 83, 40), (4, FINISHING, 93, 10)]),
        (60, [(3, "roughing", 83, 23), (4, FINISHING, 93, 10)]),
        (80, [(3, "roughing", 83, 3), (4, FINISHING, 93, 10)]),  # the least useful cut itself
        ("80.1", [(3, FINISHING, 93, Decimal("12.9"))]),  # 2.9 would rub: it goes with the last
        (88, [(3, FINISHING, 93, 5)]),
    ],
)
def test_next_is_the_first_depth_deeper_by_the_least_useful_cut(depth, expected) -> None:
    assert rows(after(found(depth, 2))) == expected


def test_what_was_set_once_is_not_set_again_though_it_came_out_shallower() -> None:
    """Three passes set, and 75 found where the dial says 83: what is missing is the finishing
    cut's, counted from what was found."""
    assert rows(after(found(75, 3))) == [(4, FINISHING, 93, 18)]


# -- the most a pass may take ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("depth", "shares"),
    [
        (43, [40]),
        (42, [41]),  # a division of the dial is allowed
        # 41.1 is not: two, each 20.55 set up to a whole division, and what is then left
        ("41.9", [21, Decimal("20.1")]),
        (10, [37, 36]),  # 73 in two: 36.5, set up to 37
        (3, [40, 40]),
    ],
)
def test_no_pass_takes_more_than_the_most(depth, shares) -> None:
    leg = after(found(depth, 2))
    assert [one.taken * 1000 for one in leg.passes] == shares
    assert leg.passes[-1].depth == thou(83)


def test_a_share_set_to_the_dial_is_held_to_the_most() -> None:
    """73 in two is 36.5, up to 37 on the dial; where only 36.8 may be taken, 36.8 and 36.2."""
    leg = after(found(10, 2), seat=replace(SEAT, most=thou("36.8")))
    assert [one.taken * 1000 for one in leg.passes] == [Decimal("36.8"), Decimal("36.2")]


def test_a_finishing_cut_takes_no_more_either() -> None:
    """All three passes set, and only 50 found: 43 to the end is more than 40 and a division, so
    first to 83 again."""
    assert rows(after(found(50, 3))) == [(4, "roughing", 83, 33), (5, FINISHING, 93, 10)]
    assert rows(after(found(52, 3))) == [(4, FINISHING, 93, 41)]


def test_where_little_would_be_left_to_rough_the_rest_is_halved() -> None:
    """43 are left and 40 may be taken, and 40 are for finishing: 3 first would rub."""
    seat = replace(SEAT, finish=thou(40), least=thou(5))
    assert rows(after(found(50, 3), seat=seat)) == [
        (4, "roughing", Decimal("71.5"), Decimal("21.5")),
        (5, FINISHING, 93, Decimal("21.5")),
    ]


def test_the_most_of_each_pass_is_what_is_left_where_that_is_less() -> None:
    leg = after(found(60, 2))
    assert [one.limit for one in leg.passes] == [thou(23)]
    assert leg.finishing is not None
    assert leg.finishing.limit == thou(40)


# -- the end --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("standing", "depth"), [(Standing.IN, 93), (Standing.IN, 40), (Standing.PAST, 97)]
)
def test_inside_its_limits_or_past_them_nothing_more_is_cut(standing, depth) -> None:
    leg = after(found(depth, 2, standing=standing))
    assert rows(leg) == []
    assert leg.done


# -- a pass that was begun ------------------------------------------------------------------------


def test_a_begun_pass_is_finished_at_its_own_setting() -> None:
    """The third was wet when 43 was measured: it goes to 83 by the dial as it was then, and what
    is after it starts from there."""
    leg = after(found(43, 2, begun=True, offset=2))
    assert leg.begun == PLANNED[2]
    assert leg.begun_offset == 0
    assert leg.offset == thou(2)
    assert rows(leg) == [(4, FINISHING, 93, 10)]
    assert not leg.done


def test_a_begun_pass_leaves_those_after_it_as_they_were() -> None:
    leg = after(found(3, 1, begun=True))
    assert leg.begun == PLANNED[1]
    assert rows(leg) == [(3, "roughing", 83, 40), (4, FINISHING, 93, 10)]


def test_a_begun_finishing_cut_is_the_last() -> None:
    leg = after(found(83, 3, begun=True))
    assert leg.begun is not None
    assert (leg.begun.kind, leg.begun.depth) == (FINISHING, thou(93))
    assert rows(leg) == []
    assert leg.number == 1  # not finished yet: it is still the first


def test_begun_and_inside_is_finished_but_past_is_left() -> None:
    assert after(found(93, 2, begun=True, standing=Standing.IN)).begun == PLANNED[2]
    past = after(found(97, 2, begun=True, standing=Standing.PAST))
    assert past.begun is None
    assert past.done


def test_begun_twice_keeps_the_dial_of_the_first_time() -> None:
    """Measured twice with the third pass wet: the second measurement found the dial 2 further on,
    and the pass is still finished where it was set."""
    told = (found(43, 2, begun=True, offset=1), found(44, 2, number=2, begun=True, offset=2))
    leg = after(*told)
    assert leg.begun == PLANNED[2]
    assert leg.begun_offset == 0
    assert leg.offset == thou(2)


def test_a_pass_after_a_measurement_is_begun_with_that_measurement_s_offset() -> None:
    told = (found(43, 2, offset=1), found(44, 2, number=2, begun=True, offset=2))
    leg = after(*told)
    assert leg.begun == PLANNED[2]
    assert leg.begun_offset == thou(1)


# -- chosen passes --------------------------------------------------------------------------------


def chosen(**takes: int) -> Schedule:
    """The seat with depths of cut of the operator's own: `p3=20`."""
    return replace(SEAT, chosen={int(name[1:]): thou(taken) for name, taken in takes.items()})


def test_a_chosen_depth_of_cut_is_taken_and_the_rest_shared_anew() -> None:
    assert rows(after(found(43, 2), seat=chosen(p3=20))) == [
        (3, "roughing", 63, 20), (4, "roughing", 83, 20), (5, FINISHING, 93, 10),
    ]  # fmt: skip


def test_a_sliver_that_would_rub_goes_with_the_chosen_cut() -> None:
    assert rows(after(found(43, 2), seat=chosen(p3=38)))[0] == (3, "roughing", 83, 40)
    # three thou is the least useful cut, and no sliver
    assert rows(after(found(43, 2), seat=chosen(p3=37)))[:2] == [
        (3, "roughing", 80, 37), (4, "roughing", 83, 3),
    ]  # fmt: skip


@pytest.mark.parametrize("taken", [41, 0, -1])
def test_a_chosen_cut_past_what_is_left_says_what_is_left(taken: int) -> None:
    with pytest.raises(ImpossibleInput, match=r"0\.04 is left before the finishing cut"):
        after(found(43, 2), seat=chosen(p3=taken))


def test_all_that_is_left_may_be_chosen() -> None:
    assert rows(after(found(43, 2), seat=chosen(p3=40)))[0] == (3, "roughing", 83, 40)


# -- numbers --------------------------------------------------------------------------------------


def test_passes_are_counted_on_from_those_that_were_cut() -> None:
    numbers = [number for number, *_ in rows(after(found(10, 2)))]
    assert numbers == [3, 4, 5]


def test_finishing_cuts_are_counted_from_one() -> None:
    """A second one where the first came out short, a third where that did."""
    told = (found(83, 3), found(90, 4, number=2), found(92, 5, number=3))
    legs = SEAT.legs(told)
    assert [leg.number for leg in legs] == [1, 1, 2, 3]
    assert [one.finishing.number if one.finishing else None for one in legs] == [None, 4, 5, 6]
    assert rows(legs[-1]) == [(6, FINISHING, 93, 1)]


def test_each_leg_holds_what_was_cut_in_it_and_what_ended_it() -> None:
    told = (found(3, 1), found(43, 2, number=2))
    first, second, third = SEAT.legs(told)
    assert rows(first) == [(1, "witness", 3, 3)]
    assert rows(second) == [(2, "roughing", 43, 40)]
    assert [first.ends, second.begins, second.ends, third.begins] == [told[0], *told, told[1]]
