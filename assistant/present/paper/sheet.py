"""The set-up sheet: everything of a plan that is wanted at the machine, in the order of work."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Index, Measure, Move, Note, Step, Touch
from assistant.present.drawings import draw
from assistant.present.formatting import (
    dial_text,
    goes_round,
    passes_zero,
    show,
    show_turns,
    turns_of,
)
from assistant.present.move_words import printed
from assistant.present.paper.folding import fold, shorten
from assistant.present.paper.model import (
    ARMS_LENGTH_TYPE,
    NEVER,
    Block,
    Cautions,
    Cell,
    Document,
    Heading,
    Paragraph,
    Picture,
    Table,
    cells,
)
from assistant.present.paper.values import (
    limits_text,
    plan_dimensions,
    source_number,
    sources_of,
    sources_table,
)
from assistant.replacing import replace
from assistant.spoken import DialMove, Figure

CHECKS = (0.7, 1, 14.9)
_SIGNS = {1: "+", -1: "−", 0: "with"}

Walked = tuple[int, Step, Figure | None]
"""Number of the step, the step, and its figure as if every move before it were made."""


def setup_sheet(
    plan: Plan,
    walked: Iterable[tuple[Step, Figure | None]],
    *,
    machine: str,
    material: str = "",
    notes: Sequence[str] = (),
    printed: str = "",
) -> Document:
    """The sheet of `plan`, whose steps come with the figures of `walked`; lengths are in the
    plan's unit, dials as they are marked."""
    steps: list[Walked] = [(n, step, figure) for n, (step, figure) in enumerate(walked, 1)]
    begins = next(
        (n for n, (_, step, _) in enumerate(steps) if isinstance(step, Touch | Move | Cut | Index)),
        len(steps),
    )
    before = [one for one in steps[:begins] if _is_preparation(*one[1:])]
    work = [one for one in steps if one not in before]
    about = [f"{plan.operation} on {machine}", material, *notes]
    blocks: list[Block] = [
        *_picture(plan),
        Cautions((NEVER, *_cautions(plan))),
        *_checks(before),
        *_settings(before, plan.unit),
        Heading("Step by step"),
        Paragraph("Every reading is planned from a fresh touch. At the machine go by the dial."),
        _work(work, plan.unit),
        *numbers(plan),
    ]
    return Document(
        "Set-up sheet",
        plan.title,
        (" · ".join(text for text in about if text), printed),
        tuple(blocks),
        foot=plan.title,
        type_size=ARMS_LENGTH_TYPE,
    )


def _picture(plan: Plan) -> list[Block]:
    drawing = draw(plan.drawing_kind, plan_dimensions(plan))
    sizes = Table(
        (),
        tuple(
            cells(name, Cell(show(figure, plan.unit) + _limits_below(figure, plan.unit), bold=True))
            for name, figure in plan.results
        ),
        (3, 2.4),
    )
    if drawing is None:
        return [sizes] if plan.results else []
    return [
        Picture(drawing, 75.0, sizes if plan.results else None, drawing.title.partition(",")[0])
    ]


def _limits_below(figure: Figure, unit: str) -> str:
    text = limits_text(figure, unit)
    return f"\n{text}" if text else ""


def _cautions(plan: Plan) -> list[str]:
    """Each wording once, in the order of the work."""
    return list(dict.fromkeys(c for step in plan.steps for c in step.cautions))


def _checks(steps: list[Walked]) -> list[Block]:
    rows = [
        cells(
            Cell(box=True),
            f"{number}",
            Cell(run_on((*step.say, *step.after)), title=f"{step.title}."),
        )
        for number, step, _ in steps
        if isinstance(step, Check)
    ]
    if not rows:
        return []
    return [Heading("Checks"), Table((), tuple(rows), CHECKS)]


def _settings(steps: list[Walked], unit: str) -> list[Block]:
    rows = []
    for number, step, figure in steps:
        if isinstance(step, Note) and step.setting and figure is not None:
            value = Cell(show(figure, unit), bold=True, large=True)
            words = Cell(run_on((*step.say, *step.after)), title=f"{figure.what.capitalize()}.")
            rows.append(cells(Cell(box=True), f"{number}", words, value))
    if not rows:
        return []
    return [Heading("Speeds and feeds"), Table((), tuple(rows), (0.7, 1, 10, 5))]


def _is_preparation(step: Step, figure: Figure | None) -> bool:
    """Checks and settings have lists of their own where they come before any work; later they
    stand in its order: a drill changed half way has its own speed."""
    return isinstance(step, Check) or _is_setting(step, figure)


def _is_setting(step: Step, figure: Figure | None) -> bool:
    return isinstance(step, Note) and bool(step.setting) and figure is not None


