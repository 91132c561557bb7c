"""The conversation: what each answer, right or wrong, makes of it."""

from __future__ import annotations

import pytest

from assistant.app.turn import understand
from assistant.filling.book import choices_of
from assistant.filling.checked import fault_in
from assistant.filling.hear import hear
from assistant.filling.page import page
from assistant.filling.said import choice_words
from assistant.filling.talk import Talk, expected
from assistant.filling.words import question
from assistant.jobs.field import Field, Kind
from assistant.jobs.operations import OPERATIONS
from assistant.jobs.planning import read_job
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.matcher import match
from assistant.phrases.words import normal
from assistant.spoken import Heard, Opinion, Understood
from tests.filling.talking import KEYSEAT, after, asked, begun, book, machines, say

SHAFT = KEYSEAT[:2]


def test_a_keyseat_takes_eight_answers():
    talk = after(KEYSEAT)
    assert talk.answers == 8
    assert asked(talk) == "Run it now?"
    _, job = read_job(talk.sheet.text, "asked")
    assert str(job.shaft) == "1.5 inch"
    assert str(job.key.width) == "0.375 inch"
    assert str(job.cutter.width) == "0.375 inch"


def test_the_same_by_voice_and_typed():
    spoken = after(KEYSEAT, engine="moonshine")
    assert spoken.sheet.text == after(KEYSEAT).sheet.text


def test_every_answer_is_read_back():
    talk, said = begun(), []
    for line in KEYSEAT:
        talk = say(talk, line)
        said += talk.answer
    assert said == [
        "Keyseat.", "Millrace horizontal.", "Shaft: one inch and a half.",
        "Key by the standard: three eighths.", "Length of the seat: two inches and a quarter.",
        "Cutter: three inches and a half.", "Collar: one inch and a half.",
        "Material: mild steel.",
    ]  # fmt: skip


def test_the_standard_is_offered_in_its_words():
    assert asked(after(KEYSEAT[:3])) == "Key three eighths, by the standard. Right?"
    metric = after(("keyseat", "weir vertical", "30"))
    assert asked(metric).startswith("Key eight millimetres by seven millimetres")


def test_another_key_is_asked_for_where_the_standard_is_not_wanted():
    talk = after((*KEYSEAT[:3], "no"))
    assert asked(talk) == "How wide is the key?"
    talk = after(("5/16", "3/8"), talk)
    assert asked(talk) == "How long is the seat, at full depth?"
    assert talk.sheet.told["key.height"] == "3/8 in"


def test_a_shaft_without_a_standard_key_is_refused_by_the_reader_at_its_question():
    talk = after((*SHAFT, "0.25"))
    assert talk.answer[0] == "Can't be."
    assert "no standard key" in talk.answer[1]
    assert asked(talk) == "What diameter is the shaft?"
    assert "shaft.diameter" not in talk.sheet.told


@pytest.mark.parametrize("words", ["back", "scratch that", "go back"])
def test_back_takes_the_last_answer_back(words: str):
    talk = after((*KEYSEAT[:4], words))
    assert asked(talk) == "Key three eighths, by the standard. Right?"
    again = after((words, words, words), talk)
    assert asked(again) == "What's the job?"
    assert say(again, words).answer == ("That's the first question.",)


def test_skip_where_there_is_a_usual_answer_and_not_where_there_is_none():
    talk = after((*KEYSEAT[:7], "skip it"))
    assert talk.answer == ("Material: not told.",)
    assert "material" not in talk.sheet.text
    assert say(after(SHAFT), "skip").answer == ("That one I need.",)


def test_why_and_what_can_i_say_answer_and_ask_again():
    talk = say(after(SHAFT), "why")
    assert talk.answer == ("As on the drawing. The key and the depth go by it.",)
    assert asked(talk) == "What diameter is the shaft?"
    talk = say(talk, "what can I say")
    assert "Say a size" in talk.answer[0]
    assert "back, skip, why" in talk.answer[-1]


def test_stop_is_answered_as_everywhere():
    assert say(after(SHAFT), "stop").answer == ("Hit your stop button. I can't.",)


@pytest.mark.parametrize("line", ["banana", "1.2.3", "thread the needle", "-", "drop table"])
def test_nonsense_changes_nothing(line: str):
    talk = after(KEYSEAT[:4])
    again = say(talk, line)
    assert again.sheet is talk.sheet
    assert again.asking == talk.asking


def test_sound_that_is_no_command_is_not_answered():
    talk = after(SHAFT)
    assert say(talk, "", engine="moonshine") is talk
    assert say(talk, "an inch and a half", engine="moonshine", confidence=0.1) is talk


