"""Dialling in by halves, and the tailstock by two collars."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.app.paths import configs_folder
from assistant.errors import BadFile
from assistant.jobs.plan import Plan
from assistant.jobs.planning import plan_for, read_job
from assistant.machine import load_machine
from assistant.textfile import read_file
from assistant.units import inches, magnitude, mm
from tests.factories import Job

JOBS = configs_folder() / "jobs"
MACHINES = configs_folder() / "machines"


def planned(name: str, change: tuple[str, str] = ("", ""), **facts) -> Plan:
    text = read_file(JOBS / f"{name}.toml")
    assert change[0] in text
    text = text.replace(*change, 1) if change[0] else text
    head, _ = read_job(text, f"{name}.toml")
    named = {fact.replace("__", "."): value for fact, value in facts.items()}
    return plan_for(text, f"{name}.toml", load_machine(MACHINES / f"{head.machine}.toml"), named)


def test_half_of_the_reading():
    """Twelve between jaw and jaw: six to move. Geometry."""
    note = planned("dial-in-bore", **{"swing__1": inches("0.012")}).step("move-1")
    assert note.figure.value == inches("0.006")


def test_the_other_way_in_a_bore():
    """Outside, the high spot stands away from the axis; in a bore the wall there is nearest it."""
    bore = planned("dial-in-bore", **{"swing__1": inches("0.012")}).step("move-1")
    outside = planned(
        "dial-in-bore", ('on = "bore"', 'on = "outside"'), **{"swing__1": inches("0.012")}
    ).step("move-1")
    assert "Slack this jaw" in bore.say[1]
    assert "tighten this one" in outside.say[1]


def test_pair_by_pair_then_a_whole_turn():
    ids = [
        step.title
        for step in planned(
            "dial-in-bore",
            **{"swing__1": inches("0.012"), "swing__2": inches("0.007"),
               "swing__3": inches("0.0005"), "swing__4": inches("0.0010")},
        ).steps
    ]  # fmt: skip
    assert [t for t in ids if t.startswith("Jaws")] == [
        "Jaws one and three", "Jaws two and four", "Jaws one and three", "Jaws two and four",
    ]  # fmt: skip
    assert ids.count("Halve it") == 2
    assert ids[-2:] == ["A whole turn", "All jaws tight"]


def test_a_jaw_that_slips_ends_it():
    facts = {f"swing__{n}": inches("0.010") for n in range(1, 13)}
    assert "never-true" in [step.id for step in planned("dial-in-bore", **facts).steps]


def test_dialled_in_by_voice():
    job = Job("dial-in-bore")
    job.to_step("read-1")
    assert job.say("which jaws") == "Jaws one and three."
    said = job.say("measured twelve thou")
    assert "over the limit" in said
    assert "half of the reading, six" in said.lower()
    job.say("I'm set")
    job.say("measured one thou")
    assert job.state.step_id == "read-3"
    job.say("bang on")
    assert "Both pairs are in" in job.say("what now")
    job.say("measured half a thou")
    assert job.state.step_id == "all-tight"
    job.say("checked")
    assert job.state.finished


def test_tailstock_by_two_collars():
    """31.80 at the headstock and 31.88 at the tailstock, 200 apart, 260 between centres:
    half of 0.08 x 260 / 200 = 0.052, toward the tool, since the far collar is large. Geometry."""
    plan = planned(
        "tailstock-line", **{"collar__1__head": mm("31.80"), "collar__1__tail": mm("31.88")}
    )
    note = plan.step("shift-1")
    assert round(magnitude(note.figure.value, "mm"), 6) == Decimal("0.052")
    assert note.figure.what == "toward you"
    small = planned(
        "tailstock-line", **{"collar__1__head": mm("31.88"), "collar__1__tail": mm("31.80")}
    )
    assert small.step("shift-1").figure.what == "away from you"
    # the next trial goes deeper, so that both collars are cut
    assert plan.step("trial-2-set").target > plan.step("trial-1-set").target


def test_tailstock_in_line():
    plan = planned(
        "tailstock-line", **{"collar__1__head": mm("31.80"), "collar__1__tail": mm("31.79")}
    )
    assert plan.steps[-1].id == "in-line"


def test_tailstock_walked_to_its_end():
    job = Job("tailstock-line")
    job.to_step("measure-head-1")
    job.say("measured thirty one point eight oh")
    said = job.say("measured thirty one point eight eight")
    assert "large at the tailstock" in said
    assert "Move the tailstock toward you, point oh five. Clamp it." in said
    job.to_step("measure-head-2")
    job.say("measured thirty one point six oh")
    job.say("measured thirty one point six oh")
    assert job.state.step_id == "in-line"
    job.say("I'm set")
    assert job.state.finished


@pytest.mark.parametrize(
    ("name", "old", "new", "field"),
    [
        ("dial-in-bore", 'how = "four-jaw"', 'how = "three-jaw"', "holding.how"),
        ("dial-in-bore", 'on = "bore"', 'on = "end"', "on"),
        ("dial-in-bore", 'within = "0.001 in"', 'within = "0"', "within"),
        ("tailstock-line", 'length = "260 mm"', 'length = "100 mm"', "length"),
        ("tailstock-line", 'how = "between centres"', 'how = "three-jaw"', "tailstock"),
    ],
)
def test_a_wrong_job_file_names_the_key(name, old, new, field):
    text = read_file(JOBS / f"{name}.toml")
    assert old in text
    with pytest.raises(BadFile) as caught:
        read_job(text.replace(old, new, 1), "a.toml")
    assert field in str(caught.value)
