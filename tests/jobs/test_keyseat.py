"""The straight keyseat, against numbers worked by hand from the standards."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.app.cli.sheet import planned, walk
from assistant.app.paths import configs_folder
from assistant.calc.cutting import passes
from assistant.errors import BadFile, BadInput, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Measure, Move
from assistant.jobs.to_size.passes import roughing_passes
from assistant.machine import load_machine, parse_machine
from assistant.textfile import read_file
from assistant.units import inches, magnitude, mm

JOBS = configs_folder() / "jobs"
MACHINES = configs_folder() / "machines"


def inch_plan(**facts):
    path = JOBS / "keyseat-inch.toml"
    named = {name.replace("_", "."): value for name, value in facts.items()}
    return plan_for(read_file(path), str(path), load_machine(MACHINES / "millrace-horizontal.toml"),
                    named)  # fmt: skip


def metric_plan(**facts):
    path = JOBS / "keyseat-metric.toml"
    named = {name.replace("_", "."): value for name, value in facts.items()}
    return plan_for(
        read_file(path), str(path), load_machine(MACHINES / "weir-vertical.toml"), named
    )


def value(plan, name, unit="inch"):
    return magnitude(plan.result(name).value, unit)


def test_inch_demo_worked_by_hand():
    """A 1-1/2 in shaft takes a 3/8 x 3/8 key (ASME B17.1: over 1-3/8 to and including 1-3/4).

    By hand, ASME B17.1 as in Machinery's Handbook, 31st ed., p. 2552:
    Y = (1.5 - sqrt(1.5^2 - 0.375^2)) / 2 = (1.5 - 1.452369) / 2 = 0.023816
    depth from the top = Y + H/2 = 0.023816 + 0.1875 = 0.211316
    S = 1.5 - 0.211316 = 1.288684; M = S + 0.375 = 1.663684, plus nothing, minus 0.015
    side to centre = 0.750 + 0.1875 + 0.003 paper = 0.9405: on 0.200 a turn, 4 turns + 0.1405
    """
    plan = inch_plan()
    assert value(plan, "chordal height") == pytest.approx(Decimal("0.023816"), abs=Decimal("1e-6"))
    assert value(plan, "nominal depth") == pytest.approx(Decimal("0.211316"), abs=Decimal("1e-6"))
    over = plan.result("over the key")
    assert magnitude(over.high, "inch") == pytest.approx(Decimal("1.663684"), abs=Decimal("1e-6"))
    assert magnitude(over.high - over.low, "inch") == Decimal("0.015")
    assert value(plan, "side to centre") == Decimal("0.9405")
    steps = {step.id: figure for step, figure in walk(planned("keyseat-inch"))}
    centre = steps["to-centre"].move
    assert (centre.turns, centre.part, centre.divisions) == (4, Decimal("0.1405"), Decimal("140.5"))
    assert centre.direction == "in"


def test_inch_speed_and_feed_worked_by_hand():
    """70 ft/min, the low end for mild steel and HSS: 12 x 70 / (pi x 3.5) = 76.4 rpm, and 65 is
    the next below of this machine's list."""
    assert value(inch_plan(), "speed", "rpm") == 65


def test_metric_demo_worked_by_hand():
    """A 30 mm shaft takes an 8 x 7 key, t1 = 4.0 + 0.2 from the crown (DIN 6885-1).

    Floor to opposite = 30 - 4.0 = 26.0, at least 25.8. Side to centre = 15 + 4 + 0.08 paper =
    19.08: on 4 mm a turn, 4 turns + 3.08; the dial's numbers fall going out, so it stops at
    4 - 3.08 = 0.92. Table run = 40 - 8 = 32 mm, 8 turns.
    """
    plan = metric_plan()
    size = plan.result("floor to opposite side")
    assert (size.high, size.low) == (mm("26.0"), mm("25.8"))
    steps = {step.id: figure for step, figure in walk(planned("keyseat-metric"))}
    centre = steps["to-centre"].move
    assert (centre.turns, centre.part, centre.direction) == (4, Decimal("3.08"), "out")
    assert centre.reading == mm("0.92")
    assert value(plan, "run", "mm") == 32


