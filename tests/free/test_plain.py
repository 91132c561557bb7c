"""A session as it is typed, spoken and shown, kept as a reference.

    python -m tests.free.test_plain

writes it: read the difference before it is committed.
"""

from __future__ import annotations

from pathlib import Path

from assistant.free.page import page
from tests.free.talking import begun, said, say

REFERENCE = Path(__file__).resolve().parents[1] / "reference" / "free-moves.txt"
SESSIONS = {
    "leat-vertical": (
        "two inches left", "zero here", "table", "right", "two and three eighths left", "why",
        "I'm there", "half of that", "back", "I went past", "I'm there", "mark this one",
        "zero the saddle", "in", "forty millimetres right, then saddle in two inches", "I'm there",
        "I'm at 1 turn and 31", "I'm there", "mark this", "centre between a and b", "I'm there",
        "I'm there", "where am I", "how far to a", "go to a", "I'm there", "I'm there",
        "bolt circle of six on three inches", "three o'clock", "I'm there", "next hole",
        "I'm there", "I'm there", "scratch that", "drop it", "I'm back at alpha", "table", "right",
        "up ten thou", "knee", "99 in right", "two right", "what can I say", "stop", "that's all",
        "no", "that's all", "yes",
    ),
    "brook-lathe": (
        "zero the cross slide", "in", "cross slide in half a millimetre", "I'm there",
        "zero the carriage", "left", "ten left", "I'm there", "in two millimetres", "cross slide",
        "lost count", "cross slide in one", "I'm back at zero", "in", "dial slipped",
        "zero the cross slide", "in", "carriage touched", "it reads 2 turns and 5 mm", "right",
        "right", "carriage touched", "no turns and 5 mm", "left", "left", "go to the middle",
    ),
}  # fmt: skip


def transcript() -> str:
    lines = []
    for name, session in SESSIONS.items():
        talk = begun(name)
        lines += [f"{talk.machine.name}", ""]
        for words in session:
            talk = say(talk, words)
            lines += [f"> {words}", f'  "{said(talk)}"']
            shown = page(talk)
            if shown.number:
                lines.append(f"  {shown.what} {shown.number} {shown.unit} | {shown.dial}")
            lines.append("")
    return "\n".join(lines)


def test_a_session_is_as_it_was() -> None:
    assert transcript() == REFERENCE.read_text(encoding="utf-8")


if __name__ == "__main__":
    REFERENCE.write_text(transcript(), encoding="utf-8")
