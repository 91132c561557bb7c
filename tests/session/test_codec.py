"""Every event, written and read: exactly, by every version's form, and never by guesswork."""

from __future__ import annotations

import contextlib
import json
import re
import zlib
from base64 import b85encode
from collections.abc import Callable
from dataclasses import fields
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import JournalError
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Step
from assistant.session.codec import LONGEST, decode, encode, event_types
from assistant.session.events import (
    AxisStands,
    AxisZeroed,
    Commanded,
    Event,
    Planned,
    Recorded,
    Undone,
)
from assistant.session.plain import ENUMS, Reader, inner_types, to_plain
from assistant.session.upgrade import UPGRADES, Stored, inside
from assistant.spoken import Intent
from assistant.units import Quantity, inches, quantity, ureg
from tests.factories import Job, expected_words
from tests.session.sample_events import EVENTS, JOURNALS

UNITS = ["inch", "millimeter", "thou", "rpm", "inch / minute", "degree", "turn", "dimensionless"]

numbers = st.decimals(allow_nan=False, allow_infinity=False)
st.register_type_strategy(Quantity, st.builds(quantity, numbers, st.sampled_from(UNITS)))
st.register_type_strategy(Decimal, numbers)
st.register_type_strategy(float, st.floats(allow_nan=False, allow_infinity=False))
steps = st.one_of(*(st.builds(kind) for kind in inner_types().values() if issubclass(kind, Step)))


def fields_of(event: Event) -> list[str]:
    return [field.name for field in fields(event)]


@st.composite
def built(draw: st.DrawFn, kind: type) -> Any:
    """An object of `kind` with whatever its fields allow; a plan has few steps."""
    if kind is Plan:
        return draw(st.builds(Plan, steps=st.lists(steps, max_size=3).map(tuple)))
    if kind is Planned:
        return draw(st.builds(Planned, plan=built(Plan)))
    return draw(st.builds(kind))


@pytest.mark.parametrize("kind", event_types().values(), ids=lambda kind: kind.__name__)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_every_event_comes_back_as_it_was(kind: type[Event], data: st.DataObject) -> None:
    event = data.draw(built(kind))
    text = encode(event)
    assert decode(text) == event
    assert encode(decode(text)) == text
    assert "\n" not in text


def test_every_event_is_in_the_kept_journal() -> None:
    assert {type(event) for event in EVENTS} == set(event_types().values())
    values = [to_plain(getattr(event, name)) for event in EVENTS for name in fields_of(event)]
    written = set(json.dumps(values).split('"'))
    assert set(inner_types()) <= written


@pytest.mark.parametrize("path", sorted(JOURNALS.glob("*.jsonl")), ids=lambda path: path.stem)
def test_a_journal_of_every_version_is_read(path: Any) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    wrong = (
        f"{path.name} is not read as it was meant. If a version with it is out: raise the VERSION "
        "of the event and add an upgrade; if not, write it anew: tests/session/sample_events.py"
    )
    assert [decode(line) for line in lines] == list(EVENTS), wrong


@given(numbers)
def test_decimals_keep_every_digit_and_the_exponent(number: Decimal) -> None:
    event = decode(encode(AxisStands("knee", quantity(number, "inch"))))
    assert isinstance(event, AxisStands)
    assert str(event.position.magnitude) == str(number)


def test_the_form_is_as_documented() -> None:
    event = AxisZeroed("knee", 1, inches("0.0405"))
    assert json.loads(encode(event)) == {
        "type": "AxisZeroed", "version": 1, "axis": "knee", "came": 1,
        "zero_reading": {"@": "quantity", "is": "0.0405 inch"},
        "by": [{"@": "Ground", "is": "work"}, {"@": "Ground", "is": "tool"}],
    }  # fmt: skip


def test_a_long_event_is_packed_and_a_short_one_stands_as_it_is() -> None:
    plan = Job("keyseat-inch").state.plan
    text = encode(Planned(plan))
    assert set(json.loads(text)) == {"type", "version", "packed"}
    assert text.startswith('{"type":"Planned",')  # the table's column repeats it
    event = decode(text)
    assert isinstance(event, Planned)
    assert event.plan == plan
    assert len(text) * 4 < len(json.dumps(to_plain(plan), separators=(",", ":")))