def test_a_size_out_of_its_band_is_asked_about():
    talk = say(after(SHAFT), "fifty", engine="moonshine")
    assert asked(talk) == "Fifty millimetres? Yes or no."
    assert "shaft.diameter" not in talk.sheet.told
    assert say(talk, "no").doubt is None
    # yes to it is the operator's word; the reader still has its own
    assert say(talk, "yes").sheet.told["shaft.diameter"] == "50 mm"


def test_bare_words_that_may_be_thou_are_named_before_they_are_taken():
    talk = say(after(SHAFT), "one and a half", engine="moonshine")
    assert asked(talk) == "One inch and five hundred thou? Yes or no."
    assert "shaft.diameter" not in talk.sheet.told
    assert say(talk, "yes").sheet.told["shaft.diameter"] == "1-1/2 in"


def test_typed_it_is_what_a_job_file_would_have():
    assert say(after(SHAFT), "1-1/2").sheet.told["shaft.diameter"] == "1-1/2 in"
    assert say(after(SHAFT), "2").sheet.told["shaft.diameter"] == "2 in"


def test_typed_the_beginning_of_one_choice_is_that_one():
    assert after(("keyseat", "millrace")).answer == ("Millrace horizontal.",)
    assert after(("keyseat", "m")).answer[0] == "I don't know that here."  # two begin so
    assert after(("keyseat", "millrace"), engine="moonshine").answer != ("Millrace horizontal.",)


def test_of_fifteen_and_fifty_neither_is_taken_where_the_ears_differ():
    talk = after(("flats", "leat vertical", "one inch and a half"))
    other = Opinion("fifty", 0.9, "vosk")
    heard = Heard("fifteen", 0.9, engine="moonshine", opinion=other)
    again = hear(book(), talk, understand(book(), expected(talk), heard))
    assert again.doubt is not None
    assert "flats.sides" not in again.sheet.told


def test_a_number_heard_unsurely_is_asked_back_and_told_anew():
    talk = say(after(SHAFT), "an inch and a half", engine="moonshine", confidence=0.45)
    assert asked(talk) == "One inch and five hundred thou? Yes or no."
    anew = say(talk, "two inches", engine="moonshine")
    assert anew.sheet.told["shaft.diameter"] == "2 in"


@pytest.mark.parametrize(
    ("lines", "line", "asked_back"),
    [
        (KEYSEAT[:5], "one hundred", "One hundred thou, or one hundred millimetres? Say it again."),
        (KEYSEAT[:4], "sixty", "Sixty inches, or sixty millimetres? Say it again."),
        (SHAFT, "forty", "Forty millimetres? Yes or no."),
    ],
)
@pytest.mark.parametrize("engine", ["typed", "moonshine"])
def test_a_bare_number_that_may_be_millimetres_is_asked_about(
    lines: tuple[str, ...], line: str, asked_back: str, engine: str
):
    talk = say(after(lines), line, engine=engine)
    assert asked(talk) == asked_back
    assert talk.doubt is not None
    assert len(talk.sheet.told) == len(lines) - 2, "nothing is taken on suspicion"
    assert say(talk, "40 mm").doubt is None


@pytest.mark.parametrize("line", ["3-1/2", "2", "0.625", "0.5", "3 in"])
def test_what_is_plainly_said_is_taken_as_it_is(line: str):
    assert say(after(KEYSEAT[:5]), line).doubt is None


@pytest.mark.parametrize("line", ["12 in", "3 in"])
def test_a_key_wider_than_its_shaft_is_refused_where_it_is_told(line: str):
    talk = say(after(("keyseat", "weir vertical", "40", "no")), line)
    talk = say(talk, "yes") if talk.doubt is not None else talk
    assert talk.answer[0] == "Can't be."
    assert "the shaft is forty millimetres" in talk.answer[1]
    assert asked(talk) == "How wide is the key?"


def test_a_decimal_comma_is_refused_in_inches():
    talk = say(after(SHAFT), "1,5")
    assert talk.answer[0].endswith("millimetres only. Type 1.5, or 1.5 mm.")
    assert say(after(SHAFT), "1,234,5").answer[0].endswith("with a point, and no commas.")
    assert "shaft.diameter" not in talk.sheet.told


def test_what_can_not_go_together_is_told_at_the_question_it_is_about():
    talk = after(("keyseat", "weir vertical", "40", "yes", "50", "open", "10", "20", "skip"))
    assert talk.answer[-2] == "Can't be."
    assert "too narrow for the key" in talk.answer[-1]
    assert talk.asking is not None
    assert talk.asking.key == "cutter.diameter"
    assert asked(after(("12",), talk)) == "Run it now?"


