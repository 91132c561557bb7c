"""Stock, blanks, bores and tools that are not as expected: asked about or refused, in all alike.

Case 21 of the mishaps: a thread's blank five thou undersize went straight on.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.errors import ImpossibleInput
from assistant.jobs.common.off_size import GO_ON, Expected, around, need_metal
from assistant.jobs.planning import plan_for
from assistant.jobs.steps import Check
from assistant.units import inches, mm
from tests.factories import Job
from tests.jobs.walking import changed, machine_of, plan_of, text_of

OFF = (
    # job, fact, what is told, whether it is asked about, words of what follows
    # 3/4-10 UNC-2A: 0.7353 to 0.7482 (ASME B1.1, from memory)
    ("thread-external", "blank.size", inches("0.7303"), "is 5 thou under", "crests come out flat"),
    ("thread-external", "blank.size", inches("0.7502"), "is 2 thou over", "Turn it down first"),
    ("thread-external", "blank.size", inches("0.7353"), "", ""),
    ("thread-external", "blank.size", inches("0.7482"), "", ""),
    # M30x2-6H: minor diameter 27.835 to 28.210 (ISO 965-1, from memory)
    ("thread-internal", "blank.size", mm("27.735"), "is 0.1 millimetres under", "Bore it out"),
    ("thread-internal", "blank.size", mm("28.31"), "is 0.1 millimetres over", "shallow"),
    ("thread-internal", "blank.size", mm("28"), "", ""),
    # 24 teeth of 12 diametral pitch: 26 / 12 = 2.1667 over the tips, as the job file has it
    ("gear-inch", "blank.diameter", "-0.006", "under", "teeth come out short"),
    ("gear-inch", "blank.diameter", "0.003", "over", "Turn it down first"),
    ("gear-inch", "blank.diameter", "-0.004", "", ""),
    ("flats-hexagon", "stock.diameter", "-0.011", "under", "corners round"),
    ("flats-hexagon", "stock.diameter", "0.011", "over", "right bar"),
    ("flats-hexagon", "stock.diameter", "0.009", "", ""),
    ("broach-inch", "bore.diameter", "-0.003", "under", "Never force it"),
    ("broach-inch", "bore.diameter", "0.003", "over", "leans"),
    ("broach-inch", "bore.diameter", "0.002", "", ""),
    ("keyseat-inch", "shaft.diameter", "-0.008", "under", "right shaft"),
    ("keyseat-inch", "shaft.diameter", "0.005", "", ""),
    ("keyseat-inch", "key.height", "0.008", "over", "right key"),
    ("keyseat-inch", "cutter.width", "-0.002", "under", "too tight for the key"),
    ("keyseat-inch", "cutter.width", "0.001", "", ""),
    ("woodruff-inch", "key.height", "-0.008", "under", "right key"),
    ("woodruff-metric", "shaft.diameter", "0.20", "over", "right shaft"),
)  # fmt: skip


def told_at(name: str, fact: str, size):
    """The size, or so much more than the job's own, which is measured at a step of the plan."""
    if not isinstance(size, str):
        return size
    measure = next(s for s in plan_of(name).steps if getattr(s, "fact", "") == fact)
    return measure.nominal + (mm(size) if "meter" in str(measure.nominal.units) else inches(size))


@pytest.mark.parametrize(("name", "fact", "size", "words", "follows"), OFF)
def test_what_is_off_stops_and_asks(name, fact, size, words, follows):
    told = told_at(name, fact, size)
    plan = plan_for(text_of(name), f"{name}.toml", machine_of(name), {fact: told})
    asked = f"check-{fact.replace('.', '-')}"
    ids = [step.id for step in plan.steps]
    if not words:
        assert asked not in ids
        return
    check = plan.step(asked)
    assert isinstance(check, Check)
    said = " ".join(check.say)
    assert words in said
    assert follows in said
    assert said.endswith(GO_ON)
    # it comes right after what was measured
    assert getattr(plan.steps[plan.index(asked) - 1], "fact", "") == fact


def test_an_undersize_thread_blank_by_the_words_of_the_case():
    job = Job("thread-external")
    job.to_step("measure-blank")
    said = job.say("measured seven thirty point three thou")
    assert "The outside is 5 thou under. The crests come out flat. Other stock, or ask." in said
    assert job.state.step_id == "check-blank-size"
    # not before it was answered
    assert job.say("no")
    assert job.state.step_id == "check-blank-size"
    job.says("scratch that", "scratch that")  # the no, and then the measurement
    job.say("measured seven forty two thou")
    assert job.state.step_id == "touch-work"


def test_one_that_is_said_to_go_on_goes_on():
    job = Job("thread-external")
    job.to_step("measure-blank")
    job.say("measured seven thirty point three thou")
    job.say("checked")
    assert job.state.step_id == "touch-work"


def test_the_rule_is_judged_in_the_places_that_are_told():
    """A limit of 0.73530 told as 0.7353 is on it, whatever digits stand behind."""
    one = Expected("a", "the blank", Decimal("0.735340"), Decimal("0.75"), 4, "u", "o")
    assert one.asked({"a": inches("0.7353")}, "inch") == []
    assert one.asked({"a": inches("0.7352")}, "inch")
    assert one.asked({}, "inch") == []
    assert one.asked({"a": "skipped"}, "inch") == []
    # nothing follows: nothing is asked
    assert around("a", "it", Decimal(1), Decimal("0.1"), 3, "", "over").asked(
        {"a": inches("0.5")}, "inch"
    ) == []  # fmt: skip


@pytest.mark.parametrize(
    ("there", "wanted", "hole", "refused"),
    [("1", "1", False, True), ("1.001", "1", False, False), ("0.9", "1", False, True),
     ("1", "1", True, True), ("0.999", "1", True, False), ("1.1", "1", True, True)],
)  # fmt: skip
def test_there_has_to_be_metal(there, wanted, hole, refused):
    if not refused:
        need_metal("stock", Decimal(there), Decimal(wanted), "inch", hole=hole)
        return
    with pytest.raises(ImpossibleInput, match="nothing to cut to 1: measure again"):
        need_metal("stock", Decimal(there), Decimal(wanted), "inch", hole=hole)


def test_flats_wider_than_the_cutter_are_refused_when_the_bar_is_measured():
    """Two flats 14 across: of a bar of 20 they are 2 sqrt(3 x 17) = 14.3 wide, of one of 22
    2 sqrt(4 x 18) = 16.97, and the cutter is 16."""
    two = changed("flats-square", ("sides = 4", "sides = 2"))
    plan_of("flats-square", two)
    with pytest.raises(ImpossibleInput, match=r"16\.971 wide: wanted a cutter wider"):
        plan_of("flats-square", two, stock_diameter=mm(22))
