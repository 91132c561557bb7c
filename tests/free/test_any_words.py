"""Whatever is said, in whatever order: no number without a place, nothing lost, never stuck."""

from __future__ import annotations

import json

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from assistant.free.book import expected
from assistant.free.hear import STOP
from assistant.free.kept import as_kept, taken_up
from assistant.free.page import page
from assistant.free.places import Lost
from assistant.free.talk import Talk
from assistant.free.trouble import resumed
from assistant.present.glance import Moment
from tests.free.talking import after, begun, book, machine, said, say

LINES = sorted({each for one in book().intents.values() for each in one.examples})
MORE = (
    "two left", "forty thou right", "1/2 in left", "12,5 mm left", "left", "", "gibberish",
    "0 left", "table up ten thou", "999 in left", "no turns and forty", "it reads zero",
    "yes", "no", "all", "zero the table", "right", "in", "zero the saddle", "I'm there",
    "mark this one", "go to a",
    "scratch that", "scratch that", "back to zero", "table", "two turns and eleven", "left of zero",
)  # fmt: skip


def check(talk: Talk) -> None:
    """What holds whatever was said."""
    shown = page(talk)
    leg = talk.places.leg
    if shown.moment is Moment.MOVE:
        assert leg is not None
        assert talk.places.slides[leg.axis].lost is Lost.NOTHING, "no number without a place"
        assert shown.stop is not None
    if talk.asks:
        assert said(talk), "a question says what it asks"
        assert shown.choices or shown.say
    for text in talk.answer:
        assert len(text) < 120, text
        assert text[:1].upper() == text[:1], text


@pytest.mark.parametrize(
    "name", ["leat-vertical", "mere-vertical", "rill-lathe", "brook-lathe", "millrace-horizontal",
             "tarn-drill"],
)  # fmt: skip
@settings(max_examples=15, deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(lines=st.lists(st.sampled_from((*LINES, *MORE, *MORE)), max_size=30))
def test_whatever_is_said(name: str, lines: list[str]):
    talk = begun(name)
    for line in lines:
        talk = say(talk, line)
        check(talk)
        kept = json.loads(json.dumps(as_kept(talk)))
        assert taken_up(kept, machine(name)).places == talk.places
        broken = resumed(talk)
        assert page(broken).moment is not Moment.MOVE, "after a break no number before a dial"
    # never stuck: a question can be left, and what is open dropped
    talk = after(["no", "no", "drop it", "no"], talk)
    assert not talk.asks
    assert talk.places.leg is None


@pytest.mark.parametrize("name", ["leat-vertical", "brook-lathe"])
def test_every_example_is_taken_somewhere(name: str):
    moved = after(["zero the table", "right", "two inches left"])
    talks = [
        begun(name),
        after(["zero the saddle"]),
        after(["zero the saddle", "in", "zero the saddle"]),
        after(["zero here"]),
        moved,
        after(["zero the saddle"], moved),
        after(["I'm there", "half of that"], moved),
        after(["I'm there", "zero the saddle", "in", "bolt circle of six on three inches"], moved),
    ]
    heard = {one.intent for talk in talks for one in expected(talk)}
    assert heard >= set(book().intents)


def test_stop_is_silence_and_keeps_the_move():
    talk = after(["zero the table", "right", "two inches left"])
    assert say(talk, "stop").answer == (STOP,)
    assert say(talk, "stop").places == talk.places
