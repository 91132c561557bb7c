"""The bench of the second opinion: what it keeps, and how it chooses the rule."""

from __future__ import annotations

from pathlib import Path

from earbench.corpora import Utterance
from earbench.kept import Case, heard, mark_of
from earbench.mixing import Surroundings
from earbench.second import MEASURE, REAL, Limits, Row, chosen, in_use

from assistant.devices.ear.scripted import ScriptedEar
from assistant.phrases.opinion import CLEAR, DOUBTFUL, SURE
from assistant.spoken import Heard
from tests.automata import automaton_of

CLIP = Path(__file__).parents[1] / "audio" / "clips" / "touched.flac"
GRAMMAR = {"commands": automaton_of("touched", "yes")}


def case(number: int) -> Case:
    return Case("commands", Utterance(CLIP, "touched", "one", "command"), Surroundings(), number)


def test_an_ear_hears_again_only_what_is_new_to_it(tmp_path: Path) -> None:
    kept = tmp_path / "kept.json"
    made: list[int] = []

    def make() -> ScriptedEar:
        made.append(len(made))
        return ScriptedEar([Heard("touched", 0.5 + len(made) / 10)] * 2)

    def hearings(mark: str, *numbers: int) -> list[tuple[str, float]]:
        return heard([case(number) for number in numbers], GRAMMAR, kept, mark, make)

    assert hearings("a", 1) == [("touched", 0.6)]
    assert hearings("a", 1) == [("touched", 0.6)]
    assert hearings("a", 2, 1) == [("touched", 0.7), ("touched", 0.6)]
    assert hearings("b", 1) == [("touched", 0.8)]
    assert made == [0, 1, 2]


def test_a_changed_model_has_another_mark(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    one.write_bytes(b"weights")
    other.write_bytes(b"graph")
    before = mark_of([one, other])
    assert mark_of([other, one]) == before
    other.write_bytes(b"another graph")
    assert mark_of([one, other]) != before


def test_code_has_another_mark_where_it_does_another_thing(tmp_path: Path) -> None:
    code = tmp_path / "code.py"
    marks = []
    for text in (
        'SHARE = 0.2\n"""Tuned."""\n\n\ndef half(x):\n    """A half."""\n    return x / 2\n',
        'SHARE = 0.2\n"""Tuned anew."""\n\n\ndef half(x):\n    # of it\n    return x / 2\n',
        "SHARE = 0.3\n\n\ndef half(x):\n    return x / 2\n",
    ):
        code.write_text(text)
        marks.append(mark_of([code]))
    assert marks[0] == marks[1] != marks[2]


def row(said: str, first: str, sure: float, second: str, second_sure: float = 0.9) -> Row:
    return Row(MEASURE, REAL, "quiet", said, first, sure, second, second_sure)


def test_the_limits_in_use_are_those_of_the_program() -> None:
    assert Limits() == Limits(DOUBTFUL, CLEAR, SURE)
    for sure in (0.5, 0.7, 0.85, 0.96, 0.98):
        for second, second_sure in (("six fifty", 0.9), ("six fifty", 0.5), ("", 0.0)):
            each = row("six fifteen", "six fifteen", sure, second, second_sure)
            assert in_use(each) is Limits().asks(each)


def test_ears_that_agree_ask_nothing() -> None:
    agreed = row("six twenty five", "six twenty five", 0.61, "six two five")
    assert not Limits(doubtful=1.0).asks(agreed)


def test_the_rule_that_is_chosen_leaves_the_fewest_wrong_for_what_it_may_ask() -> None:
    good = [row("six forty", "six forty", 0.95, "six forty") for _ in range(98)]
    doubted = [row("six forty", "six forty", 0.65, "six fourteen") for _ in range(2)]
    wrong = [row("six fifty", "six fifteen", 0.82, "six fifty")]
    limits = chosen([*good, *doubted, *wrong])
    assert limits.asks(wrong[0])
    # Asking the two as well costs less than may be asked; asking seven of a hundred costs more.
    many = [row("six forty", "six forty", 0.82, "six fourteen") for _ in range(7)]
    assert not chosen([*good, *many, *wrong]).asks(many[0])
