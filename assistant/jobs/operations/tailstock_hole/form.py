"""What a person is asked to begin such a job: hole from the tailstock."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.jobs.drilling.form import HOLE, THREAD
from assistant.jobs.field import Field, pick, size
from assistant.jobs.lathe.form import in_the_lathe
from assistant.replacing import replace

MADE = "?made"
_CENTRE = f"{MADE}=centre"


def _where(kind: str, fields: tuple[Field, ...]) -> Iterator[Field]:
    """Each asked only for that kind of hole."""
    for one in fields:
        yield replace(one, when={MADE: (kind,), **one.when})


def _depth_by(kind: str) -> Field:
    return pick(f"{kind}.depth_by", "depth by", "Depth by the wheel's dial, or by the scale?",
                "The scale along the quill is the coarser one.", ("dial", "scale"), usual="dial",
                given=f"{MADE}={kind}", aside=True)  # fmt: skip


FIELDS = (
    size("work.diameter", "outside of the work", "What diameter is the work outside?",
         "Metal has to be left round the hole.", "0.05", "20"),
    pick(MADE, "what is made", "A hole, a thread, or a centre?",
         "A centre is for the work to run on.", ("hole", "thread", "centre")),
    *_where("hole", HOLE),
    _depth_by("hole"),
    *_where("thread", THREAD),
    _depth_by("thread"),
    pick("centre.size", "centre drill", "Which centre drill?",
         "Its number, or A and its pilot in millimetres.",
         ("1", "2", "3", "4", "5", "6", "7", "8"), given=_CENTRE, free=True),
    size("centre.mouth", "mouth of the centre", "How wide is the centre's mouth?",
         "Between the drill's pilot and its body.", "0.03", "1", given=_CENTRE),
    _depth_by("centre"),
    *in_the_lathe(only=("three-jaw", "four-jaw", "collet", "faceplate"), tailstock=False),
)  # fmt: skip
