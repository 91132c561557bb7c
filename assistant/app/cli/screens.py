"""`wheelcall screens`: every screen of a job, walked start to end, as pictures."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from assistant.app.cli.sheet import planned
from assistant.app.forward import forward_words
from assistant.app.settings import Settings, load_settings
from assistant.app.turn import turn
from assistant.devices.screen import PngScreen, Viewing, viewing
from assistant.devices.screen.find import SUPPOSED
from assistant.errors import BadInput, WheelcallError
from assistant.jobs.steps import Measure
from assistant.phrases.book import PhraseBook, load_book
from assistant.present.glance import LEADS
from assistant.present.glance_of import glance
from assistant.session.events import Adjusted
from assistant.session.reduce import fold
from assistant.session.state import Phase, State
from assistant.spoken import Heard, Understood
from assistant.units import parse_length

MOST = 2000
"""Commands after which a job that never ends is given up."""
LEAST, GREATEST = 160, 8000
"""Pixels of a side."""


def write_screens(
    job: str, size: str, out: Path, theme: str, distance: str = "", width: str = "", leads: str = ""
) -> int:
    """Write the screens into `out`, numbered in their order; how many pictures.

    `distance` and `width` (of the lit area) are those of the settings where they are not given; a
    page that takes several leaves from there has a picture of each.
    Raises `BadInput` for what can't be, `DeviceFailed` where the folder can't be written.
    """
    if theme not in ("dark", "light"):
        raise BadInput("--theme", theme, "wanted dark or light")
    settings = load_settings()
    leads = leads or settings.leads
    if leads not in LEADS:
        raise BadInput("--leads", leads, f"wanted {' or '.join(LEADS)}")
    across = pixels(size)
    view = seen_from(settings, across, distance, width)
    screen = PngScreen(out, across, smallest=view.smallest, leads=leads)
    for state in walked(load_book(), planned(job)):
        screen.show(glance(fold(Adjusted("theme", theme), state)))
    print(f"{len(screen.saved)} screens in {out}, as seen from {view.distance:~}")
    return len(screen.saved)


def seen_from(settings: Settings, across: tuple[int, int], distance: str, width: str) -> Viewing:
    """How a screen of so many pixels is seen; 24 inches where its width is nowhere told."""
    far = parse_length(distance, "m", "--distance") if distance else settings.distance
    wide = parse_length(width, "mm", "--width") if width else settings.screen_width
    return viewing(far, across, width=wide, diagonal=None if wide is not None else SUPPOSED)


def pixels(size: str) -> tuple[int, int]:
    """`1280x720` as two numbers."""
    parts = size.lower().replace("×", "x").split("x")
    if len(parts) == 2 and all(part.isdigit() for part in parts):
        width, height = (int(part) for part in parts)
        if all(LEAST <= side <= GREATEST for side in (width, height)):
            return width, height
    raise BadInput("--size", size, f"wanted WIDTHxHEIGHT, each {LEAST} to {GREATEST}, as 1280x720")


def walked(book: PhraseBook, state: State) -> Iterator[State]:
    """Every state that the job comes through when all goes as planned and is on size.

    Raises `WheelcallError` where the job can't be gone through by such words.
    """
    now = datetime.now(UTC)
    for _ in range(MOST):
        yield state
        if state.finished:
            return
        words = as_planned(state)
        outcome = turn(book, state, Heard(words, 1.0), now)
        if not isinstance(outcome.said, Understood) or outcome.state == state:
            raise WheelcallError(f"step {state.step_id}: {words!r} leads nowhere")
        state = outcome.state
    raise WheelcallError(f"not finished after {MOST} commands, at step {state.step_id}")


def as_planned(state: State) -> str:
    """What an operator says when all goes as planned."""
    step = state.step
    if state.phase is Phase.PAPER:
        return "bare"
    if state.phase is Phase.READ:
        return "dial reads zero"
    if isinstance(step, Measure) and step.kind == "walls":
        return "it's even"
    if isinstance(step, Measure) and step.kind == "size":
        return "bang on"
    return forward_words(state)