def _work(steps: list[Walked], unit: str) -> Table:
    rows = [_row(number, step, figure, unit) for number, step, figure in steps]
    rows = shorten(fold(rows))
    return Table(("", "No", "Do", "Turns and dial", "Depth"), tuple(rows), (0.7, 1.4, 7.1, 4.8, 3))


def _row(number: int, step: Step, figure: Figure | None, unit: str) -> tuple[Cell, ...]:
    """What is done, where the dial stops, how deep that is."""
    dial, depth = Cell(), ""
    lead = ""
    if figure is not None and figure.move is not None:
        lead = f"{printed(step, figure)}."
        dial = Cell(dial_lines(figure.move), bold=True, large=True)
    elif isinstance(step, Measure):
        dial = Cell(_to_fill_in(step, figure, unit), bold=True)
    elif isinstance(step, Index) and by_crank(figure):
        dial = Cell(crank_lines(step), bold=True, large=True)
    elif isinstance(step, Touch):
        dial = Cell(f"{step.axis} dial to zero", bold=True)
    elif figure is not None and not isinstance(step, Cut):
        dial = Cell(f"{figure.what}\n{show(figure, unit)}", bold=True, large=isinstance(step, Note))
    if isinstance(step, Move) and step.depth_after is not None:
        depth = show(step.depth_after, unit)
    if isinstance(step, Cut) and step.depth.magnitude:
        if not dial.text:
            dial = Cell(f"takes {show(step.taken, unit)}")
        depth = show(step.depth, unit)
        if step.remaining is not None:
            depth += f"\nleft {show(step.remaining, unit)}"
    words = run_on((*step.say, lead, *step.after))
    do = Cell(words, title=f"{step.title[:1].upper()}{step.title[1:]}.")
    return cells(Cell(box=True), f"{number}", do, dial, Cell(depth, bold=True))


def run_on(texts: Iterable[str]) -> str:
    """Sentences as one text; `Drop the knee. Then:` runs on into the one after it."""
    joined = ""
    for text in filter(None, texts):
        if joined.endswith(":"):
            joined = f"{joined[:-1]} {text[:1].lower()}{text[1:]}"
        else:
            joined = f"{joined} {text[:1].upper()}{text[1:]}".strip()
    return joined


def dial_lines(move: DialMove) -> str:
    """Turns, then where to stop; how far to come back, where the backlash wants it."""
    if goes_round(move) and move.back_off is not None:
        back = turns_of(move.back_off, move.wheel)
        return f"back off {back}\nstop at {dial_text(move.reading, move.wheel)}"
    turns = show_turns(move)
    where = "stays at" if turns == "stays" else "stop at"
    lines = [] if turns == "stays" else [turns]
    if passes_zero(move):
        lines.append("past zero")
    lines.append(f"{where} {dial_text(move.reading, move.wheel)}")
    if move.back_off is not None:
        lines.append(f"coming back {turns_of(move.back_off, move.wheel)}")
    return "\n".join(lines)


def by_crank(figure: Figure | None) -> bool:
    """Whether it is divided by turns of a crank: not by a rotary table's dial, whose zero is
    counted as it passes and comes by once more or less than the wheel turns."""
    return figure is None or str(figure.value.units) == "turn"


def crank_lines(step: Index) -> str:
    """`5 turns`, and on a line below it `35 holes on the 49`."""
    turns = f"{step.turns} turn{'' if step.turns == 1 else 's'}" if step.turns else ""
    holes = f"{step.holes} holes on the {step.circle}" if step.holes and step.circle else ""
    return "\n".join(text for text in (turns, holes) if text)


def _to_fill_in(step: Measure, figure: Figure | None, unit: str) -> str:
    """Limits, and a line to write what was measured."""
    if step.kind == "even":
        return "even?  yes   no"
    lines = []
    if figure is not None:
        limits = limits_text(replace(figure, low=step.low, high=step.high), unit)
        lines.append(limits or f"expected {show(figure, unit)}")
    lines.append("one ________\nother ______" if step.kind == "walls" else "is ____________")
    return "\n".join(lines)


def numbers(plan: Plan) -> list[Block]:
    """How each result was come by; sources are listed once, and named by their number."""
    sources = sources_of(plan)
    rows = []
    for name, figure in plan.results:
        terms = "\n".join(
            f"{_SIGNS[term.sign]} {term.name} {show(term.value, plan.unit)}"
            for term in figure.terms
        )
        made = "\n".join(text for text in (terms, figure.formula) if text)
        number = source_number(figure, sources)
        if made or number:
            rows.append(cells(name, Cell(show(figure, plan.unit), bold=True), made, number))
    blocks: list[Block] = []
    if rows:
        head = ("Result", "", "Made of", "From")
        blocks += [
            Heading("Where the numbers come from"),
            Table(head, tuple(rows), (4, 2.6, 8, 1.4)),
        ]
    return blocks + sources_table(sources)
