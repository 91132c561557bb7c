"""The forms: every operation has one, and it can be asked."""

from __future__ import annotations

import pytest

from assistant.jobs.field import Field, Form, Kind
from assistant.jobs.operations import OPERATIONS
from assistant.machine import KINDS

FORMS = {name: one.form for name, one in OPERATIONS.items()}
EVERY = [pytest.param(form, id=name) for name, form in FORMS.items()]


def _fields(kind: Kind) -> list[tuple[str, Field]]:
    return [(name, one) for name, form in FORMS.items() for one in form.fields if one.kind is kind]


def test_every_kind_of_work_has_a_name_of_its_own():
    called = [form.called for form in FORMS.values()]
    assert len(set(called)) == len(called)


@pytest.mark.parametrize("form", EVERY)
def test_a_form_is_whole(form: Form):
    keys = [one.key for one in form.fields]
    assert len(set(keys)) == len(keys)
    assert form.field(form.main) is not None
    assert form.machines
    assert set(form.machines) <= set(KINDS)
    for one in form.fields:
        assert all(form.field(key) is not None for key in one.when), one.key
        # asked only after what decides whether it is asked
        assert all(keys.index(key) < keys.index(one.key) for key in one.when), one.key


@pytest.mark.parametrize("form", EVERY)
def test_names_are_apart_so_that_each_can_be_changed(form: Form):
    names = [one.name for one in form.fields]
    doubled = {name for name in names if names.count(name) > 1}
    # ways to tell one thing that exclude each other may be called alike
    alike = [one for one in form.fields if one.name in doubled and not one.when]
    assert [one.key for one in alike] == []


@pytest.mark.parametrize("form", EVERY)
def test_every_question_reads_like_one(form: Form):
    for one in form.fields:
        assert one.ask.endswith(("?", ".")), one.key
        assert one.ask[0].isupper(), one.key
        assert one.why.endswith("."), one.key
        assert len(one.ask) <= 70, one.ask
        assert one.name == one.name.strip(), one.key
        assert not one.offered or "{offer}" in one.offered, one.key


def test_sizes_and_numbers_have_a_band():
    bounded = [each for kind in (Kind.LENGTH, Kind.WHOLE, Kind.ANGLE, Kind.NUMBER)
               for each in _fields(kind)]  # fmt: skip
    assert bounded
    assert [(name, one.key) for name, one in bounded if not one.low < one.high] == []


def test_choices_have_words_and_the_usual_one_is_among_them():
    for name, one in _fields(Kind.CHOICE):
        if callable(one.choices):
            continue
        assert one.choices, (name, one.key)
        by_another = ("check.by", "unit", "thread.class", "thread.basis", "thread.drills",
                      "block.first")  # fmt: skip
        if one.key in by_another:
            continue  # usual by another field, told in words
        assert not one.usual or one.usual in one.choices, (name, one.key)


def test_what_depends_on_a_usual_word_depends_on_a_word_of_the_field():
    for name, form in FORMS.items():
        for one in form.fields:
            for key, words in one.when.items():
                gate = form.field(key)
                assert gate is not None
                if gate.kind is Kind.CHOICE and not callable(gate.choices):
                    assert set(words) <= set(gate.choices), (name, one.key)
                elif gate.kind is Kind.YES:
                    assert set(words) <= {"yes", "no"}, (name, one.key)
