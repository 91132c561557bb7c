"""The questions at run time: what is kept, said and shown, and what keys and faults do."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from assistant.app.conversation import Edge
from assistant.app.drafts import Draft
from assistant.app.filling_in import FillingIn
from assistant.app.keys import press
from assistant.app.new_files import JobFile, MachineFile
from assistant.app.run_live import Live
from assistant.devices.clock import SystemClock
from assistant.devices.ear import HeardEvent
from assistant.devices.hidden import HiddenScreen
from assistant.devices.speaker import SilentSpeaker
from assistant.errors import BadFile
from assistant.filling.talk import Talk, of_a_machine
from assistant.jobs.planning import read_job
from assistant.present.glance import Moment
from assistant.spoken import Heard
from assistant.textfile import read_file
from tests.app.test_live_sums import ListeningEar
from tests.filling.talking import DRILL, KEYSEAT, after, begun, book


class Asked:
    """A conversation over fakes, with its files in a folder of the test's."""

    def __init__(self, folder: Path, talk: Talk | None = None) -> None:
        self.speaker, self.screen = SilentSpeaker(), HiddenScreen()
        self.draft, self.file = Draft(folder / "new-job.json"), JobFile(folder / "jobs")
        self.printed: list[str] = []
        self.filling = FillingIn(
            book(), Edge(self.speaker, self.screen, SystemClock()),
            talk or self.draft.load(begun().shop) or begun(), self.draft, self.file.keep,
            self.printed.append,
        )  # fmt: skip
        self.filling.begin()

    def say(self, *lines: str) -> Asked:
        for line in lines:
            self.filling.hear(Heard(line, engine="typed"))
        return self

    @property
    def last_said(self) -> str:
        return self.speaker.texts[-1]


def test_the_job_file_is_kept_once_all_is_told(tmp_path: Path):
    asked = Asked(tmp_path).say(*KEYSEAT)
    path = tmp_path / "jobs" / "keyseat-1.toml"
    head, _ = read_job(read_file(path), str(path))
    assert head.title == "Keyseat, 1-1/2 inch"
    assert asked.speaker.texts[-2:] == ["Kept as keyseat-1.", "Run it now?"]
    assert not asked.draft.path.exists(), "nothing of it is unfinished"
    assert not asked.filling.over
    assert asked.say("yes").filling.talk.end == "run"


def test_told_anew_the_same_file_is_written_again(tmp_path: Path):
    asked = Asked(tmp_path).say(*KEYSEAT, "change the material", "brass", "no")
    assert [path.name for path in (tmp_path / "jobs").iterdir()] == ["keyseat-1.toml"]
    assert asked.file.path is not None
    assert 'material = "brass"' in read_file(asked.file.path)


def test_a_second_job_gets_a_name_of_its_own(tmp_path: Path):
    Asked(tmp_path).say(*KEYSEAT, "no")
    Asked(tmp_path).say(*KEYSEAT, "no")
    names = sorted(path.name for path in (tmp_path / "jobs").iterdir())
    assert names == ["keyseat-1.toml", "keyseat-2.toml"]


@pytest.mark.parametrize("count", range(1, len(KEYSEAT)))
def test_cut_off_after_any_answer_it_goes_on_there(tmp_path: Path, count: int):
    before = Asked(tmp_path).say(*KEYSEAT[:count])
    # nothing is closed: the power is gone
    after = Asked(tmp_path)
    assert after.filling.talk.asking == before.filling.talk.asking
    assert after.speaker.texts[0] == f"Going on: {count} answered."
    after.say(*KEYSEAT[count:])
    assert (tmp_path / "jobs" / "keyseat-1.toml").is_file()


def test_numbers_words_and_what_was_left_out_come_back_as_they_were(tmp_path: Path):
    lines = ("tram", "sluice vertical", "head", "ten inches", "no", "skip", "ask me more")
    before = Asked(tmp_path).say(*lines, "skip").filling.talk
    after = Asked(tmp_path).filling.talk
    assert dict(after.sheet.told) == dict(before.sheet.told)
    angle = ("angle", "millrace horizontal", "sine bar", "twelve and a half")
    told = Asked(tmp_path / "other").say(*angle).filling.talk.sheet.told
    assert Asked(tmp_path / "other").filling.talk.sheet.told == told


