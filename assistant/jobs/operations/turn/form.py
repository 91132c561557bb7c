"""What a person is asked to begin such a job: turning."""

from __future__ import annotations

from assistant.jobs.field import Field, size, toleranced, yes
from assistant.jobs.lathe.form import _FROM_END, CUTS, SPRING, in_the_lathe, lathe_tool, shoulder

MOST_STEPS = 5
"""Further shoulders that are asked for; `jobs/lathe/stepped.py` has the last word."""


def _step(number: int) -> tuple[Field, ...]:
    """A further shoulder, smaller and shorter than the one before."""
    gate, before = f"?step.{number}", "?shoulder" if not number else f"?step.{number - 1}"
    table, here = f"step.{number}", f"{gate}=yes"
    which = ("next", "one after", "third one", "fourth one", "fifth one")[number]
    return (
        yes(gate, f"the {which}", "Another step, smaller and shorter?",
            "Every shoulder is counted on the carriage's dial.", usual="no",
            given=f"{before}=yes & shoulder.by=carriage"),
        *toleranced(f"{table}.diameter", f"diameter of the {which}",
                    f"What diameter is the {which}?", "Smaller than the one before.",
                    "0.03", "20", given=here, limits_aside=False),
        *toleranced(f"{table}.length", f"length of the {which}",
                    f"How far is the {which} from the end face?", _FROM_END, "0.05", "60",
                    given=here),
        size(f"{table}.left_on", f"left on the {which}", "How much is left on that length?",
             "Until its diameter is in.", "0", "0.1", usual="the usual", given=here, aside=True),
    )  # fmt: skip


FIELDS = (
    size("work.stock", "stock", "What diameter is the stock?",
         "What there is before the first cut.", "0.06", "20"),
    *toleranced("work.diameter", "diameter", "What diameter is wanted?",
                "As on the drawing; the largest, where it is stepped.", "0.03", "20",
                limits_aside=False),
    *shoulder("shoulder", "shoulder", "To a shoulder?", "?shoulder"),
    *(field for number in range(MOST_STEPS) for field in _step(number)),
    *in_the_lathe(),
    *lathe_tool(cuts=CUTS),
    SPRING,
)  # fmt: skip
