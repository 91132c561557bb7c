"""The spindle is asked for before every cut and every measurement that needs it, in all operations.

Case 15 of the mishaps: after "Spindle off. Look at the mark" a seat was plunged with nobody asked
to start it again.
"""

from __future__ import annotations

import re

import pytest

from assistant.jobs.common.spindle_states import asked_for
from assistant.jobs.steps import Cut, Measure, Move, Note, Step, Touch
from assistant.units import inches, mm, quantity
from tests.factories import Job
from tests.jobs.walking import JOBS, plan_of

DEMOS = sorted(path.stem for path in JOBS.glob("*.toml"))
NOTHING = quantity(0, "inch")


def cut(name: str, **more) -> Cut:
    return Cut(id=name, title=name, number=1, of=1, depth=NOTHING, taken=NOTHING, **more)


def look(name: str, **more) -> Measure:
    return Measure(id=name, title=name, fact=name, gauge="by eye", kind="even", **more)


def spoken(steps) -> dict[str, str]:
    return {step.id: " ".join(step.say) for step in asked_for(steps)}


def test_it_is_asked_for_where_another_state_was_asked_for_last():
    """At rest to begin with; on for a cut, once; off for a look; on again for the next cut."""
    said = spoken([
        look("first"), cut("a", say=("Feed.",)), cut("b", say=("Feed on.",)),
        look("mark", say=("Look.",)), Note(id="note", title="", say=("Mind.",)),
        cut("c"), look("again"),
    ])  # fmt: skip
    assert said == {
        "first": "", "a": "Spindle on. Feed.", "b": "Feed on.", "mark": "Spindle off. Look.",
        "note": "Mind.", "c": "Spindle on.", "again": "Spindle off.",
    }  # fmt: skip


def test_own_words_are_said_whatever_the_state():
    plunge = Move(id="in", title="", axis="knee", target=NOTHING, spindle="on",
                  spindle_words="Spindle on: it plunges.")  # fmt: skip
    said = spoken([plunge, cut("a"), plunge])
    assert said["in"] == "Spindle on: it plunges."
    assert said["a"] == ""


def test_what_a_step_leaves_counts():
    """An end at which the spindle is stopped: the next cut asks for it."""
    said = spoken([cut("a", spindle_after="off"), cut("b")])
    assert said == {"a": "Spindle on.", "b": "Spindle on."}


def test_a_press_has_no_spindle():
    assert spoken([cut("push", spindle=""), look("across")]) == {"push": "", "across": ""}


def test_both_ways_of_saying_a_step_ask_for_it():
    (made,) = asked_for([cut("a", say=("Feed in to the stop.",), again=("Feed in.",))])
    assert made.again == ("Spindle on. Feed in.",)


ASKED = re.compile(r"^(?:[^.]*[?.] )?(?:Now )?Spindle (on|off|stopped|forward)(?!, or)")
"""At the head of what is said: at most one short sentence stands before it."""
RUNS = {"on": True, "forward": True, "off": False, "stopped": False}


def last_asked(step: Step, runs: bool | None) -> bool | None:
    """What the words of a step ask for, as somebody hears them who reads no typed field."""
    found = ASKED.match(" ".join(step.say))
    return runs if found is None else RUNS[found[1]]


def heard(steps) -> None:
    """Every cut with the spindle asked on before it, every measurement with it off, by the words
    alone. What leaves it otherwise is in the words of these steps too."""
    runs: bool | None = None
    for step in steps:
        runs = last_asked(step, runs)
        powered = isinstance(step, Cut) and step.kind not in ("tapping", "division")
        if powered and "Press it through" not in " ".join(step.say):
            assert runs is True, step.id
        if isinstance(step, Measure):
            assert runs is not True, step.id
        words = " ".join((*step.say, *step.after)).lower()
        if "at the end: spindle off" in words or "off, and look" in words or (
            "spindle off before you back out" in words or "spindle off when it's out" in words
            or "and spindle off" in words
        ):  # fmt: skip
            runs = False


@pytest.mark.parametrize("name", DEMOS)
def test_by_the_words_alone_every_cut_runs_and_every_measurement_stands(name):
    heard(plan_of(name).steps)


SHORT = (
    ("keyseat-inch", {"size_1": inches("1.690"), "size_1_at": inches("0.204")}),
    ("keyseat-metric", {"walls_left": mm("11.3"), "walls_right": mm("10.7")}),
    ("turn-shaft", {"size_1": inches("1.2700"), "size_1_at": inches("0.230")}),
    ("slot-plunged", {"slot_length": mm("41.5")}),
    ("woodruff-inch", {"size_1": inches("0.982"), "size_1_at": inches("0.278")}),
    ("boring-head-inch", {"size_1": inches("1.24")}),
)  # fmt: skip


@pytest.mark.parametrize(("name", "facts"), SHORT)
def test_off_the_plain_way_too(name, facts):
    heard(plan_of(name, **facts).steps)


def test_the_plunge_after_the_look_by_the_words_of_the_case():
    job = Job("keyseat-metric")
    job.to_step("look-at-mark")
    assert "Spindle off" in " ".join(s.text for s in job.speaker.said)
    job.say("it's even")
    assert job.say("i'm set").startswith("Spindle on: it plunges. Knee up")
    job = Job("keyseat-two-in-line")
    job.to_step("seat-2-look-at-mark")
    job.say("it's even")
    assert job.say("i'm set").startswith("Spindle on: it plunges. Knee up")


def test_an_edge_finder_runs_and_a_feeler_does_not():
    touches = {name: [s for s in plan_of(name).steps if isinstance(s, Touch)]
               for name in ("centre-bore", "centre-plate", "holes-grid")}  # fmt: skip
    assert {s.spindle for s in touches["centre-bore"]} == {"on"}
    assert {s.spindle for s in touches["centre-plate"]} == {"off"}
    assert [s.spindle for s in touches["holes-grid"]] == ["on", "on", "off"]


@pytest.mark.parametrize("name", DEMOS)
def test_every_state_is_one_of_three(name):
    for step in plan_of(name).steps:
        assert step.spindle in ("", "on", "off")
        assert step.spindle_after in ("", "on", "off")
        assert bool(step.spindle) or not step.spindle_words, step.id
