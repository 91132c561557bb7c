"""Taking back the last command: the word, not the metal and not the dial."""

from __future__ import annotations

from assistant.calc.dial import split
from assistant.jobs.steps import Cut, Ground, Move
from assistant.session import events as ev
from assistant.session.dial_slots import working_axis
from assistant.session.reply import Instruction
from assistant.session.state import State
from assistant.session.work import Work
from assistant.spoken import Intent


def undo(work: Work, intent: Intent) -> None:
    """Take back the last command: the word, not the metal and not the dial.

    What was told was never said. What was done may have been done: metal and axes are unsure
    between before and after.
    """
    if work.state.question is not None:
        work.emit(ev.Answered(None))
        work.say("All right.", Instruction())
        return
    before = work.before
    if not before.undoable:
        work.say("Nothing to take back.", Instruction())
        return
    seq, target = before.undoable[-1]
    cuts = [
        step for step in before.plan.steps
        if isinstance(step, Cut) and before.confirmed.get(step.id) != target.confirmed.get(step.id)
    ]  # fmt: skip
    work.emit(ev.Undone(seq))
    work.say(f"Taken back: {before.last_words}." if before.last_words else "Taken back.")
    if cuts:
        work.say("I can take back the word, not the metal.")
    for cut in cuts:
        if work.state.ahead.measure_of(cut.surface) is not None:
            work.shake(Ground.METAL, cut.surface, "undone after a cut")
    for name in before.axes:
        _unsure_between(work, name, before, bool(cuts))
    axis = working_axis(work.state)
    nothing_yet = not cuts and axis and work.state.belief.lost(axis) is None
    if nothing_yet and isinstance(work.state.step, Move) and work.state.axes[axis].zeroed:
        work.shake(Ground.PLACE, axis, "undone at a move")
    work.place()
    work.instruct()


def _unsure_between(work: Work, name: str, before: State, cut: bool) -> None:
    """An axis that the taken-back command moved or zeroed may stand at either place."""
    now, then = work.state.axes[name], before.axes[name]
    if not now.zeroed or now == then:
        return
    if now.zeroed_at != then.zeroed_at:
        work.shake(Ground.DIAL, name, "undone after a zero")
        return
    wheel = work.state.machine.axis(name)
    gone = split(then.position - now.position, wheel.per_turn, wheel.graduation)
    ground = Ground.PLACE
    if cut or gone.turns:
        # a turn and more away "the same turn" may be either, and a feed went all the way or not;
        # of two places on either side of the zero the turns alone don't tell
        across = now.position.magnitude * then.position.magnitude < 0
        ground = Ground.AWAY if across and not cut else Ground.TURN
    work.shake(ground, name, "undone after a move")
