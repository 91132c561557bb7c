"""One operation as the rest of the program knows it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from importlib import import_module
from typing import Any, Protocol, cast

from assistant.drawing import Drawings
from assistant.errors import BadInput, WheelcallError
from assistant.fields import Fields
from assistant.jobs.field import Field, Form
from assistant.jobs.jobfile import Head
from assistant.jobs.moment import Now, Planned
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts
from assistant.machine import Machine

LAST = 1000
"""Rank of an operation that says nothing of where it stands among the others."""


class Work(Protocol):
    """What an operation's module `work` offers."""

    def read(self, head: Head, fields: Fields) -> Any:
        """The job from its file; `BadFile` for anything wrong in it."""

    def plan(self, job: Any, machine: Machine, facts: Facts) -> Plan:
        """The whole plan from what is known now; `BadInput` where it can't be made."""


@dataclass(frozen=True)
class Operation:
    """An operation, and where the rest of it is: its folder has the modules

    - `work` with `read` and `plan`, see `Work`;
    - `form` with `FIELDS`, what a person is asked to begin such a job;
    - `drawing` with `DRAWINGS`, where `draws` names any; with `NOW` and `PLANNED` where they show
      more of the step at hand, or on paper, than the sizes of the plan.

    Each is loaded when it is first wanted: to list operations loads none.
    """

    name: str
    """As a job file names it: `boring-head`; the folder is called so too, as `boring_head`."""
    called: str
    """As the title of a job begins: `Bored hole`."""
    in_short: str
    """As it stands in a list: `boring with a boring head`."""
    summary: str
    """What it is, in a sentence or two."""
    machines: tuple[str, ...]
    """Kinds of machine that can do it; `read` and `plan` have the last word."""
    main: str
    """Key of the size that tells two such jobs apart: `same again, but ...` changes it."""
    package: str
    """Its folder, as Python names it: `__name__`."""
    cuts: bool = True
    """Whether metal is cut, so that the material matters."""
    draws: tuple[str, ...] = ()
    """Kinds of drawing that its module `drawing` has, as `Plan.drawing_kind` names them."""
    stays: tuple[str, ...] = ()
    """Ids of its own steps that still hold for the next part in the same setting."""
    work: str = ""
    """The module that works it, where that is another operation's."""
    rank: int = LAST
    """Where it stands among the others when all are offered, the smallest first."""
    brought_by: str = ""
    """Name and version of the package that brings it; '' for the program's own."""

    @cached_property
    def _work(self) -> Work:
        return cast(Work, import_module(self.work or f"{self.package}.work"))

    def read(self, head: Head, fields: Fields) -> Any:
        """The job from its file; `BadFile` for anything wrong in it."""
        with self._answered_for():
            return self._work.read(head, fields)

    def plan(self, job: Any, machine: Machine, facts: Facts) -> Plan:
        """The whole plan from what is known now; `BadInput` where it can't be made."""
        with self._answered_for():
            made = self._work.plan(job, machine, facts)
            if self.brought_by:
                self._try(made)
            return made

    def _try(self, made: object) -> None:
        """A plan that another package made: is it one, and can it be drawn? Raises anything."""
        if not (isinstance(made, Plan) and made.operation == self.name):
            raise TypeError(f"what it made is no plan of a {self.name}")
        needs, draw = self.drawings.get(made.drawing_kind, ((), None))
        sizes = dict(made.drawn)
        if draw is not None and sizes.keys() >= set(needs):
            draw(sizes)

    @contextmanager
    def _answered_for(self) -> Iterator[None]:
        """What another package's operation fails with is said of that package, as a `BadInput`."""
        try:
            yield
        except WheelcallError:
            raise
        except Exception as error:
            if not self.brought_by:
                raise
            why = f"{self.brought_by}, which brings it, failed: {type(error).__name__}: {error}"
            raise BadInput("operation", self.name, why) from error

    @property
    def works(self) -> bool:
        """Whether there is what works it; loads that."""
        return all(callable(getattr(self._work, name, None)) for name in ("read", "plan"))

    @cached_property
    def form(self) -> Form:
        """What a person is asked to begin such a job."""
        fields = cast(tuple[Field, ...], import_module(f"{self.package}.form").FIELDS)
        return Form(self.name, self.called, self.machines, self.main, fields, self.cuts)

    @cached_property
    def drawings(self) -> Drawings:
        """Its drawings by their kind; none where it draws as another operation does."""
        return cast(Drawings, self._drawing("DRAWINGS"))

    @cached_property
    def shown_now(self) -> Now:
        """What its drawings show of the step at hand beside a depth and a touch, by kind."""
        return cast(Now, self._drawing("NOW"))

    @cached_property
    def shown_on_paper(self) -> Planned:
        """What its drawings show on paper beside the sizes of the plan, by kind."""
        return cast(Planned, self._drawing("PLANNED"))

    def _drawing(self, name: str) -> Any:
        """A table of its module `drawing`; empty where there is none."""
        if not self.draws:
            return {}
        return getattr(import_module(f"{self.package}.drawing"), name, {})