def test_what_is_measured_takes_the_place_of_what_is_marked():
    plan = inch_plan(shaft_diameter=inches("1.498"), cutter_width=inches("0.371"))
    # half of 1.498 + half of 0.371 + 0.003
    assert value(plan, "side to centre") == Decimal("0.9375")
    # a key 0.002 low measures 0.002 less over the key
    low_key = inch_plan(key_height=inches("0.373"))
    high, usual = low_key.result("over the key").high, inch_plan().result("over the key").high
    assert usual - high == inches("0.002")


def test_the_table_goes_out_before_the_knee_comes_up():
    """Common practice, no source: raising onto the touched shaft would plunge."""
    ids = [step.id for step in inch_plan().steps]
    assert ids.index("touch-knee") < ids.index("table-out") < ids.index("witness-1-set")


def test_a_closed_seat_is_left_upward_before_the_table_runs_back_past_its_start():
    """The table goes half a turn past the start to take up the backlash, and past the start of a
    closed seat there is metal. Full depth 4.08 mm: two turns of 2 mm would leave the cutter 0.08
    deep, three lift it 1.92 clear. By geometry; common practice, no source."""
    backs = [s for s in metric_plan().steps if s.id.endswith("-back")]
    assert len(backs) == 6
    for step in backs:
        assert step.say == ("Knee down exactly 3 turns before you run back.",)
        assert step.after == ("Then up those 3 turns again.",)


def test_nothing_is_raised_or_lowered_between_the_top_and_the_first_depth():
    """The end face is touched with the cutter beside it, below the top: had the top been touched
    before, the count of the knee's turns would hang on memory. Common practice, no source."""
    ids = [step.id for step in metric_plan().steps]
    assert ids.index("touch-table") < ids.index("to-start") < ids.index("touch-knee")
    assert ids.index("touch-knee") < ids.index("witness-1-set")


def test_passes_add_up_and_none_is_beyond_the_cutter():
    plan = inch_plan()
    cuts = [step for step in plan.steps if isinstance(step, Cut)]
    total = sum((cut.taken for cut in cuts), inches(0))
    assert total == plan.full_depth
    assert all(cut.taken <= inches("0.075") for cut in cuts)
    assert [cut.number for cut in cuts] == list(range(1, len(cuts) + 1))
    assert all(cut.of == len(cuts) for cut in cuts)


def test_a_chosen_pass_re_plans_the_rest():
    plan = inch_plan(pass_2=inches("0.040"))
    depths = [step.depth for step in plan.steps if isinstance(step, Cut)]
    assert depths[1] == inches("0.043")
    assert depths[-1] == plan.full_depth


def test_the_finishing_cut_comes_from_the_measurement():
    """Dial at 2 turns and 11, 1.666 over the key: up six, to seventeen, four inside. The upper
    limit is 1.6637; 1.666 - 1.6637 = 0.0023 over; at least 3 thou inside makes 0.0053, which on
    the deep side of the dial is 6: 1.660 is 0.0037 inside. Common practice, no source."""
    plan = inch_plan(size_1=inches("1.666"), size_1_at=inches("0.211"))
    assert "size.1.at" in {n.replace("_", ".") for n in ("size_1_at",)}
    move = next(step for step in plan.steps if step.id == "finishing-1-set")
    assert move.target == inches("0.217")
    assert magnitude(move.leaves_inside, "inch").quantize(Decimal("0.001")) == Decimal("0.004")


def test_in_before_finishing_needs_no_finishing_cut():
    plan = inch_plan(size_1=inches("1.660"), size_1_at=inches("0.204"))
    assert not any(step.id.startswith("finishing") for step in plan.steps)


def test_on_the_limit_as_it_is_told_is_in():
    """1.664 against 1.66368, told as 1.664: what is said to be on the limit is not cut again."""
    plan = inch_plan(size_1=inches("1.6640"), size_1_at=inches("0.211"))
    assert not any(step.id.startswith("finishing") for step in plan.steps)


def test_the_shaft_clears_the_cutter_before_it_goes_across():
    """Half of 7/8 and a quarter inch are 0.6875: seven turns of 0.100, not six."""
    path = JOBS / "keyseat-two-in-line.toml"
    machine = load_machine(MACHINES / "sluice-vertical.toml")
    plan = plan_for(read_file(path), str(path), machine, {})
    assert any("7 turns" in text for text in plan.step("to-centre").say)