def test_back_after_an_interruption(tmp_path: Path):
    Asked(tmp_path).say(*KEYSEAT[:4])
    asked = Asked(tmp_path).say("back", "back")
    assert asked.last_said == "What diameter is the shaft?"


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", '{"format": 99}', '{"format": 1}', "\0", '{"format": 1, "work": "x", '
     '"machine": "", "told": {}, "order": [], "declined": [], "more": false, "only": "", '
     '"like": ""}'],
)  # fmt: skip
def test_answers_that_can_not_be_read_are_named(tmp_path: Path, text: str):
    draft = Draft(tmp_path / "new-job.json")
    draft.path.write_text(text, encoding="utf-8")
    with pytest.raises(BadFile, match=r"new-job\.json"):
        draft.load(begun().shop)


def test_answers_for_a_machine_that_is_gone_are_named(tmp_path: Path):
    Asked(tmp_path).say(*KEYSEAT[:3])
    path = tmp_path / "new-job.json"
    kept = json.loads(path.read_text(encoding="utf-8"))
    path.write_text(json.dumps({**kept, "machine": "sold"}), encoding="utf-8")
    with pytest.raises(BadFile, match="can't be gone on with"):
        Draft(path).load(begun().shop)


def test_answers_of_another_job_are_put_aside_and_that_is_said(tmp_path: Path):
    Asked(tmp_path).say(*KEYSEAT[:3])
    fresh = Asked(tmp_path, begun()).say("slot")
    assert fresh.draft.before.is_file()
    assert any(str(fresh.draft.before) in line for line in fresh.printed)


def test_where_a_new_job_is_chosen_the_unfinished_one_goes_on(tmp_path: Path):
    Asked(tmp_path).say(*KEYSEAT[:3])
    shop = begun(**{"new job": "question by question", "the demo": "a recorded operator"})
    asked = Asked(tmp_path, shop).say("new job")
    assert "Going on: 3 answered." in asked.speaker.texts
    assert asked.last_said == "Key three eighths, by the standard. Right?"


def test_a_file_that_can_not_be_written_is_told_and_tried_again(tmp_path: Path):
    (tmp_path / "jobs").write_text("a file where the folder should be", encoding="utf-8")
    asked = Asked(tmp_path).say(*KEYSEAT)
    assert any(
        line.startswith("Answers: the file can't be written") for line in asked.filling.trouble
    )
    assert asked.last_said == "Run it now?"
    assert "Kept as" not in " ".join(asked.speaker.texts)
    asked.say("yes")
    assert not asked.filling.over, "what is in no file can't be run"
    (tmp_path / "jobs").unlink()
    asked.say("yes")
    assert asked.filling.trouble == ()
    assert asked.filling.talk.end == "run"


def test_answers_that_are_nowhere_else_are_said_to_be(tmp_path: Path):
    (tmp_path / "data").write_text("a file where the folder should be", encoding="utf-8")
    asked = Asked(tmp_path)
    asked.filling._draft.path = tmp_path / "data" / "new-job.json"
    asked.say(*KEYSEAT[:3])
    assert asked.filling.unkept
    assert any("isn't kept" in line for line in asked.filling.trouble)
    assert asked.filling.talk.answers == 3, "it goes on all the same"


def test_enter_is_never_yes_and_says_the_question_again(tmp_path: Path):
    asked = Asked(tmp_path).say(*KEYSEAT[:3])
    for key in ("enter", "space"):
        press(asked.filling, key)
        assert asked.last_said == "Key three eighths, by the standard. Right?"
    asked.say("no")
    assert asked.filling.talk.sheet.told["?key"] is False


