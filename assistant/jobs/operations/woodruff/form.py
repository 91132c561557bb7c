"""What a person is asked to begin such a job: woodruff keyseat."""

from __future__ import annotations

from assistant.calc.table import rows
from assistant.calc.woodruff import suggested_keys
from assistant.errors import BadInput
from assistant.jobs.common.form import held
from assistant.jobs.field import Known, pick, size, yes
from assistant.jobs.milling.form import cutter, milled
from assistant.jobs.milling.key_form import SHAFT, Offered


def _numbers(known: Known) -> tuple[str, ...]:
    """Numbers of the keys that the table suggests for some shaft; others are typed."""
    found = {one for row in rows("woodruff_suggested") for one in row["numbers"].split("|")}
    return tuple(sorted(found, key=lambda one: (len(one), one)))


def _suggested(known: Known) -> Offered:
    """The key of those that suit the shaft which is taken where none is told."""
    told = known.size("shaft.diameter")
    try:
        keys = () if told is None else suggested_keys(told)
    except BadInput:
        return ()
    if not keys:
        return ()
    key = keys[len(keys) // 2]
    return (key.width, key.diameter)


FIELDS = (
    SHAFT,
    yes("?key", "key that suits the shaft", "Is it the key that suits the shaft?",
        "The tables suggest keys for each shaft. Another is as the drawing has it.",
        usual="yes", offer=_suggested,
        offered="Woodruff key {offer}, by the table. Right?"),
    pick("?key.by", "key told by", "By its number, or by width and height?",
         "Inch keys have a number, metric ones a size.", ("number", "size"),
         given="?key=no"),
    pick("key.number", "key number", "What number is the key?",
         "The number tells its width and its diameter.",
         _numbers, given="?key.by=number", free=True),
    size("key.width", "width of the key", "How wide is the key?", "As on the drawing.",
         "0.03", "0.75", given="?key.by=size", below="shaft.diameter"),
    size("key.height", "height of the key", "How high is the key?", "As on the drawing.",
         "0.05", "1.5", given="?key.by=size", below="shaft.diameter"),
    size("seat.from_end", "from the end face",
         "How far from the end face is the middle of the seat?",
         "The cutter is set over that place.", "0.1", "60"),
    pick("seat.measure", "measured", "Measured over the key, or above the shaft?",
         "How the depth is proved.", ("over the key", "above the shaft"),
         usual="over the key", aside=True),
    *cutter(("woodruff cutter",), body="stem", body_called="stem", own=True),
    held("vice", "v-blocks", "clamps"),
    pick("side", "the side that is touched", "Which side do you touch, front or back?",
         "The back is toward the column.", ("front", "back"), usual="front", aside=True),
    *milled(),
)  # fmt: skip
