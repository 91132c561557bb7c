"""A whole job by sound files through the real ear, with real speech, journal and pictures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from assistant.app.assistant import Assistant, Devices
from assistant.app.operator import DemoOperator, read_script
from assistant.app.paths import configs_folder, find_job
from assistant.app.run_demo import run_demo
from assistant.app.transcript import Transcript, intent_text
from assistant.app.turn import Outcome
from assistant.devices.clock import SystemClock
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import open_journal
from assistant.devices.speaker import SilentSpeaker
from assistant.phrases.book import load_book
from assistant.ports import Recogniser, Speaker
from assistant.spoken import Heard, Understood


@dataclass
class Worked:
    """What became of a job."""

    finished: bool
    closing: str
    lines: list[str]
    """A line a command that was taken: intent, answer, big number."""
    asked_back: int
    corrected: int
    sentences: int
    """Of the largest grammar that the ear was held to."""
    assistant: Assistant
    operator: DemoOperator


class Watched(Assistant):
    """Keeps a line of each command that was taken."""

    def hear(self, heard: Heard, earlier=()) -> Outcome:
        self.largest = max(getattr(self, "largest", 0), self.ways.grammar.sentence_count)
        outcome = super().hear(heard, earlier)
        shown = self.show()
        if isinstance(outcome.said, Understood) and outcome.said.intent.name not in ("yes", "no"):
            self.lines = [*getattr(self, "lines", []), self._line(outcome, shown)]
        elif not isinstance(outcome.said, Understood) and outcome.said.candidate is not None:
            self.asked = getattr(self, "asked", 0) + 1
        return outcome

    @staticmethod
    def _line(outcome, shown) -> str:
        assert isinstance(outcome.said, Understood)
        said = " ".join(sentence.text for sentence in outcome.sentences)
        number = f"{shown.number} {shown.unit} {shown.what}".strip()
        return f"{intent_text(outcome.said.intent)} | {said} | {number}"


def work(
    name: str,
    ear: Recogniser,
    journal: Path,
    *,
    speaker: Speaker | None = None,
    swapped: Mapping[str, str] | None = None,
) -> Worked:
    """Work the demo `name`; `swapped` plays another recording than the phrase's own."""
    kept = open_journal(journal)
    devices = Devices(kept, speaker or SilentSpeaker(), HiddenScreen(), SystemClock())
    assistant = Watched(load_book(), devices, Transcript(lambda _line: None))
    script = read_script(configs_folder() / "demo" / f"{name}.toml")
    if swapped:
        clip = script.clip
        object.__setattr__(script, "clip", lambda phrase: clip(swapped.get(phrase, phrase)))
    operator = DemoOperator(script)
    opening = assistant.begin(find_job(script.job))
    finished = run_demo(assistant, operator, ear, opening, fast=True)
    worked = Worked(
        finished,
        assistant.closing_line(),
        getattr(assistant, "lines", []),
        getattr(assistant, "asked", 0),
        operator.corrected,
        getattr(assistant, "largest", 0),
        assistant,
        operator,
    )
    kept.close()
    return worked
