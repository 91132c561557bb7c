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
            "ready_set": "the handle is set",
            "through": "the cut is finished",
            "touched": "",
            "clear": "",
            "checked": "",
            "same_again": "",
            "next_part": "",
            "skip": "left out: in the record",
            "even": "",
            "bare": "",
            "paper": "",
            "paper_on": "",
        },
        "Answer": {
            "yes": "",
            "no": "",
            "correct": "not that: this",
            "say_again": "",
            "undo": "takes the word back, not the metal",
            "not_you": "",
        },
        "Ask": {
            "what_now": "",
            "where": "",
            "how_much_left": "",
            "how_deep": "",
            "how_many_turns": "",
            "which_way": "",
            "dial_should": "where to stop",
            "what_speed": "",
            "what_feed": "the feed, or seconds a turn",
            "what_size": "",
            "what_diameter": "",
            "why": "how it was come by",
            "how_far_to_run": "the travel of the cut",
            "where_touched": "what the zeros are",
            "help": "what may be said now",
        },
        "Ask, in some jobs": {
            "what_cutter": "",
            "key_stands": "",
            "how_many_passes": "",
            "which_feed": "climb or conventional",
            "how_many_shims": "",
            "how_big": "",
            "what_stack": "",
            "which_face": "",
            "over_pins": "",
            "what_blank": "",
            "next_division": "",
            "which_line": "",
            "what_wire": "",
            "over_wires": "",
            "thread_depth": "",
            "what_angle": "",
            "what_offset": "",
            "what_pair": "",
            "pick_up": "",
            "which_hole": "",
            "holes_left": "",
            "which_drill": "",
            "tap_turns": "",
            "which_division": "",
        },
        "Tell": {
            "dial_reads": "where the dial stands",
            "same_turn": "no whole turn was lost",
            "measured": "",
            "over_under": "a size, by how far it is off",
            "left_wall": "",
            "right_wall": "",
            "already_cut": "before its first cut here",
            "cut_this_pass": "another depth for this pass",
            "speed_is": "",
            "feed_is": "",
            "spindle_on": "",
            "spindle_off": "",
            "skip_finishing": "",
            "note": "typed: a line for the record",
            "free_moves": "",
        },
        "When something goes wrong": {
            "stop": "hit your stop button first",
            "went_past": "",
            "lost_count": "",
            "dial_slipped": "",
            "moved": "",
            "nothing_moved": "after a break",
            "chatter": "a lower speed",
            "new_cutter": "",
            "tool_broke": "",
            "tool_stuck": "",
            "half_nut_missed": "",
            "hit_shoulder": "",
            "leave_one_out": "",
        },
        "The assistant itself": {
            "hang_on": "",
            "which_word": "",
            "stop_listening": "until it hears the next line",
            "listen": "",
            "metric": "",
            "inch": "",
            "louder": "",
            "softer": "",
            "slower": "",
            "faster": "",
            "light": "dark type on a light screen",
            "dark": "light type on a dark screen",
        },
        "Quick sums: open with the first line, then one of the others": {
            "quick_sum": "opens it; one answer, or ten seconds, closes it",
            "sum_speed": "",
            "sum_feed": "",
            "sum_half": "",
            "sum_add": "",
            "sum_take": "",
            "sum_decimal": "",
            "sum_millimetres": "",
            "sum_inches": "",
            "sum_tap_drill": "",
            "sum_drill_size": "",
            "sum_turns": "",
            "sum_chord": "",
            "sum_triangle": "",
            "sum_pace": "",
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
            'through" for the cut. Sizes: wheelcall help numbers.',
        ),
        tuple(blocks),
        foot="Only what the step at hand allows is listened for.",
        type_size=ARMS_LENGTH_TYPE,
    )


def _columns(said: Sequence[Cell]) -> Table:
    """The cells side by side, row by row."""
    # those that need a word more first, so that rows are of one height
    said = sorted(said, key=lambda cell: not cell.text)
    high = -(-len(said) // COLUMNS)
    filled = [*said, *[Cell()] * (high * COLUMNS - len(said))]
    rows = tuple(tuple(filled[row * COLUMNS : (row + 1) * COLUMNS]) for row in range(high))
    return Table((), rows, (1,) * COLUMNS, dense=True)
