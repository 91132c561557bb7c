"""The guard: each of its rules on a state spoiled on purpose, and silence where nothing is wrong.

The states are those of the keyseat demo on its plain way, after the third pass: the knee stands at
91 thou and the fourth pass goes to 148; the saddle is 0.9375 in from its touch; both dials have
divisions of a thou. What is spoiled is the least that the rule is about.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from assistant.app.turn import guarded, understand
from assistant.guard import Rule, check
from assistant.jobs.steps import Cut, Ground, Move, Touch
from assistant.present.glance_of import glance
from assistant.session import events as ev
from assistant.session import work as session_work
from assistant.session.allowed import allowed
from assistant.session.commanded import commanded
from assistant.session.decide import decide
from assistant.session.next import Ahead
from assistant.session.state import Phase, State
from assistant.spoken import Heard
from assistant.units import Quantity, inches
from tests.factories import BOOK, NOW, answer
from tests.session.walks import DEMOS, said, walked

Spoil = Callable[[State], State]


def at(step_id: str, phase: Phase = Phase.ACT) -> State:
    """The keyseat at a step, on its plain way."""
    return next(s for s in walked("keyseat-inch") if (s.step_id, s.phase) == (step_id, phase))


SETTING, CUTTING, BEFORE = "roughing-4-set", "roughing-4-cut", "roughing-3-back"


# -- what is spoiled ------------------------------------------------------------------------------


def step(step_id: str, **wrong: object) -> Spoil:
    """One step of the plan with something else in it."""

    def spoil(state: State) -> State:
        steps = tuple(replace(s, **wrong) if s.id == step_id else s for s in state.plan.steps)
        return replace(state, plan=replace(state.plan, steps=steps))

    return spoil


def axis(name: str, **wrong: object) -> Spoil:
    """An axis believed to stand otherwise."""

    def spoil(state: State) -> State:
        axes = {**state.axes, name: replace(state.axes[name], **wrong)}
        return replace(state, belief=replace(state.belief, axes=axes))

    return spoil


def wheel(name: str, **wrong: object) -> Spoil:
    """A handwheel of another make."""

    def spoil(state: State) -> State:
        axes = {**state.machine.axes, name: replace(state.machine.axis(name), **wrong)}
        return replace(state, machine=replace(state.machine, axes=axes))

    return spoil


def shaken(ground: Ground, name: str = "") -> Spoil:
    """A ground shaken, and the place in the job left as it was."""

    def spoil(state: State) -> State:
        return replace(state, belief=state.belief.shake(ground, name, state.seq))

    return spoil


def move(**wrong: object) -> Spoil:
    """Another handwheel move than the one that was worked out."""

    def spoil(state: State) -> State:
        figure = state.figure
        assert figure is not None
        assert figure.move is not None
        return replace(state, figure=replace(figure, move=replace(figure.move, **wrong)))

    return spoil


def broken(state: State) -> tuple[Rule, str] | None:
    """What the guard says of a state: the rule and the axis."""
    fault = check(state)
    return None if fault is None else (fault.rule, fault.axis)


# -- each rule, and the widest that it lets through -----------------------------------------------


def test_what_the_states_hold() -> None:
    """Else all that is worked out below is of something else."""
    setting = at(SETTING)
    assert isinstance(setting.step, Move)
    assert (setting.step.target, setting.step.limit) == (inches("0.148"), inches("0.226"))
    assert setting.axes["knee"].position == inches("0.091")
    assert setting.axes["saddle"].position == inches("0.9375")
    assert {setting.machine.axis(one).graduation for one in ("knee", "saddle")} == {inches("0.001")}
    assert isinstance(at(CUTTING).step, Cut)
    assert broken(setting) is None
    assert broken(at(CUTTING)) is None


@pytest.mark.parametrize(
    ("limit", "expected"),
    [("0.147", (Rule.DEPTH, "knee")), ("0.1474", (Rule.DEPTH, "knee")), ("0.1475", None)],
)
def test_no_setting_past_the_last_limit_by_more_than_half_a_division(limit, expected) -> None:
    assert broken(step(SETTING, limit=inches(limit))(at(SETTING))) == expected
    # the cut after it goes as deep
    assert broken(step(SETTING, limit=inches(limit))(at(CUTTING))) == expected


@pytest.mark.parametrize(
    ("stands", "expected"), [("0.227", (Rule.DEPTH, "knee")), ("0.2265", None), ("0.148", None)]
)
def test_no_cut_with_the_knee_past_the_last_limit(stands: str, expected) -> None:
    assert broken(axis("knee", position=inches(stands))(at(CUTTING))) == expected


def test_deeper_may_be_the_other_way() -> None:
    """The same axis set the negative way: -148 is past a limit of -147, and within one of -226."""
    other = axis("knee", position=inches("-0.091"))(at(SETTING))
    other = replace(other, figure=None, belief=replace(other.belief, cut_at={}))
    for limit, expected in (("-0.147", (Rule.DEPTH, "knee")), ("-0.226", None)):
        wrong = step(SETTING, target=inches("-0.148"), deeper=-1, limit=inches(limit))
        assert broken(wrong(other)) == expected


@pytest.mark.parametrize(
    ("most", "expected"),
    [("0.055", (Rule.PASS, "knee")), ("0.0554", (Rule.PASS, "knee")), ("0.0555", None)],
)
def test_no_pass_takes_more_than_the_most_and_a_division_and_a_half(most, expected) -> None:
    """From 91 to 148 it takes 57."""
    assert broken(step(SETTING, pass_limit=inches(most))(at(SETTING))) == expected


def test_a_pass_is_counted_from_what_was_cut_and_not_from_where_the_axis_is() -> None:
    """The knee dropped a turn and its dial read: the pass is the same 57 thou."""
    low = axis("knee", position=inches("-0.109"))(at(SETTING))
    low = replace(low, figure=None)
    assert broken(low) is None
    assert broken(step(SETTING, pass_limit=inches("0.055"))(low)) == (Rule.PASS, "knee")


@pytest.mark.parametrize("ground", [Ground.WORK, Ground.TOOL, Ground.DIAL])
def test_no_move_of_an_axis_that_has_lost_its_zero(ground: Ground) -> None:
    name = "knee" if ground is Ground.DIAL else ""
    state = shaken(ground, name)(at("witness-1-set"))
    assert not state.doubts, "nothing is asked, so a number would be given"
    assert broken(state) == (Rule.AXIS, "knee")
    assert broken(shaken(Ground.DIAL, "table")(at("witness-1-set"))) is None


def test_no_cut_on_an_axis_that_has_lost_its_zero() -> None:
    """In the first cut nothing is cut yet that would tell either place."""
    for name in ("knee", "saddle"):
        assert broken(shaken(Ground.DIAL, name)(at("witness-1-cut"))) == (Rule.AXIS, name)


@pytest.mark.parametrize(("travel", "expected"), [("0.056", Rule.REACH), ("0.057", None)])
def test_no_move_further_than_the_axis_reaches(travel: str, expected: Rule | None) -> None:
    fault = broken(wheel("knee", travel=inches(travel))(at(SETTING)))
    assert fault == (None if expected is None else (expected, "knee"))


@pytest.mark.parametrize(
    ("stands", "expected"),
    [
        ("0.9395", (Rule.STANDS, "saddle")),
        ("0.9364", (Rule.STANDS, "saddle")),
        ("0.9385", None),  # a division beside it is the hand's
        ("0.9365", None),
    ],
)
def test_no_cut_with_another_axis_elsewhere(stands: str, expected) -> None:
    assert broken(axis("saddle", position=inches(stands))(at(CUTTING))) == expected


def test_no_cut_with_the_slack_on_the_other_side() -> None:
    other = axis("saddle", came=-1)
    assert broken(other(at(CUTTING))) == (Rule.SLACK, "saddle")
    assert broken(axis("saddle", came=0)(at(CUTTING))) is None  # nobody told from which side
    without = wheel("saddle", backlash=inches(0))
    assert broken(without(other(at(CUTTING)))) is None


@pytest.mark.parametrize(
    "wrong",
    [
        {"turns": 1},
        {"part": Decimal("0.058")},
        {"part": Decimal("0.0564")},
        {"direction": "down"},
        {"reading": inches("0.049")},
    ],
)
def test_no_number_that_does_not_come_to_the_target(wrong: dict[str, Any]) -> None:
    """From 91 up by 57 to 148, on a dial of a hundred: 48. One thing of it wrong is enough."""
    state = at(SETTING)
    assert state.figure is not None
    assert state.figure.move is not None
    given = state.figure.move
    per_turn = state.machine.axis("knee").per_turn
    turned = per_turn * given.turns + inches(given.part)
    assert turned == inches("0.057")
    assert broken(move(**wrong)(state)) == (Rule.NUMBER, "knee")


def test_half_a_division_is_the_rounding_of_the_dial() -> None:
    part = at(SETTING).figure.move.part  # type: ignore[union-attr]
    assert broken(move(part=part + Decimal("0.0005"))(at(SETTING))) is None


@pytest.mark.parametrize(
    "quiet",
    [
        lambda state: replace(state, stopped=True),
        lambda state: replace(state, finished=True),
        lambda state: replace(state, phase=Phase.VERIFY),
        shaken(Ground.PLACE, "knee"),  # its dial is asked for: no number is given
    ],
)
def test_where_nothing_is_commanded_there_is_nothing_to_hold_back(quiet: Spoil) -> None:
    wrong = step(SETTING, limit=inches("0.100"))(at(SETTING))
    assert broken(wrong) == (Rule.DEPTH, "knee")
    assert broken(quiet(wrong)) is None


# -- what comes of it -----------------------------------------------------------------------------


WITHHELD: dict[Rule, tuple[str, str, Spoil]] = {
    Rule.DEPTH: (BEFORE, "clear", step(SETTING, limit=inches("0.100"))),
    Rule.PASS: (BEFORE, "clear", step(SETTING, pass_limit=inches("0.020"))),
    Rule.REACH: (BEFORE, "clear", wheel("knee", travel=inches("0.020"))),
    Rule.STANDS: (SETTING, "I'm set", axis("saddle", position=inches("0.950"))),
    Rule.SLACK: (SETTING, "I'm set", axis("saddle", came=-1)),
}
"""Rule -> where the operator is, what is said there, and what is wrong by then."""


def held_back(state: State, words: str, rule: Rule) -> State:
    """The answer to the words is withheld by that rule: kept, said, no number; the state then."""
    outcome = said(state, words, "typed")
    kept = [one.event for one in outcome.records if isinstance(one.event, ev.Withheld)]
    assert kept == [ev.Withheld(rule.value)]
    assert [one.seq for one in outcome.records] == list(
        range(state.seq + 1, state.seq + 1 + len(outcome.records))
    )
    assert f"I hold that back: {rule.value}." in answer(outcome)
    assert "Knee up" not in answer(outcome)
    assert "Feed in" not in answer(outcome)
    assert any(one.name == "held back" and one.value == rule.value for one in outcome.state.told)
    after = outcome.state
    assert commanded(after) is None
    assert glance(after).move is None
    assert after.doubts or isinstance(after.step, Touch), "nothing is asked for"
    return after


@pytest.mark.parametrize("rule", WITHHELD)
def test_the_answer_is_withheld_and_what_would_show_it_harmless_is_asked(rule: Rule) -> None:
    step_id, words, spoil = WITHHELD[rule]
    held_back(spoil(at(step_id)), words, rule)


def test_a_number_that_is_wrong_is_withheld_and_the_dial_asked_for(monkeypatch) -> None:
    right = session_work.figure_for

    def one_turn_more(state: State):
        figure = right(state)
        if state.step_id != SETTING or figure is None or figure.move is None:
            return figure
        return replace(figure, move=replace(figure.move, turns=figure.move.turns + 1))

    monkeypatch.setattr(session_work, "figure_for", one_turn_more)
    after = held_back(at(BEFORE), "clear", Rule.NUMBER)
    assert [doubt.axis for doubt in after.doubts] == ["knee"]


def test_a_place_that_nobody_knows_is_withheld_and_touched_for(monkeypatch) -> None:
    """On its way `next` touches again by itself; here it has forgotten to."""
    lost = shaken(Ground.DIAL, "knee")(at("table-out"))
    assert said(lost, "clear", "typed").state.step_id == "touch-knee"
    clear = understand(BOOK, allowed(lost), Heard("clear", 1.0, engine="typed"))
    with monkeypatch.context() as forgets:
        forgets.setattr(Ahead, "_due", lambda _self: iter(()))
        wrong = decide(lost, clear, NOW)
    assert wrong.state.step_id == "witness-1-set"
    right = guarded(wrong, NOW)
    assert ev.Withheld(Rule.AXIS.value) in [one.event for one in right.records]
    assert right.state.step_id == "touch-knee"
    assert commanded(right.state) is None


def test_every_rule_is_tried() -> None:
    assert set(WITHHELD) | {Rule.NUMBER, Rule.AXIS} == set(Rule)


def test_what_was_asked_for_leads_on() -> None:
    """Measured as it was cut, 1.875 less 91 thou, and the fourth pass is given by a plan that is
    whole again; an axis read to stand where it has to is as good."""
    step_id, words, spoil = WITHHELD[Rule.PASS]
    measured = said(held_back(spoil(at(step_id)), words, Rule.PASS), "measured 1.784 in", "typed")
    for _ in range(3):
        if not measured.state.doubts:
            break
        measured = said(measured.state, "knee dial reads no turns and ninety one", "typed")
    assert not measured.state.doubts
    assert isinstance(measured.state.step, Move)
    assert measured.state.step.target == inches("0.148")
    assert glance(measured.state).move is not None


# -- and where nothing is wrong -------------------------------------------------------------------


@pytest.mark.parametrize("demo", DEMOS)
def test_on_the_plain_way_it_is_silent(demo: str) -> None:
    states = walked(demo)
    looked = [state for state in states if commanded(state) is not None]
    moved = any(isinstance(state.step, Move) and state.step.target is not None for state in states)
    cut = any(isinstance(state.step, Cut) for state in states)
    assert looked or not (moved or cut), "nothing was looked at"
    assert [(state.step_id, check(state)) for state in looked if check(state)] == []
    assert [told for told in states[-1].told if told.name == "held back"] == []


def test_it_looks_at_every_part_of_what_is_commanded() -> None:
    """In the keyseat: limits, most, what was cut and where the saddle stands are all there."""
    given = commanded(at(SETTING))
    assert given is not None
    wanted: tuple[Quantity | None, ...] = (given.limit, given.most, given.floor, given.target)
    assert None not in wanted
    cutting = commanded(at(CUTTING))
    assert cutting is not None
    assert {stand.axis for stand in cutting.stands} >= {"saddle", "knee"}