@pytest.mark.parametrize(
    "spoil",
    [
        lambda packed: packed[:-20],
        lambda packed: packed[20:],
        lambda packed: "",
        lambda packed: '\u0000"',
        lambda packed: b85encode(zlib.compress(b"[1]")).decode(),
        lambda packed: b85encode(zlib.compress(b" " * (LONGEST + 1))).decode(),
    ],
)
def test_what_is_packed_and_damaged_is_said_to_be(spoil: Callable[[str], str]) -> None:
    """Also what would fill the memory when it is unpacked."""
    packed = json.loads(encode(Planned(Job("keyseat-inch").state.plan)))["packed"]
    body = {"type": "Planned", "version": 1, "packed": spoil(packed)}
    with pytest.raises(JournalError, match="not an event"):
        decode(json.dumps(body))


@pytest.mark.parametrize(
    "value",
    [
        frozenset({"a", "b"}), frozenset(), {"b": inches(1), "a": (1, None)}, True, Decimal("-0"),
        datetime(2026, 1, 5, 9, tzinfo=UTC), *(member for kind in ENUMS for member in kind),
    ],
    # a set has no order, and a test's name must have one
    ids=lambda value: "".join(sorted(value)) if isinstance(value, frozenset) else repr(value),
)  # fmt: skip
def test_every_kind_of_value_comes_back(value: object) -> None:
    plain = json.loads(json.dumps(to_plain(value)))
    back = Reader().read(plain)
    assert back == value
    assert type(back) is type(value) or isinstance(value, dict)


def test_equal_sets_are_written_equally() -> None:
    words = [f"caution {number}" for number in range(20)]
    assert to_plain(frozenset(words)) == to_plain(frozenset(reversed(words)))


def test_what_would_lose_something_is_not_written() -> None:
    for value in (float("nan"), float("inf")):
        with pytest.raises(JournalError, match="Commanded"):
            encode(Commanded("x", Intent("x"), value, "typed"))
    for size in (ureg.Quantity(0.1, "inch"), quantity("NaN", "inch"), [1], object(), {1, 2}):
        with pytest.raises(JournalError, match="Recorded"):
            encode(Recorded("size", size, "step", "now"))  # type: ignore[arg-type]
    with pytest.raises(JournalError, match="surrogate"):
        encode(Recorded("note", "\ud800", "step", "now"))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "not an event"),
        ("[]", "not an event"),
        ("null", "not an event"),
        ('{"type":"Undone"}', "no type and version"),
        ('{"type":"Undone","version":true,"seq":1}', "no type and version"),
        ('{"type":"Undone","version":1,"seq":NaN}', "NaN"),
        ('{"type":"Milled","version":1}', "'Milled' is unknown"),
        ('{"type":"Undone","version":7,"seq":1}', "version 7 and"),
        ('{"type":"Undone","version":0,"seq":1}', "no upgrade leads to 1"),
        ('{"type":"Undone","version":1}', "lacks its field 'seq'"),
        ('{"type":"Undone","version":1,"seq":1,"why":2}', "unknown field 'why'"),
        ('{"type":"Undone","version":1,"seq":{"@":"Popen","args":"ls"}}', "'Popen' is unknown"),
        ('{"type":"Undone","version":1,"seq":{"@":["x"]}}', "is unknown"),
        ('{"type":"Undone","version":1,"seq":{"@":"quantity","is":"1 fish"}}', "no unit"),
        ('{"type":"Undone","version":1,"seq":{"@":"quantity","is":"NaN inch"}}', "quantity"),
        ('{"type":"Undone","version":1,"seq":{"@":"quantity","is":3}}', "quantity"),
        ('{"type":"Undone","version":1,"seq":{"@":"quantity"}}', "quantity"),
        ('{"type":"Undone","version":1,"seq":{"@":"Phase","is":"dancing"}}', "Phase"),
        ('{"type":"Undone","version":1,"seq":{"@":"map","is":[[{"@":"map","is":[]},1]]}}', "map"),
        ("[" * 100_000, "not an event"),
    ],
)  # fmt: skip
def test_what_is_no_event_is_said_to_be_none(text: str, says: str) -> None:
    with pytest.raises(JournalError, match=re.escape(says)):
        decode(text)


def test_deep_nesting_ends_in_an_event_or_an_error() -> None:
    for depth in (10, 300, 900, 50_000):
        with contextlib.suppress(JournalError):
            decode('{"type":"Undone","version":1,"seq":' + "[" * depth + "]" * depth + "}")


