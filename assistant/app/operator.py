"""The demo operator: recorded phrases, played one after another on what the assistant answers.

It knows the assistant by its spoken sentences alone, as a person would: it goes on when the
answer is the one it waits for, repeats itself when it was not heard, and says yes only to a
read-back that is right. What a recording says never reaches the matcher: the ear has to hear it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.demo import clip_path
from assistant.errors import BadFile
from assistant.fields import Fields
from assistant.textfile import read_file, read_toml

TRIES = 4
"""So often a phrase is said before the operator gives up."""


@dataclass(frozen=True)
class Line:
    """One thing the operator means to say."""

    say: str
    """The phrase; its recording is named after it."""
    until: str
    """Pattern that the answer must hold before the operator goes on."""
    right: str
    """Pattern of a read-back that is right, where the phrase carries a value."""


@dataclass(frozen=True)
class Script:
    """All that the operator says in one job."""

    name: str
    """Of the script's file: the recordings lie in a folder of that name."""
    job: str
    lines: tuple[Line, ...]

    def clip(self, phrase: str) -> Path:
        """The recording of a phrase; `DeviceMissing` where it wasn't made."""
        return clip_path(self.name, phrase)


def read_script(path: Path) -> Script:
    """The operator's lines; `BadFile` names what is wrong in them."""
    fields = Fields(str(path), read_toml(read_file(path), path))
    lines = []
    entries = fields.take("line", "wanted [[line]] tables")
    if not isinstance(entries, list) or not entries:
        fields.refuse("line", entries, "wanted [[line]] tables")
    for number, entry in enumerate(entries, 1):
        line = Fields(str(path), entry, f"line {number}: ")
        lines.append(
            Line(
                line.text("say", "wanted what is said"),
                line.text("until", "wanted a pattern of the answer", "."),
                line.text("right", "wanted a pattern of the read-back", ""),
            )
        )
        for one in (lines[-1].until, lines[-1].right):
            try:
                re.compile(one)
            except re.error as error:
                raise BadFile(path, f"line {number}", one, f"not a pattern: {error}") from None
        line.done()
    script = Script(
        name=path.stem,
        job=fields.text("job", "wanted the name of a job"),
        lines=tuple(lines),
    )
    for recording_key in ("voice", "pace", "seed", "phrases"):
        fields.take(recording_key, "", None)
    fields.done()
    return script


class DemoOperator:
    """Chooses what to say next from what was answered."""

    def __init__(self, script: Script) -> None:
        self.script = script
        self.corrected = 0
        """Wrong read-backs that were put right."""
        self._at = 0
        self._tries = 0
        self.gave_up = ""

    def next(self, answer: Sequence[str]) -> str | None:
        """The phrase to say after `answer`; None when all is said or it gives up."""
        text = " ".join(answer)
        if self._tries:  # something was said: was it taken?
            line = self.script.lines[self._at]
            if text.rstrip().endswith("Yes or no."):
                if re.search(line.right or re.escape(line.say), text, re.IGNORECASE):
                    return "yes"
                self.corrected += 1
                return "no"
            if text and re.search(line.until, text, re.IGNORECASE):
                self._at += 1
                self._tries = 0
        if self._at == len(self.script.lines):
            return None
        if self._tries == TRIES:
            self.gave_up = self.script.lines[self._at].say
            return None
        self._tries += 1
        return self.script.lines[self._at].say