def test_too_deep_says_what_it_means():
    plan = inch_plan(size_1=inches("1.640"), size_1_at=inches("0.231"))
    assert any(step.id == "too-far" for step in plan.steps)


def test_still_over_is_cut_again():
    plan = inch_plan(
        size_1=inches("1.670"), size_1_at=inches("0.204"),
        size_2=inches("1.665"), size_2_at=inches("0.215"),
    )  # fmt: skip
    assert any(step.id == "finishing-2-set" for step in plan.steps)


def test_a_finishing_cut_never_rubs_where_the_band_allows():
    plan = inch_plan(size_1=inches("1.6645"), size_1_at=inches("0.211"))
    move = next(step for step in plan.steps if step.id == "finishing-1-set")
    assert move.target - inches("0.211") >= inches("0.004")


def test_off_centre_is_offered_half_the_difference():
    """Front land 0.5665, back land 0.5585: the seat lies 0.004 too far back."""
    plan = inch_plan(walls_left=inches("0.5665"), walls_right=inches("0.5585"))
    step = next(step for step in plan.steps if step.id == "correct-centre")
    assert isinstance(step, Move)
    assert step.target == inches("0.9445")
    assert step.optional


def test_walls_are_measured_where_there_are_walls():
    """Above the chordal height the mark is narrower than the cutter."""
    steps = inch_plan().steps
    place = next(i for i, step in enumerate(steps) if isinstance(step, Measure)
                 and step.kind == "walls")  # fmt: skip
    cut = [step for step in steps[:place] if isinstance(step, Cut)][-1]
    assert cut.depth > inches("0.0239")


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('width = "3/8 in"', 'width = "1/2 in"', "cutter.width"),
        ('diameter = "1-1/2 in"', 'diameter = "-1 in"', "diameter"),
        ('diameter = "1-1/2 in"', 'diameter = "wide"', "diameter"),
        ('diameter = "1-1/2 in"', "diameter = nan", "diameter"),
        ('end = "open"', 'end = "closed"', "from_end"),
        ("teeth = 18", "teeth = 0", "teeth"),
        ("teeth = 18", "teeth = 18\nflutes = 2", "flutes"),
        ('operation = "keyseat"', 'operation = "keyset"', "operation"),
        ('machine = "millrace-horizontal"', 'machine = "../secret"', "machine"),
        ('unit = "inch"', 'unit = "furlong"', "unit"),
        ("[key] ", '[key]\nwidth = "2 in"\nheight = "1/4 in"\n', "width"),
        ("title =", "title", "line 2"),
    ],
)
def test_a_wrong_job_file_names_file_key_and_value(old, new, field):
    text = read_file(JOBS / "keyseat-inch.toml")
    assert old in text
    with pytest.raises(BadFile) as caught:
        read_job(text.replace(old, new, 1), "a.toml")
    assert "a.toml" in str(caught.value)
    assert field.split(".")[-1] in str(caught.value)


def test_a_cutter_that_cannot_reach_is_refused():
    text = read_file(JOBS / "keyseat-inch.toml").replace('collar = "1-1/2 in"', 'collar = "3.2 in"')
    machine = load_machine(MACHINES / "millrace-horizontal.toml")
    with pytest.raises(ImpossibleInput, match="reach"):
        plan_for(text, "a.toml", machine, {})


def test_the_wrong_machine_is_refused():
    path = JOBS / "keyseat-inch.toml"
    machine = load_machine(MACHINES / "weir-vertical.toml")
    with pytest.raises(BadInput, match="horizontal mill"):
        plan_for(read_file(path), str(path), machine, {})


DEPTHS = st.decimals(Decimal("0.02"), Decimal("0.9"), places=4)


@given(
    rough=DEPTHS,
    limit=st.decimals(Decimal("0.01"), Decimal("0.2"), places=3),
    chosen=st.dictionaries(
        st.integers(2, 4), st.decimals(Decimal("0.005"), Decimal("0.03"), places=3), max_size=2
    ),
)
def test_passes_add_up_whatever_was_chosen(rough, limit, chosen):
    try:
        passes = roughing_passes(
            rough, witness=Decimal("0.003"), limit=limit, least=Decimal("0.004"), chosen=chosen,
            step=Decimal("0.001"),
        )  # fmt: skip
    except ImpossibleInput:
        return
    assert passes[-1].depth == rough
    assert sum(one.taken for one in passes) == rough
    assert all(one.taken <= limit for one in passes if one.number not in chosen)