@settings(max_examples=200, deadline=None)
@given(st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.sampled_from(["@", "is", "seq", "type", "version"])
        | st.text(max_size=3), inner, max_size=4),
    max_leaves=12,
))  # fmt: skip
def test_damaged_events_raise_nothing_but_journal_errors(seq: object) -> None:
    for name, field in (("Undone", "seq"), ("Planned", "plan"), ("Instructed", "figure")):
        body = {"type": name, "version": 1, "why": "", field: seq}
        if name != "Planned":
            del body["why"]
        with contextlib.suppress(JournalError):
            decode(json.dumps(body))


def test_a_new_field_with_a_default_is_read_from_before_it_was_there() -> None:
    body = json.loads(encode(Planned(Plan("t", "o", "inch", ()))))
    del body["why"], body["plan"]["verdict"]
    assert decode(json.dumps(body)) == Planned(Plan("t", "o", "inch", ()))


def test_earlier_versions_are_upgraded_step_by_step() -> None:
    def from_1(stored: Stored) -> Stored:  # `knee` was once called `vertical`
        return Stored("Moved", 2, {**stored.fields, "axis": "knee"})

    def from_2(stored: Stored) -> Stored:  # an event was renamed, its size was a bare number
        size = {"@": "quantity", "is": f"{stored.fields['inches']} inch"}
        return Stored("AxisStands", 1, {"axis": stored.fields["axis"], "position": size})

    upgrades = {("Moved", 1): from_1, ("Moved", 2): from_2}
    old = '{"type":"Moved","version":1,"axis":"vertical","inches":"0.142"}'
    assert decode(old, upgrades) == AxisStands("knee", inches("0.142"))
    with pytest.raises(JournalError, match="unknown"):
        decode(old)


def test_an_upgrade_that_leads_nowhere_ends() -> None:
    with pytest.raises(JournalError, match="unknown"):
        decode('{"type":"Moved","version":1}', {("Moved", 1): lambda stored: stored})


def test_a_type_inside_events_is_upgraded_wherever_it_stands() -> None:
    old = {"plan": {"@": "Plan", "results": [["depth", {"@": "Figure", "amount": 1}]]},
           "figure": {"@": "Figure", "amount": 2}}  # fmt: skip
    new = inside(old, "Figure", lambda figure: {"@": "Figure", "value": figure["amount"]})
    assert new == {"plan": {"@": "Plan", "results": [["depth", {"@": "Figure", "value": 1}]]},
                   "figure": {"@": "Figure", "value": 2}}  # fmt: skip


def test_upgrades_lead_to_what_is_known() -> None:
    for (name, version), _ in UPGRADES.items():
        kind = event_types().get(name)
        assert kind is None or version < kind.VERSION


def test_no_event_has_a_field_that_the_form_needs_for_itself() -> None:
    for kind in (*event_types().values(), *inner_types().values()):
        assert not {"type", "version", "@"} & {field.name for field in fields(kind)}
    assert not set(inner_types()) & {"quantity", "decimal", "time", "set", "map"}
    assert Undone.VERSION == 1


def test_what_is_equal_in_the_next_plan_is_made_once_and_the_rest_is_read() -> None:
    """Each event read by itself, and all by one reader: the same, whatever was changed."""
    job = Job("keyseat-two-in-line")
    while not job.state.finished:
        job.say(expected_words(job.state))
    events = [record.event for record in job.journal.read(job.assistant.job_id)]
    plans = [event for event in events if isinstance(event, Planned)]
    assert len(plans) > 3
    assert len({repr(plan) for plan in plans}) > 3
    lines = [encode(event) for event in events]
    reader = Reader()
    together = [decode(line, reader=reader) for line in lines]
    assert together == [decode(line) for line in lines] == events
    assert [encode(event) for event in together] == lines
    one, other = [event.plan for event in together if isinstance(event, Planned)][:2]
    assert one.steps[0] is other.steps[0]


@pytest.mark.parametrize("odd", ['"steps":[[]]', '"steps":[{"@":"Check"}]', '"results":[1,[2]]'])
def test_a_plan_with_odd_parts_is_refused_also_after_a_good_one(odd: str) -> None:
    reader = Reader()
    good = encode(Planned(Plan("t", "o", "inch", ())))
    decode(good, reader=reader)
    text = good.replace('"steps":[]', odd) if "steps" in odd else good.replace('"results":[]', odd)
    assert text != good
    with contextlib.suppress(JournalError):
        assert encode(decode(text, reader=reader)) == text