def test_a_plan_that_the_machine_can_not_do_is_told_before_the_file_is_kept():
    # a collar so large that the teeth don't reach the floor
    talk = after((*KEYSEAT[:5], "1-1/2", "1-1/4", "skip"))
    assert "cutter" in talk.answer[-1].lower()
    assert talk.asking is not None
    assert fault_in(talk.sheet, whole=True) is not None


def test_more_asks_what_has_a_usual_answer():
    talk = after((*KEYSEAT, "ask me more"))
    assert asked(talk) == "How deep is it from the top?"
    talk = after(("skip", "that's enough"), talk)
    assert asked(talk) == "Run it now?"


def test_one_thing_is_changed_at_the_end():
    talk = after((*KEYSEAT, "change the material", "brass"))
    assert asked(talk) == "Run it now?"
    assert talk.sheet.told["material"] == "brass"
    assert talk.sheet.told["shaft.diameter"] == "1-1/2 in"
    assert say(after((*KEYSEAT, "change the material")), "back").sheet.told["material"]


def test_start_over_asks_first():
    talk = say(after(KEYSEAT[:5]), "start over")
    assert asked(talk) == "Begin anew? Yes or no."
    assert say(talk, "no").answers == 5
    assert asked(say(talk, "yes")) == "What's the job?"


@pytest.mark.parametrize(("word", "end"), [("yes", "run"), ("no", "kept")])
def test_the_last_question(word: str, end: str):
    assert say(after(KEYSEAT), word).end == end


def test_leave_it_ends_at_any_question():
    assert say(after(KEYSEAT[:3]), "leave it for now").end == "left"


def test_the_same_as_last_time_but_another_size():
    talk = say(begun("keyseat-inch"), "same as last time but two and a quarter inches")
    assert talk.sheet.told["shaft.diameter"] == "2-1/4 in"
    assert "too narrow for the key" in talk.answer[-1]
    assert asked(talk) == "Cutter a half wide, as the key. Right?"
    talk = say(talk, "yes")
    assert asked(talk) == "Run it now?"
    assert talk.sheet.title == "Keyseat, 2-1/4 inch", "it is another part"
    assert "teeth = 18" in talk.sheet.text, "what no question is about is as it was"


def test_the_same_as_last_time_and_nothing_else():
    talk = say(begun("turn-stepped"), "same as last time")
    assert asked(talk) == "Run it now?"
    assert say(talk, "ask me more").more


def test_without_a_last_job_there_is_no_same():
    assert "don't know" in say(begun(), "same as last time").answer[0]


def test_where_nothing_was_named_it_is_asked_what_to_begin():
    shop = {"open job": "a shaft", "new job": "question by question"}
    talk = begun(**shop)
    assert question(talk) == ("What shall it be?",)
    assert say(talk, "go on").end == "open job"
    assert asked(say(talk, "a new one")) == "What's the job?"


CHOICES = [
    pytest.param(name, one, id=f"{name}-{one.key}")
    for name, operation in OPERATIONS.items()
    for one in operation.form.fields
    if one.kind is Kind.CHOICE
]


@pytest.mark.parametrize(("name", "one"), CHOICES)
def test_every_choice_is_understood_as_it_stands_on_the_screen(name: str, one: Field):
    machine = next(key for key, m in machines().items() if m.kind in OPERATIONS[name].machines)
    sheet = begun().shop.sheet(name, machine)
    talk = Talk(begun().shop, work=name, machine=machine, sheet=sheet, only=one.key)
    for choice in choices_of(one, sheet):
        told = say(talk, choice_words(choice)).sheet.told.get(one.key)
        said = match(book(), expected(talk), Heard(choice_words(choice)))
        meant = said.intent["choice"] if isinstance(said, Understood) else told
        assert choice in (meant, told), choice


def test_every_kind_of_work_is_understood_as_it_is_called():
    for name, operation in OPERATIONS.items():
        assert say(begun(), operation.called).work == name, operation.called


def test_what_is_asked_first_can_be_heard():
    talk = begun()
    grammar = compile_grammar(book(), expected(talk))
    for words in ("keyseat", "a keyway", "boring", "facing to length", "what can i say", "back"):
        assert grammar.accepts(normal(words).split()), words


@pytest.mark.parametrize("lines", [KEYSEAT[:count] for count in range(len(KEYSEAT) + 1)])
def test_the_page_shows_the_question_and_what_was_answered(lines: tuple[str, ...]):
    talk = after(lines)
    shown = page(talk)
    assert shown.instruction == asked(talk)
    assert set(talk.answer) <= set(shown.answer)
    if talk.asking is None:
        assert "shaft: 1-1/2 in" in shown.detail


def test_invented_machines_are_said_to_be():
    assert all(line.endswith("(invented)") for line in page(after(("keyseat",))).detail)
