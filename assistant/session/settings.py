"""How the operator wants to be spoken to and shown: volume, pace, units, light, listening."""

from __future__ import annotations

from decimal import Decimal

from assistant.session import events as ev
from assistant.session.reply import Instruction
from assistant.session.work import Work
from assistant.spoken import Intent
from assistant.units import Unit

VOLUME_STEP = Decimal("0.2")
LOUDEST = Decimal("1.4")
"""Above 1, the shop's own level, the voice is shaped more for noise first."""
RATE_STEP = 25
SLOWEST, FASTEST = 110, 290
"""Words a minute that the synthesiser still speaks clearly."""


def volume(work: Work, intent: Intent) -> None:
    """Louder or softer by a fifth, within 0.2 and 1.4."""
    step = VOLUME_STEP if intent.name == "louder" else -VOLUME_STEP
    new = min(LOUDEST, max(VOLUME_STEP, work.state.volume + step))
    at_end = new == work.state.volume
    work.emit(ev.Adjusted("volume", str(new)))
    work.say(f"That's as {'loud' if step > 0 else 'soft'} as I go." if at_end else "Like this.")


def rate(work: Work, intent: Intent) -> None:
    """Slower or faster."""
    step = RATE_STEP if intent.name == "faster" else -RATE_STEP
    new = min(FASTEST, max(SLOWEST, work.state.rate + step))
    at_end = new == work.state.rate
    work.emit(ev.Adjusted("rate", str(new)))
    work.say(f"That's as {'fast' if step > 0 else 'slow'} as I go." if at_end else "Like this.")


def unit(work: Work, intent: Intent) -> None:
    """Say and show in inches or millimetres; dials stay in their own unit."""
    wanted = {"inch": Unit.INCH, "metric": Unit.MM}[intent.name]
    work.emit(ev.Adjusted("unit", wanted.value))
    work.say(f"{wanted.plural.capitalize()}.", Instruction())


def theme(work: Work, intent: Intent) -> None:
    """Light on dark, or dark on light."""
    work.emit(ev.Adjusted("theme", intent.name))
    work.say("Like this.")


def listening(work: Work, intent: Intent) -> None:
    """Stop listening for all but `listen`, or listen again."""
    on = intent.name == "listen"
    work.emit(ev.Adjusted("listening", "yes" if on else "no"))
    if on:
        work.say("Listening.", Instruction())
    else:
        work.say("Not listening. Say listen when you want me.")
