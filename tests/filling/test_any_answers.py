"""Any answers at all, in any order: nothing fails, and what is kept can be read and planned."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

from assistant.app.drafts import as_kept, taken_up
from assistant.filling.book import choices_of
from assistant.filling.machines.axes import AXES
from assistant.filling.machines.sheet import MachineSheet
from assistant.filling.page import page
from assistant.filling.talk import Talk, changeable, of_a_machine
from assistant.filling.words import foreseen, question
from assistant.jobs.operations import OPERATIONS
from assistant.jobs.planning import plan_for
from assistant.machine import parse_machine
from tests.filling.talking import begun, machines, say

STEPS = 60
CONTROLS = ("back", "skip", "skip", "skip", "why", "help", "say again", "ask me more",
            "that's enough", "yes", "yes", "no", "start over", "stop", "go back")  # fmt: skip
SIZES = ("1/4", "3/8", "an inch and a half", "two and a quarter inches", "1-1/2", "3 in", "0.005",
         "0", "six", "40", "25 mm", "fifty", "7", "0.5", "one eighty", "12", "60", "118",
         "1.250", "1/16")  # fmt: skip
NONSENSE = ("banana", "1,5", "1/0", "-3", "99999999", "½", "#7", "M8", "''", "3/4-10", "F", "%s",
            "\N{RIGHT-TO-LEFT OVERRIDE}x", "a" * 600)  # fmt: skip


def answers(chance: random.Random, talk: Talk) -> Iterator[str]:
    """One more thing to say, likelier a sensible one."""
    one = talk.asking
    words = choices_of(one, talk.sheet) if one is not None else ()
    while True:
        pot = chance.random()
        if words and pot < 0.6:
            yield chance.choice(words)
        elif pot < 0.7:
            yield chance.choice(CONTROLS)
        elif pot < 0.75:
            yield chance.choice(NONSENSE)
        elif one is None and pot < 0.9:
            yield f"change the {chance.choice(changeable(talk)).name}"
        else:
            yield chance.choice(SIZES)


@pytest.mark.parametrize("kind", AXES)
@pytest.mark.parametrize("seed", range(4))
def test_any_answers_come_to_a_machine_that_loads_or_to_a_question(kind: str, seed: int):
    chance = random.Random(f"{kind} {seed}")
    fresh = say(of_a_machine(begun().shop), kind)
    talk, whole = fresh, 0
    for _ in range(3 * STEPS):
        said = next(answers(chance, talk))
        talk = say(talk, said)
        assert question(talk)[-1].strip(), said
        page(talk)
        foreseen(talk)
        kept = taken_up(as_kept(talk), talk.shop)
        assert kept.sheet.text == talk.sheet.text, said
        assert kept.sheet.row == talk.sheet.row, said
        if talk.asking is None:
            whole += 1
            assert isinstance(talk.sheet, MachineSheet)
            parse_machine(talk.sheet.text, "told")
        if talk.end:
            talk = fresh


@pytest.mark.parametrize("work", OPERATIONS)
@pytest.mark.parametrize("seed", range(3))
def test_any_answers_come_to_a_job_that_can_be_planned_or_to_a_question(work: str, seed: int):
    chance = random.Random(f"{work} {seed}")
    fresh = say(begun(), OPERATIONS[work].called)
    talk = fresh
    for _ in range(STEPS):
        said = next(answers(chance, talk))
        talk = say(talk, said)
        assert question(talk)[-1].strip(), said
        page(talk)
        foreseen(talk)
        kept = taken_up(as_kept(talk), talk.shop) if talk.work else talk
        assert kept.sheet.text == talk.sheet.text, said
        if talk.end or not talk.work:
            talk = fresh
        if talk.machine and talk.asking is None:
            plan_for(talk.sheet.text, "asked", machines()[talk.machine], {})