@given(
    turn=st.sampled_from(["0.200", "0.100", "0.125", "0.250", "0.050"]),
    rises=st.sampled_from(["in", "out"]),
    side=st.sampled_from(["back", "front"]),
)
def test_move_and_dial_agree_on_any_handwheel(turn, rises, side):
    """Counting turns and divisions off from the zero ends at the reading that is told."""
    machine_text = read_file(MACHINES / "millrace-horizontal.toml")
    head, saddle = machine_text.split("[axes.saddle]")
    saddle = saddle.replace('per_turn = "0.200 in"', f'per_turn = "{turn} in"', 1)
    saddle = saddle.replace('rises = "in"', f'rises = "{rises}"', 1)
    machine = parse_machine(head + "[axes.saddle]" + saddle, f"{turn}-{rises}.toml")
    path = JOBS / "keyseat-inch.toml"
    text = read_file(path).replace('"back"', f'"{side}"')
    plan = plan_for(text, f"{side}.toml", machine, {})
    step = plan.step("to-centre")
    per_turn, target = Decimal(turn), magnitude(step.target, "inch")
    way = 1 if machine.axes["saddle"].rises > 0 else -1
    from assistant.session.instruct import dial_move
    from assistant.session.state import AxisState

    move = dial_move(
        machine.axes["saddle"], AxisState(inches(0), came=step.approach), step.target, step.approach
    )
    counted = move.turns * per_turn + move.part
    assert counted == abs(target)
    assert magnitude(move.reading, "inch") == (way * target) % per_turn or (
        magnitude(move.reading, "inch") == (way * target) % per_turn + per_turn
    )
    assert move.direction == ("in" if target > 0 else "out")


def test_every_demo_machine_reads():
    machines = sorted(MACHINES.glob("*.toml"))
    assert len(machines) >= 3
    turns = {str(axis.per_turn) for path in machines for axis in load_machine(path).axes.values()}
    assert len(turns) >= 5


def test_job_text_is_kept_not_the_file(tmp_path: Path):
    """A later edit of a file can't change a job under way: the plan is in the journal."""
    text = read_file(JOBS / "keyseat-inch.toml")
    head, _ = read_job(text, "kept.toml")
    assert head.title.startswith("Pond pump")


@settings(max_examples=80, deadline=None)
@given(
    depth=st.decimals("0.02", "1.5", places=3),
    limit=st.decimals("0.01", "0.15", places=3),
)
def test_jobs_divide_a_depth_as_the_catalogue_does(depth, limit):
    """The passes of a job and `wheelcall calc passes`, which knows no operator's own cuts: as many,
    none over the limit, and both end on the depth exactly."""
    ours = roughing_passes(
        depth, witness=Decimal(0), limit=limit, least=Decimal("0.004"), chosen={},
        step=Decimal("0.001"),
    )  # fmt: skip
    theirs = passes(inches(depth), inches(limit), step=inches("0.001"))
    assert len(ours) == len(theirs)
    assert ours[-1].depth == magnitude(theirs[-1].depth, "inch") == depth
    assert max(one.taken for one in ours) <= limit
    # they share the rounding out differently: by less than a division for each pass
    apart = (abs(a.depth - magnitude(b.depth, "inch")) for a, b in zip(ours, theirs, strict=True))
    assert max(apart) <= Decimal("0.001") * len(ours)


def test_a_chosen_cut_moves_only_the_passes_after_it():
    """Worked by hand: 0.253 in cuts of 0.085 at most is 0.085, 0.084, 0.084. With 0.050 for the
    second 0.118 is left, two cuts of 0.059; the first stands as it was cut."""

    def depths(**chosen: str) -> list[Decimal]:
        found = roughing_passes(
            Decimal("0.253"), witness=Decimal(0), limit=Decimal("0.085"), least=Decimal("0.004"),
            chosen={int(number[1:]): Decimal(cut) for number, cut in chosen.items()},
            step=Decimal("0.001"),
        )  # fmt: skip
        return [one.depth for one in found]

    assert depths() == [Decimal(d) for d in ("0.085", "0.169", "0.253")]
    assert depths(_2="0.050") == [Decimal(d) for d in ("0.085", "0.135", "0.194", "0.253")]
