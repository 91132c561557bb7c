"""What a phrase book is made of: templates, the phrases of an intent, the values of a slot."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.phrases.expression import Node
from assistant.spoken import Slot


@dataclass(frozen=True, slots=True)
class Template:
    """One template of an intent."""

    text: str
    """As it stands in the file."""
    node: Node
    bare: bool = False
    """Heard only while the step asks for this intent: a size with nothing around it."""


@dataclass(frozen=True, slots=True)
class Phrases:
    """All ways to say one intent."""

    intent: str
    templates: tuple[Template, ...]
    examples: tuple[str, ...]
    """Sentences as they are said. A template without choices and slots is its own example."""
    slots: tuple[Slot, ...]
    """The slots of its templates, as the book has them."""


@dataclass(frozen=True, slots=True)
class SlotValues:
    """A slot as the book has it: its kind, and for a choice the spoken forms of each value."""

    slot: Slot
    forms: Mapping[str, Node] = field(default_factory=dict)
