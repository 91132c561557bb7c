"""What isn't about the work: "not you", "hang on", "free moves", and what the spindle does, told
back."""

from __future__ import annotations

from datetime import timedelta

from assistant.jobs.steps import Cut
from assistant.session import events as ev
from assistant.session.belief import DoubtKind
from assistant.session.state import State
from assistant.session.taking_back import undo
from assistant.session.work import Work
from assistant.spoken import Intent

JUST = timedelta(seconds=30)
"""So long after a word was taken "not you" is about it; later that was long acted upon."""


def not_you(work: Work, intent: Intent) -> None:
    """What was just heard wasn't meant for it: a question that it raised is dropped, and what was
    taken from it is taken back as "scratch that" does."""
    taken = work.state.just_taken
    newest = work.state.undoable[-1][0] if work.state.undoable else 0
    fresh = taken is not None and taken[0] == newest and work.now - taken[1] <= JUST
    if work.state.question is not None or fresh:
        undo(work, intent)
    elif newest:
        work.say("All right. Nothing is taken.", "Scratch that takes back the word before.")
    else:
        work.say("All right. Nothing is taken.")


def hang_on(work: Work, intent: Intent) -> None:
    """Nothing is said until the next command. After "stop" it is silent already, and stays so."""
    work.emit(ev.StopSaid() if work.before.stopped else ev.HangOnSaid())


def spindle(work: Work, intent: Intent) -> None:
    """What the spindle does, told back; what the step needs, where that is another state."""
    told = "on" if intent.name == "spindle_on" else "off"
    work.say(f"Spindle {told}.")
    wanted = _wanted(work.state)
    if wanted == "off" and told == "on":
        work.say("Here it has to stand still. Stop it first: I can't.")
    elif wanted == "on" and told == "off":
        cutting = isinstance(work.state.step, Cut)
        work.say("Back off before you start it again." if cutting else "Here it has to run.")


def free_moves(work: Work, intent: Intent) -> None:
    """Moves that aren't the job's: who runs it listens for those, until the way back is told."""
    work.say(not_now(work.state) or "Free moves. The job stands.")


def not_now(state: State) -> str:
    """Why a job can't be left for free moves now; '' where it can."""
    cutting = isinstance(state.step, Cut) and not state.doubts and not state.finished
    return "Not in a cut. Say that's through first." if cutting else ""


def _wanted(state: State) -> str:
    """`on` or `off` where what is asked for now needs it so."""
    if state.finished or state.step is None:
        return ""
    still = (DoubtKind.METAL, DoubtKind.LOOK, DoubtKind.PIECE, DoubtKind.MOVED)
    if state.doubts:
        return "off" if state.doubts[0].kind in still else ""
    return state.step.spindle
