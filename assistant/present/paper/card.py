"""The card for the wall: what may be said, from the phrase book, and what comes of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from assistant.phrases.book import PhraseBook
from assistant.present.paper.model import (
    ARMS_LENGTH_TYPE,
    Block,
    Cautions,
    Cell,
    Document,
    Heading,
    Table,
)

TOPICS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "Going on": {
            "ready_set": "the handle is where it was told",
            "through": "the cut is finished",
            "touched": "the cutter touches",
            "clear": "the cutter is off the work",
            "checked": "yes, that is seen to",
            "skip": "left out on purpose; it stands in the record",
            "even": "the mark, or both walls, are even",
            "bare": "touched without paper",
            "paper": "touched on paper or a feeler so thick",
            "paper_on": "there is paper on top",
        },
        "An answer": {
            "yes": "that's what I said",
            "no": "that's not it",
            "correct": "not that: this",
            "say_again": "once more",
            "undo": "take the last command back; it can't put metal back",
        },
        "Ask": {
            "what_now": "the step again",
            "where": "which step, which pass",
            "how_much_left": "to full depth",
            "how_deep": "the depth so far",
            "how_many_turns": "of the move at hand",
            "which_way": "the way of the move",
            "dial_should": "where to stop",
            "what_speed": "the spindle speed",
            "what_feed": "the feed, or seconds a turn",
            "what_size": "the size to end at, with its limits",
            "what_diameter": "the diameter to end at",
            "why": "how the number was come by",
            "how_far_to_run": "the travel of the cut",
            "where_touched": "what the zeros are",
            "how_many_passes": "in all",
            "help": "what may be said now",
        },
        "Ask, in some jobs": {
            "what_cutter": "which cutter the job wants",
            "key_stands": "how far the key stands out",
            "which_feed": "climb or conventional",
            "how_many_shims": "between the cutters",
            "how_big": "across what is made",
            "what_stack": "of gauge blocks",
            "which_face": "the one that comes next",
            "over_pins": "the size over pins",
            "what_blank": "the size of the blank",
        },
        "Tell": {
            "dial_reads": "where the dial stands",
            "same_turn": "no whole turn was lost",
            "measured": "a size",
            "over_under": "a size, by how far it is off",
            "left_wall": "one wall of the two",
            "right_wall": "the other wall",
            "cut_this_pass": "another depth for this pass",
            "speed_is": "the speed that is set",
            "feed_is": "the feed that is set",
            "note": "typed: a line for the record",
        },
        "When something goes wrong": {
            "stop": "hit your own stop button: the program can't stop the machine",
            "went_past": "the handle went too far",
            "lost_count": "the turns were lost",
            "dial_slipped": "the dial is worth nothing now",
            "moved": "the work moved",
            "nothing_moved": "after a break: all is as it was",
            "chatter": "a lower speed",
            "new_cutter": "another cutter is in",
        },
        "The next part": {
            "same_again": "the same job once more, in this setting",
            "next_part": "the same job once more, in this setting",
        },
        "The assistant itself": {
            "stop_listening": "until it hears the next line",
            "listen": "listening again",
            "metric": "say and show millimetres",
            "inch": "say and show inches",
            "louder": "",
            "softer": "",
            "slower": "",
            "faster": "",
            "light": "dark type on a light screen",
            "dark": "light type on a dark screen",
        },
        "Quick sums: open with the first line, then one of the others": {
            "quick_sum": "opens it; one answer, or ten seconds, closes it",
            "sum_speed": "a spindle speed",
            "sum_feed": "a feed",
            "sum_half": "",
            "sum_add": "",
            "sum_take": "",
            "sum_decimal": "",
            "sum_millimetres": "",
            "sum_inches": "",
            "sum_tap_drill": "",
            "sum_drill_size": "",
            "sum_turns": "turns and divisions on this machine",
            "sum_chord": "from hole to hole",
            "sum_triangle": "the long side and the angle",
            "sum_pace": "seconds a turn for a feed",
        },
    }
)
"""Heading, then intent and what it is for; where the words say it themselves, nothing."""
COLUMNS = 3
UNLISTED = "More"
LISTENING_ALONE = ("number",)
"""Not part of a job: only for listening to recordings."""


def phrase_card(book: PhraseBook) -> Document:
    """A phrase for all that a book lets be said; what the card does not know stands last."""
    blocks: list[Block] = [
        Cautions(
            (
                "In danger hit the machine's own stop button. Nothing you say stops a machine.",
                "It can't hear you while it speaks, unless you wear a headset: Escape silences it.",
            )
        )
    ]
    known = {name for topic in TOPICS.values() for name in topic}
    rest = {n: "" for n in book.intents if n not in known and n not in LISTENING_ALONE}
    for topic, entries in (*TOPICS.items(), (UNLISTED, rest)):
        said = [
            Cell(what, title=book.intents[name].examples[0])
            for name, what in entries.items()
            if name in book.intents
        ]
        if said:
            blocks += [Heading(topic), _columns(said)]
    return Document(
        "What I can say",
        book.title,
        (
            'There are two words and never one "done": "I\'m set" for the handle, "that\'s '
            'through" for the cut.',
            "The phrase book has more ways to say each. Sizes: wheelcall help numbers.",
        ),
        tuple(blocks),
        foot="Only what the step at hand allows is listened for.",
        type_size=ARMS_LENGTH_TYPE,
    )


def _columns(said: Sequence[Cell]) -> Table:
    """The cells side by side, to be read downwards."""
    high = -(-len(said) // COLUMNS)
    filled = [*said, *[Cell()] * (high * COLUMNS - len(said))]
    rows = tuple(tuple(filled[row::high]) for row in range(high))
    return Table((), rows, (1,) * COLUMNS)
