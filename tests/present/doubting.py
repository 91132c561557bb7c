"""A state in any doubt, whether or not a job comes to it: what is presented holds for all."""

from __future__ import annotations

from dataclasses import dataclass, fields

from assistant.session.state import Doubt, State


@dataclass(frozen=True)
class _InDoubt(State):
    in_doubt_of: tuple[Doubt, ...] = ()

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        return self.in_doubt_of


def in_doubt(state: State, *doubts: Doubt) -> State:
    """The same state with these doubts, the first to be asked first."""
    kept = {one.name: getattr(state, one.name) for one in fields(State) if one.init}
    return _InDoubt(**kept, in_doubt_of=doubts)
