"""The printed transcript: heard, understood, confidence, answer, big number."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from assistant.app.turn import Outcome
from assistant.present.glance import Glance
from assistant.spoken import Heard, Intent, Understood
from assistant.units import is_quantity


def intent_text(intent: Intent | None) -> str:
    """An intent as one word and its values: `measured size=1.5 inch`."""
    if intent is None:
        return "-"
    values = [
        f"{name}={value.magnitude.normalize():f} {value.units}" if is_quantity(value)
        else f"{name}={value}"
        for name, value in intent.slots
    ]  # fmt: skip
    return " ".join([intent.name, *values])


@dataclass
class Transcript:
    """Prints what goes on, a few lines a command, and counts."""

    tell: Callable[[str], None] = print
    heard: int = 0
    """Commands heard: sound that had words in it."""
    understood: int = 0

    def command(self, heard: Heard, outcome: Outcome, glance: Glance) -> None:
        """One command and what became of it."""
        if not heard.words:
            return
        self.heard += 1
        self.tell(f"heard       {heard.words}   ({heard.engine}, {heard.confidence:.2f})")
        if isinstance(outcome.said, Understood):
            self.understood += 1
            self.tell(f"understood  {intent_text(outcome.said.intent)}")
        else:
            detail = f": {outcome.said.detail}" if outcome.said.detail else ""
            self.tell(f"not taken   {outcome.said.reason.value}{detail}")
        self.answer(tuple(sentence.text for sentence in outcome.sentences), glance)

    def answer(self, sentences: tuple[str, ...], glance: Glance) -> None:
        """What is said and shown."""
        if sentences:
            self.tell(f"says        {' '.join(sentences)}")
        if glance.number:
            self.tell(f"shows       {glance.number} {glance.unit}  {glance.what}")
        self.tell("")

    def closing(self, title: str, done: int, steps: int) -> str:
        """The last line."""
        word = "finished" if done == steps else "not finished"
        return (
            f"{word}: {title}, {done} of {steps} steps, "
            f"{self.heard} commands heard, {self.understood} understood"
        )
