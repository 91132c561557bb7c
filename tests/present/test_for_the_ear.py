"""How the voice says what is written: figures one by one, one value a sentence, whose handle."""

from __future__ import annotations

import pytest

from assistant.app.manner import Manner
from assistant.devices.speaker import SilentSpeaker
from assistant.present.by_figures import by_figures, figures_of, value_by_figures
from assistant.present.for_the_ear import for_the_ear, one_value, short_enough
from assistant.spoken import Sentence, Urgency
from tests.factories import Job


@pytest.mark.parametrize(
    ("words", "figures"),
    [
        ("one forty", "140"),
        ("nine oh five", "905"),
        ("one six six two", "1662"),
        ("one five hundred", "1500"),
        ("three hundred and five", "305"),
        ("two thousand", "2000"),
        ("forty-five", "45"),
        ("twelve fifty", "1250"),
        ("two point oh one", "2.01"),
        ("point one two five", ".125"),
        ("six", "6"),
        ("one one eighteen", "1118"),
    ],
)
def test_the_figures_of_a_number_in_words(words: str, figures: str) -> None:
    assert figures_of(words) == figures


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("One six seven two.", "One, six, seven, two."),
        ("Measured fifteen.", "Measured fifteen: one five."),
        ("Saddle in, four turns and one forty and a half.",
         "Saddle in, four turns and one, four, zero, and a half."),
        ("Forty-five on the dial.", "Forty-five: four five, on the dial."),
        ("Stop at one point oh six.", "Stop at one, point zero, six."),
        ("Up six.", "Up six."),
        ("Back at the first one. Does it line up?", "Back at the first one. Does it line up?"),
        ("Step 12 of 35: hole.", "Step 12 of 35: hole."),
        ("Two hundred and five holes.", "Two, zero, five, holes."),
    ],
)  # fmt: skip
def test_numbers_are_told_figure_by_figure(text: str, told: str) -> None:
    assert by_figures(text) == told


@pytest.mark.parametrize(
    ("text", "again"),
    [
        ("Stop at one forty and a half.", "One, four, zero, and a half."),
        ("Up six.", ""),
        ("Lock it.", ""),
        ("Fifteen on the dial.", "One, five."),
    ],
)
def test_the_value_alone(text: str, again: str) -> None:
    assert value_by_figures(text) == again


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Up six, to seventeen.", ["Up six.", "To seventeen."]),
        ("One six six six: two over the limit.", ["One six six six.", "Two over the limit."]),
        ("Knee up fourteen, past zero, to eleven.", ["Knee up fourteen.", "Past zero, to eleven."]),
        ("Out one turn first, then in to seventeen.", ["Out one turn first.",
                                                      "Then in to seventeen."]),
        ("Saddle in, four turns and one forty and a half.",
         ["Saddle in, four turns and one forty and a half."]),
        ("Read it again: one oh nine?", ["Read it again: one oh nine?"]),
        ("Half the shaft, seven fifty.", ["Half the shaft, seven fifty."]),
    ],
)  # fmt: skip
def test_one_value_a_sentence(text: str, parts: list[str]) -> None:
    assert one_value(text) == parts


def test_a_short_move_is_given_its_handle() -> None:
    job = Job()
    job.to_step("roughing-2-set")
    figure = job.assistant.show()
    assert figure is not None
    assert job.state.step is not None
    from assistant.present.figure_of import figure_of

    move = figure_of(job.state)
    assert move is not None
    assert move.move is not None
    way, axis = move.move.direction, move.move.wheel.axis
    short = f"{way.capitalize()} six, to seventeen."
    texts = [one.text for one in for_the_ear([Sentence(short)], job.state)]
    assert texts == [f"{axis.capitalize()} {way} six.", "To seventeen."]
    other = [one.text for one in for_the_ear([Sentence("Measured six.")], job.state)]
    assert other == ["Measured six."]


def said(manner: Manner, *words: str) -> list[str]:
    """What the voice was given after the last of `words`."""
    job = Job()
    job.to_step("roughing-2-set")
    job.assistant.manner = manner
    speaker = job.speaker
    assert isinstance(speaker, SilentSpeaker)
    for each in words:
        speaker.said.clear()
        job.say(each)
    return speaker.texts


def test_say_again_gives_the_figures_and_the_writing_stays() -> None:
    plain = said(Manner(), "what should the dial read")
    again = said(Manner(), "what should the dial read", "say again")
    assert again != plain
    assert again == [by_figures(text) for text in plain]
    thrice = said(Manner(), "what should the dial read", "say again", "say again")
    assert thrice == again


def test_figures_always_and_values_twice() -> None:
    plain = said(Manner(), "what should the dial read")
    assert said(Manner(say_digits=True), "what should the dial read") == [
        by_figures(text) for text in plain
    ]
    twice = said(Manner(repeat_numbers=True), "what should the dial read")
    assert [text for text in twice if text in plain] == plain
    assert value_by_figures(plain[-1]) in twice


def test_what_is_urgent_stays_so() -> None:
    parted = for_the_ear([Sentence("Up six, to seventeen.", Urgency.CAUTION)], Job().state)
    assert {one.urgency for one in parted} == {Urgency.CAUTION}


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Step 57 of 86: Second shoulder: before finishing: the length to the second shoulder.",
         ["Step 57 of 86: Second shoulder.",
          "Before finishing: the length to the second shoulder."]),
        ("Feelers: spindle stopped and isolated, cutter turned backwards by hand.",
         ["Feelers.", "Spindle stopped and isolated.", "Cutter turned backwards by hand."]),
        ("Gearbox and change gears set for 10 threads an inch, spindle stopped?",
         ["Gearbox and change gears set for 10 threads an inch?", "Spindle stopped?"]),
        ("Lock it.", ["Lock it."]),
        ("Five turns and thirty-five holes on the forty-nine circle.",
         ["Five turns and thirty-five holes.", "On the forty-nine circle."]),
        ("Three hundred and twenty-seven point two seven two degrees.",
         ["Three two seven point two seven two degrees."]),
    ],
)  # fmt: skip
def test_what_is_long_is_parted_at_its_stops(text: str, parts: list[str]) -> None:
    assert short_enough(text) == parts


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Tailstock in, fifteen turns and fifty-six and a half.",
         ["Tailstock in, fifteen: one five, turns.", "And fifty-six: five six, and a half."]),
        ("Seventy-two left on the diameter after this cut.",
         ["Seventy-two: seven two, left on the diameter.", "After this cut."]),
        # no value is parted, and no place from what it is counted from: it is told once
        ("One inch seventy-eight thou and two tenths.",
         ["One inch seven eight thou and two tenths."]),
        ("Saddle out half a turn past one fifteen and a half.",
         ["Saddle out half a turn past one one five and a half."]),
        ("Measured fifteen.", ["Measured fifteen: one five."]),
    ],
)  # fmt: skip
def test_figures_take_longer_and_are_parted_too(text: str, parts: list[str]) -> None:
    assert short_enough(text, figures=True) == parts
