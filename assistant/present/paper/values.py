"""Values of a plan as they stand on paper."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.jobs.plan import Plan
from assistant.present.drawn_now import planned_sizes
from assistant.present.formatting import like, show_number
from assistant.present.paper.model import Block, Heading, Table, cells
from assistant.spoken import Figure


def limits_text(figure: Figure, unit: str) -> str:
    """`1.649 to 1.664 in`, `at most 1.664 in`; '' where there are none."""
    low = None if figure.low is None else show_number(like(figure.low, figure), unit)
    high = None if figure.high is None else show_number(like(figure.high, figure), unit)
    if low is not None and high is not None:
        return f"{low.number} to {high}"
    if high is not None:
        return f"at most {high}"
    return f"at least {low}" if low is not None else ""


def plan_dimensions(plan: Plan) -> tuple[tuple[str, float], ...]:
    """The dimensions of the plan's drawing: lengths in its unit, angles and counts as they are."""
    return tuple(planned_sizes(plan).items())


def sources_of(*plans: Plan) -> list[str]:
    """Every source of the plans' results once, in their order: named by its place, from 1."""
    named = [figure.source for plan in plans for _, figure in plan.results if figure.source]
    return list(dict.fromkeys([*named, *(source for plan in plans for source in plan.sources)]))


def sources_table(sources: Sequence[str]) -> list[Block]:
    """The sources with their numbers."""
    if not sources:
        return []
    rows = tuple(cells(f"{number}", text) for number, text in enumerate(sources, 1))
    return [Heading("Sources"), Table((), rows, (1, 15))]


def source_number(figure: Figure, sources: Sequence[str]) -> str:
    """`3`, or '' for a figure without a source."""
    return f"{sources.index(figure.source) + 1}" if figure.source else ""
