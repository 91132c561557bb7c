"""Free moves that begin from a job: its zeros are known, and its dials' rings stay as they are."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from assistant.free.places import Lost, Places, Slide, nowhere
from assistant.free.talk import Talk
from assistant.free.trouble import shaken
from assistant.jobs.steps import Ground
from assistant.session.state import State

_LOST = MappingProxyType(
    {
        None: Lost.NOTHING,
        Ground.PLACE: Lost.TURN,
        Ground.TURN: Lost.TURN,
        Ground.AWAY: Lost.TURN,
        Ground.COUNT: Lost.COUNT,
    }
)
"""What a job doesn't know of an axis; anything else costs it its zero."""


def from_job(state: State, kept: Talk | None = None) -> Talk:
    """Free moves on the machine of a job that stands; with the zeros and marks of those before, as
    far as the job gave the axis no other zero since."""
    title = state.plan.title or state.job_name
    zeros = MappingProxyType({name: axis.zeroed_at for name, axis in state.axes.items()})
    places = nowhere(state.machine)
    for name in state.machine.axes:
        places = places.with_slide(name, _slide(state, places, name))
    if kept is not None:
        places = _gone_on(kept, places, zeros)
    return Talk(state.machine, places, job=title, job_zeros=zeros)


def _slide(state: State, places: Places, name: str) -> Slide:
    """An axis as the job knows it."""
    now, nothing = state.axes[name], places.slides[name]
    lost = _LOST.get(state.belief.lost(name), Lost.ZERO) if now.zeroed else Lost.ZERO
    if lost is Lost.ZERO:
        return nothing
    side = now.came or 1
    return Slide(
        now.position, now.position, now.zero_reading or nothing.reading, side, side,
        sure=now.came != 0, lost=lost, low=now.position, high=now.position, ring_stays=True,
    )  # fmt: skip


def _gone_on(kept: Talk, places: Places, zeros: MappingProxyType[str, int]) -> Places:
    """The places that were kept, but for axes that the job zeroed since: those as the job has them,
    and in no mark any more."""
    found = replace(kept.places, legs=(), pattern=None, last=None)
    for name, slide in places.slides.items():
        if kept.job_zeros.get(name) != zeros[name] or found.slides[name].lost is Lost.ZERO:
            found = shaken(found, name, Lost.ZERO).with_slide(name, slide)
    return found