def test_escape_is_silence_and_no_to_what_is_asked_back(tmp_path: Path):
    asked = Asked(tmp_path).say(*KEYSEAT[:2], "fifty")
    assert asked.last_said == "Fifty millimetres? Yes or no."
    hushed = asked.speaker.hushed
    press(asked.filling, "escape")
    assert asked.speaker.hushed > hushed
    assert asked.last_said == "What diameter is the shaft?"
    press(asked.filling, "escape")
    assert asked.filling.talk.asking is not None
    assert asked.filling.talk.asking.key == "shaft.diameter", "no answer to the question itself"


@pytest.mark.parametrize(
    ("key", "said"), [("left", "Back."), ("?", "What is asked next"), ("f1", "Say one of these")]
)
def test_keys_ask_what_the_words_do(tmp_path: Path, key: str, said: str):
    asked = Asked(tmp_path).say("keyseat") if key == "left" else Asked(tmp_path)
    press(asked.filling, key)
    assert any(text.startswith(said) for text in asked.speaker.texts)


def test_stop_is_silence_after_its_words(tmp_path: Path):
    asked = Asked(tmp_path).say(*KEYSEAT[:2])
    asked.say("stop")
    assert asked.last_said == "Hit your stop button. I can't."
    assert asked.filling.talk.asking is not None, "and nothing is lost"


def test_the_question_is_large_and_the_next_one_foreseen(tmp_path: Path):
    asked = Asked(tmp_path).say(*KEYSEAT[:4])
    shown = asked.screen.shown[-1]
    assert shown.moment is Moment.ASK
    assert shown.instruction == "How long is the seat, at full depth?"
    assert asked.speaker.foreseen == ["What diameter is the cutter?"]


def test_the_live_loop_holds_the_ear_to_the_question(tmp_path: Path):
    asked, ear = Asked(tmp_path), ListeningEar()
    live = Live(asked.filling, ear)  # type: ignore[arg-type]
    live.step()
    assert ear.held[-1].accepts(["keyseat"])
    ear.reports = [HeardEvent(Heard("keyseat", 0.9, 1e9, 1e9, engine="moonshine"))]
    live.step()
    live.step()
    assert ear.held[-1].accepts(["millrace", "horizontal"])
    assert not ear.held[-1].accepts(["keyseat"])


def test_an_answer_that_was_begun_before_the_question_does_not_count(tmp_path: Path):
    asked, ear = Asked(tmp_path), ListeningEar()
    asked.speaker = asked.filling.devices.speaker  # type: ignore[assignment]
    live = Live(asked.filling, ear, clock=lambda: 100.0)  # type: ignore[arg-type]
    live._spoken_until = 50.0
    ear.reports = [HeardEvent(Heard("keyseat", 0.9, 49.0, 51.0, engine="moonshine"))]
    live.step()
    assert not asked.filling.talk.work


def machine_file(folder: Path, *lines: str) -> tuple[MachineFile, Talk]:
    file = MachineFile(folder)
    talk = after(lines, of_a_machine(begun().shop))
    file.keep(talk)
    return file, talk


def test_a_machine_called_otherwise_leaves_no_second_file(tmp_path: Path):
    file, talk = machine_file(tmp_path, *DRILL)
    file.keep(after(("change the name", "no", "red drill press"), talk))
    assert [path.name for path in tmp_path.iterdir()] == ["red-drill-press.toml"]


def test_a_file_that_came_meanwhile_is_not_written_over(tmp_path: Path):
    (tmp_path / "drill-press.toml").write_text("of another window")
    with pytest.raises(FileExistsError, match="change the name"):
        machine_file(tmp_path, *DRILL)
    assert (tmp_path / "drill-press.toml").read_text() == "of another window"


@pytest.mark.parametrize("count", [1, 6, 9, 16, 17, len(DRILL) - 1])
def test_a_power_cut_in_the_walk_round_a_machine_loses_nothing(tmp_path: Path, count: int):
    draft = Draft(tmp_path / "new-machine.json")
    draft.save(after(DRILL[:count], of_a_machine(begun().shop)))
    again = Draft(draft.path).load(begun().shop)
    assert again is not None
    assert (
        after(DRILL[count:], again).sheet.text
        == after(DRILL, of_a_machine(begun().shop)).sheet.text
    )
