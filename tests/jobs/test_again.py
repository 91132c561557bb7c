"""The next part in the same setting: what isn't asked again, what is, and the numbers that hold.

Common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.app.paths import configs_folder
from assistant.jobs.common.next_part import PERSON_AND_MACHINE, SETTING, last_size
from assistant.jobs.operations import OPERATIONS
from assistant.jobs.steps import Check, Measure, Move, Note, Touch
from assistant.session.begin import KEPT_FACTS
from assistant.units import inches, magnitude, mm
from tests.factories import Job
from tests.jobs.walking import changed, plan_of, walk_to_end

DEMOS = sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml"))
NEXT = {"previous.cutter.width": inches("0.375")}
"""Enough to be a next part."""


def ids(plan) -> list[str]:
    return [step.id for step in plan.steps]


@pytest.mark.parametrize("name", DEMOS)
def test_person_machine_and_cutter_are_asked_once_and_the_work_every_time(name):
    first, again = plan_of(name), plan_of(name, **NEXT)
    gone = set(ids(first)) - set(ids(again))
    if name.startswith("keyseat"):
        return  # its own rules, tested in tests/session/test_job_at_work.py
    setting = SETTING.union(OPERATIONS[first.operation].stays)
    assert gone <= PERSON_AND_MACHINE | setting
    assert gone >= PERSON_AND_MACHINE & set(ids(first))
    assert "measure-cutter" not in ids(again) or name == "tslot-metric"
    # how the work is held, its stock, every touch and every cut are as before
    work = [
        s.id for s in first.steps if s.id.startswith(("check-work", "measure-stock", "check-un"))
    ]
    assert set(work) <= set(ids(again))
    cuts = [s.id for s in first.steps if s.id.endswith(("-cut", "-set")) or isinstance(s, Touch)]
    assert set(cuts) - setting <= set(ids(again))


@pytest.mark.parametrize(
    "name",
    ["drill-press", "tap-blind", "tslot-metric", "knurl-knob", "holes-circle", "holes-grid"],
)
def test_where_tools_are_changed_each_is_set_again(name):
    """The last part ended with the reamer, the tap, the knurl in: speeds and holders are asked.
    Of the strainer plate's single drill nothing was said: it ran on at the edge finder's speed."""

    def speeds(plan):
        return [s.id for s in plan.steps if isinstance(s, Note) and "speed" in s.id]

    assert speeds(plan_of(name, **NEXT)) == speeds(plan_of(name))


def again(name: str) -> Job:
    """A job walked to its end, and begun once more."""
    job = Job(name)
    walk_to_end(job)
    said = job.say("same again")
    assert said.startswith("Next part, same setting.")
    return job


@pytest.mark.parametrize(
    "name",
    [
        "slot-inch",
        "turn-shaft",
        "bore-bush",
        "woodruff-inch",
        "slitting-inch",
        "drill-press",
        "thread-external",
    ],
)
def test_a_second_part_is_walked_to_its_end(name):
    job = again(name)
    assert isinstance(job.state.step, Check)
    assert job.state.step.id == "check-work"
    walk_to_end(job)
    assert job.state.finished


def test_the_side_at_the_fixed_jaw_stays_with_the_paper_it_was_touched_with():
    """Paper of 0.005 and not of 0.003: the first row is at 0.947 + 0.1875 + 0.005 = 1.1395."""
    plan = plan_of("slot-inch", **{"previous.saddle": inches("1.2"),
                                   "previous.paper.saddle": inches("0.005")})  # fmt: skip
    assert "touch-side" not in ids(plan)
    assert "touch-knee" in ids(plan)
    row = plan.step("to-first")
    assert magnitude(row.target, "inch") == Decimal("1.1395")
    assert row.say[0] != "Don't back it off."


def test_at_the_jaw_that_moves_the_side_is_touched_again():
    """Touched in front, with the fixed jaw at the back: another part may be wider."""
    assert "touch-side" in ids(plan_of("tslot-metric", **{"previous.saddle": mm(60)}))


def test_the_dial_of_the_last_bar_holds_for_the_next():
    """The last bar measured 1.2493 with the dial at 0.2510: at zero 1.5003. So full depth for
    1.2495 is 0.2508, without touching the new bar."""
    plan = plan_of("turn-shaft", **{
        "previous.cross slide": inches("0.251"), "previous.size.2": inches("1.2493"),
        "previous.size.2.at": inches("0.2510"), "previous.size.1": inches("1.2700"),
        "previous.size.1.at": inches("0.2300"),
    })  # fmt: skip
    assert magnitude(plan.full_depth, "inch") == Decimal("0.2508")
    assert "touch-work" not in ids(plan)
    assert isinstance(plan.step("measure-clean-up"), Measure)


def test_in_v_blocks_a_woodruff_seat_keeps_its_centre_and_in_a_vice_it_is_touched():
    kept = plan_of("woodruff-inch", **{"previous.saddle": inches("0.5345")})
    assert "touch-side" not in ids(kept)
    assert "to-centre" not in ids(kept)
    assert "touch-table" in ids(kept)
    assert "touch-side" in ids(plan_of("woodruff-metric", **{"previous.saddle": mm(3)}))


def test_the_dividing_head_keeps_the_middle_of_a_gear():
    assert "to-centre" not in ids(plan_of("gear-inch", **{"previous.saddle": inches("0.9155")}))


def test_a_keyseat_corrected_on_the_last_part_is_corrected_from_there():
    """The saddle stood 0.002 beyond the worked-out centre, since the first seat was off by that.
    The next shaft's lands say 0.001 more the same way: on from where it stood, not from the plan.
    """
    facts = {
        "previous.shaft": inches("1.5"), "previous.saddle": inches("0.9425"),
        "walls.left": inches("0.5635"), "walls.right": inches("0.5615"),
    }  # fmt: skip
    step = plan_of("keyseat-inch", **facts).step("correct-centre")
    assert isinstance(step, Move)
    assert magnitude(step.target, "inch") == Decimal("0.9435")


def test_the_last_of_several_sizes_is_the_one_that_counts():
    facts = {f"previous.size.{n}": inches(n) for n in (2, 10, 9)}
    facts |= {f"{name}.at": inches(0) for name in list(facts)}
    assert last_size(facts, "size")[0] == inches(10)
    assert last_size(facts, "tee.size") is None


def over_wires(**facts) -> tuple[Decimal, Decimal]:
    """The middle of the limits over the wires, and what the dial is to stand at for it."""
    plan = plan_of("thread-external", facts.pop("text", None), **facts)
    size = plan.result("over the wires")
    return magnitude((size.low + size.high) / 2, "inch"), magnitude(plan.full_depth, "inch")


def test_the_dials_of_the_last_thread_hold_for_the_next():
    """The last thread measured 0.0020 over the middle of its limits with the compound at 0.0790.
    29-1/2 degrees from square the compound goes 1 / cos = 1.14895 for one square to the axis, and
    the wires fall by twice that: 0.0010 more square is 0.00115 more on the compound, 0.08015.
    Neither slide is touched again; the blank is measured, since it is another."""
    middle, _ = over_wires()
    facts = {"previous.cross slide": inches(0), "previous.compound": inches("0.079"),
             "previous.size.2": inches(middle + Decimal("0.0020")),
             "previous.size.2.at": inches("0.0790")}  # fmt: skip
    assert over_wires(**facts)[1] == pytest.approx(Decimal("0.08015"), abs=Decimal("0.00001"))
    plan = plan_of("thread-external", **facts)
    assert not [step for step in plan.steps if isinstance(step, Touch)]
    assert {"measure-blank", "compound-to-zero", "check-level", "prove-pitch"} <= set(ids(plan))
    # a bore's thread, stopped by a gauge, is touched: nothing measured says where the dial stood
    gauged = {"previous.cross slide": mm(0), "previous.size.1": mm(20), "previous.size.1.at": mm(1)}
    assert "touch-work" in ids(plan_of("thread-internal", **gauged))


def test_fed_straight_in_the_turn_backed_off_counts():
    """The slide stood a whole turn of 0.200 out when the wires were measured: at -0.1100 it had
    cut to 0.0900 on this dial, which counts the diameter. 0.0020 over the middle is 0.0020 more."""
    set_over = "set_over = 29.5                # degrees from square to the axis"
    straight = ('method = "compound"', 'method = "straight"'), (set_over, "")
    text = changed("thread-external", *straight)
    middle, _ = over_wires(text=text)
    facts = {"previous.cross slide": inches("-0.110"), "text": text,
             "previous.size.1": inches(middle + Decimal("0.0020")),
             "previous.size.1.at": inches("-0.110")}  # fmt: skip
    assert over_wires(**facts)[1] == Decimal("0.092")


@pytest.mark.parametrize("name", DEMOS)
def test_no_measure_is_left_out_whose_value_is_not_kept(name):
    gone = set(ids(plan_of(name))) - set(ids(plan_of(name, **NEXT)))
    measured = [s for s in plan_of(name).steps if isinstance(s, Measure) and s.id in gone]
    assert {step.fact for step in measured} <= set(KEPT_FACTS)


@pytest.mark.parametrize(
    ("name", "fact", "told"),
    [("thread-external", "wire.size", "0.0580"), ("part-ring", "blade.width", "2.95"),
     ("keyseat-inch", "cutter.width", "0.3760")],
)  # fmt: skip
def test_what_is_not_measured_again_is_kept_as_it_was_measured(name, fact, told):
    """The nominal size would come back else, and every size after it would be off."""
    job = Job(name)
    job.to_step(next(s.id for s in job.state.plan.steps if getattr(s, "fact", "") == fact))
    job.say(f"measured {told}")
    walk_to_end(job)
    job.say("same again")
    assert str(job.state.facts[fact].magnitude) == told
    assert fact not in [getattr(step, "fact", "") for step in job.state.plan.steps]


def test_an_edge_at_the_fixed_jaw_or_at_a_stop_is_not_found_again():
    """The zeros are over the edges, whatever is in the spindle: the first hole, 0.550 and 0.500
    from them, is gone to from where the last one left table and saddle."""
    facts = {"previous.table": inches("-5.95"), "previous.saddle": inches("-3.5")}
    vice = ('holding = "clamps"', 'holding = "vice"\nfixed_jaw = "front"')
    stop = ('tip = "0.200 in"', 'tip = "0.200 in"\nstop = true')

    def found(*swaps: tuple[str, str], **told) -> set[str]:
        plan = plan_of("holes-grid", changed("holes-grid", *swaps), **told)
        return {s.id for s in plan.steps if s.id.startswith("edge-") or s.id == "check-seated"}

    assert found(**facts) == {"edge-table", "edge-saddle"}
    assert found(vice, stop) == {"edge-table", "edge-saddle"}
    assert found(vice, **facts) == {"edge-table", "check-seated"}
    assert found(stop, **facts) == {"edge-saddle", "check-seated"}
    assert found(vice, stop, **facts) == {"check-seated"}
    back = ('holding = "clamps"', 'holding = "vice"')
    assert found(back, stop, **facts) == {"edge-saddle", "check-seated"}
    plan = plan_of("holes-grid", changed("holes-grid", vice, stop), **facts)
    assert plan.step("check-seated").say == (
        "Hard against the fixed jaw and the stop, no chips between?",
    )
    first = plan.step("hole-1-saddle")
    assert (first.target, first.say[0]) == (inches("-0.5"), "Quill up clear.")


def test_the_next_end_face_is_touched_with_the_slide_counted():
    """The next shaft's face was to be touched with the tool still clear of the outside: brought in
    by hand for that, the cross slide, that is not zeroed again, is lost by a turn or more; and the
    next move was in, with the tool still at the face. The last dial, 1.2493 at 0.2510, puts 1.2495
    at 0.2508: to 251 in front of the end, and back from the face before anything else is set."""
    plan = plan_of("turn-shaft", **{
        "previous.cross slide": inches("-0.100"), "previous.size.2": inches("1.2493"),
        "previous.size.2.at": inches("0.2510"),
    })  # fmt: skip
    begun = [step for step in ids(plan) if step.endswith(("-end", "-front", "compound", "-back"))]
    assert begun[:4] == ["clear-of-end", "in-front", "touch-compound", "start-back"]
    step = plan.step("in-front")
    assert isinstance(step, Move)
    assert magnitude(step.target, "inch") == Decimal("0.251")
    assert "in-front" not in ids(plan_of("turn-shaft"))
