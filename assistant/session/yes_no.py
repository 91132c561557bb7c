"""What yes and no mean: to what is in doubt, else to the step at hand. An open question has its own
answers, in `asked.py`."""

from __future__ import annotations

from assistant.jobs.steps import Check, Measure, Move
from assistant.session import doing, keeping, left_out, mishap, trouble
from assistant.session.belief import DoubtKind
from assistant.session.reply import Instruction
from assistant.session.state import Phase
from assistant.session.work import Work
from assistant.spoken import Intent


def yes(work: Work, intent: Intent) -> None:
    """What yes means here: to what is in doubt, or to the step."""
    doubt = work.state.doubts[0] if work.state.doubts else None
    step = work.state.step
    if doubt is not None and doubt.kind is DoubtKind.PLAN:
        keeping.keep_plan(work, intent)
    elif doubt is not None and doubt.kind is DoubtKind.PIECE:
        mishap.piece_out(work, intent)
    elif doubt is not None and doubt.kind is DoubtKind.MOVED:
        trouble.moved(work, intent)
    elif doubt is not None and doubt.kind is DoubtKind.LOOK:
        trouble.metal_left(work, intent)
    elif doubt is not None:
        same_turn(work, intent)
    elif isinstance(step, Move) and step.done_words == "clear":
        doing.clear(work, intent)
    else:
        doing.checked(work, intent)


def no(work: Work, intent: Intent) -> None:
    """What no means here."""
    step = work.state.step
    doubt = work.state.doubts[0] if work.state.doubts else None
    if doubt is not None and doubt.kind is DoubtKind.PLAN:
        keeping.take_plan(work, intent)
    elif doubt is not None and doubt.kind is DoubtKind.PIECE:
        work.say("Get it out first: the next one would break too.", "Then say yes.")
        if left_out.one_of_many(work.state) is not None:
            work.say("Or leave this one out.")
    elif doubt is not None and doubt.kind is DoubtKind.MOVED:
        trouble.nothing_moved(work, intent)
    elif doubt is not None and doubt.kind is DoubtKind.DIAL:
        trouble.lost_count(work, intent)
    elif doubt is not None and doubt.kind is DoubtKind.LOOK:
        left_out.cut_too_far(work)
    elif work.state.phase is Phase.VERIFY:
        work.say("What does it read?")
    elif isinstance(step, Measure) and step.kind == "gauge":
        doing.gauge_fails(work)
    elif isinstance(step, Measure) and step.kind == "even":
        work.say("Then see why, before you go on.", "If you move the work, say it moved.")
    elif isinstance(step, Check):
        work.say("Then see to it first. Say checked when it's right.")
    else:
        work.say("All right.", Instruction())


def moved(work: Work, intent: Intent) -> None:
    """It moved: while a setting is read again, that setting alone."""
    if work.state.phase is Phase.VERIFY and not work.state.doubts:
        no(work, intent)
    else:
        trouble.moved(work, intent)


def same_turn(work: Work, intent: Intent) -> None:
    """The turn is the same: the dial is still to be read."""
    work.say("And what does it read?")
