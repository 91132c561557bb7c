"""Dividing a circle: dividing head by plate and pin, rotary table by its wheel's dial.

The part that jobs share (flats, a gear, `operations/divide`): the set-up of plate and arms, and one
index step for each division.
Sources: crank turns = ratio / divisions, see `calc.indexing`; the handling is common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from assistant.calc.indexing import Choice, IndexMove, exact_degrees, index_angle, index_divisions
from assistant.calc.rotary import TableSetting, degrees_per_turn, table_angle, table_position
from assistant.errors import ImpossibleInput
from assistant.jobs.steps import Index, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, quantity

SOURCE = "crank turns = ratio / divisions; US Army OD1644"


@dataclass(frozen=True)
class Dividing:
    """Equal moves of the machine's dividing gear: once round in `divisions`, or by an angle."""

    machine: Machine
    divisions: int = 0
    """Equal parts of the circle; 0 where an angle is given."""
    angle: Quantity | None = None
    """Each move, where the circle isn't gone round."""

    @property
    def table(self) -> bool:
        """Whether it is a rotary table, read on a dial; else a dividing head with plates."""
        return self.machine.divider == "rotary table" and not self.machine.plates

    @property
    def device(self) -> str:
        """`head` or `table`, in words."""
        return "table" if self.machine.divider == "rotary table" else "head"

    @property
    def wheel(self) -> str:
        """What is turned."""
        return "wheel" if self.table else "crank"

    @property
    def move(self) -> IndexMove:
        """The move on the plates; raises `ImpossibleInput` where no circle can do it."""
        return _index_move(self.machine, self.divisions, self.angle)

    @property
    def choice(self) -> Choice | None:
        """The circle that is used, the largest that will do; None where whole turns are enough."""
        choices = self.move.choices
        return max(choices, key=lambda choice: choice.circle) if choices else None

    def setting(self, number: int) -> TableSetting:
        """Of a rotary table: where it stands for division `number`, from 1, always from zero."""
        ratio, finest = self.machine.dividing_ratio, self.machine.divider_finest
        if self.angle is not None:
            degrees = exact_degrees(self.angle) * (number - 1) % 360
            return table_angle(ratio, degrees_of(degrees), finest)
        return table_position(ratio, self.divisions, (number - 1) % self.divisions, finest)

    def setup(self) -> list[Step]:
        """Plate, pin, arms, backlash: all before the first division."""
        if self.table:
            return [
                Note(
                    id="divide-zero",
                    title="Rotary table at zero",
                    say=("Bring the table to zero, wheel turned clockwise.",
                         "Zero its dial. Lock it."),
                )
            ]  # fmt: skip
        steps: list[Step] = []
        choice = self.choice
        if choice is not None:
            plate = next(p for p in self.machine.plates if choice.circle in p)
            others = f"{min(plate)} to {max(plate)}"
            steps.append(
                Note(
                    id="divide-plate",
                    title=f"Plate with the {choice.circle} circle",
                    say=(f"Fit the plate with circles {others}.",
                         f"Pin in the {choice.circle} circle."),
                )
            )  # fmt: skip
            steps.append(
                Note(
                    id="divide-arms",
                    title=f"Sector arms: {choice.holes} spaces",
                    say=(f"Arms apart by {choice.holes} spaces, {choice.sector_holes} holes.",
                         "Don't count the hole the pin is in."),
                )
            )  # fmt: skip
        steps.append(
            Note(
                id="divide-first",
                title="First division",
                say=("Come to the first hole clockwise, to take up the backlash.",
                     "Drop the pin. Lock the head."),
            )
        )  # fmt: skip
        return steps

    def index(self, number: int, of: int, id_: str = "") -> Index:
        """The move to division `number`, from the one before it."""
        common = ("Past it? Back half a turn, and come again the same way.",)
        if self.table:
            return self._turn_wheel(number, of, id_ or f"index-{number}", common)
        move, choice = self.move, self.choice
        return Index(
            id=id_ or f"index-{number}",
            title=_title(number, of),
            say=(_counted(number, of), f"Unlock the {self.device}."),
            after=("Drop the pin, move the arms on. Lock it.",) if choice else ("Lock it.",),
            cautions=common,
            figure=self.figure,
            number=number,
            of=of,
            turns=move.turns,
            holes=choice.holes if choice else 0,
            circle=choice.circle if choice else 0,
            answers=division_answers(number, of),
        )

    def _turn_wheel(self, number: int, of: int, id_: str, cautions: tuple[str, ...]) -> Index:
        here, before = self.setting(number), self.setting(number - 1)
        turns = here.turns - before.turns
        if number > 1 and (here.turns, here.dial_degrees) < (before.turns, before.dial_degrees):
            turns += self.machine.dividing_ratio  # once round
        # a zero that is stopped at is not passed: counted with them, it is gone past by a turn
        passed = turns if here.dial_degrees else turns - 1
        zeros = f", past zero {_times(passed)}" if passed > 0 else ""
        return Index(
            id=id_,
            title=_title(number, of),
            say=(_counted(number, of), f"Unlock the table. Wheel on{zeros}.",
                 f"To {_dial_words(here)} on its dial."),
            after=("Lock it.",),
            cautions=cautions,
            figure=self._table_figure(here),
            number=number,
            of=of,
            turns=turns,
            answers=division_answers(number, of),
        )  # fmt: skip

    def _table_figure(self, here: TableSetting) -> Figure:
        """Whole degrees, as the table's own scale shows them: a check on the turns counted."""
        turn = degrees_per_turn(self.machine.dividing_ratio)
        exact = here.turns * turn + Fraction(here.dial_degrees)
        return Figure(
            degrees_of(Fraction(exact // 1)),
            "table at" if exact % 1 == 0 else "table past",
            0,
            (
                Term("exactly", degrees_of(exact), 0),
                Term("a turn of the wheel", degrees_of(turn), 0),
            ),
            "360 degrees x (division - 1) / divisions, each from zero",
            "geometry",
        )

    @property
    def figure(self) -> Figure:
        """The move of a dividing head: turns of the crank."""
        ratio = self.machine.dividing_ratio
        if self.angle is not None:
            exact = exact_degrees(self.angle) * ratio / 360
            by = Term("angle", self.angle, 0)
        else:
            exact = Fraction(ratio, self.divisions)
            by = Term("divisions", quantity(self.divisions, "dimensionless"), 0)
        terms = (Term("ratio of the head", quantity(ratio, "dimensionless"), 0), by)
        return Figure(quantity(exact, "turn"), "of the crank", 4, terms,
                      "ratio / divisions", SOURCE)  # fmt: skip


@lru_cache(maxsize=32)
def _move(ratio: int, circles: tuple[int, ...], divisions: int, degrees: Fraction) -> IndexMove:
    if divisions:
        return index_divisions(ratio, divisions, circles)
    return index_angle(ratio, degrees_of(degrees), circles)


def _index_move(machine: Machine, divisions: int, angle: Quantity | None) -> IndexMove:
    circles = tuple(hole for plate in machine.plates for hole in plate)
    degrees = Fraction(0) if angle is None else exact_degrees(angle)
    move = _move(machine.dividing_ratio, circles, divisions, degrees)
    if not move.exact:
        raise ImpossibleInput(
            "divisions" if divisions else "angle",
            divisions or f"{float(degrees):g} degrees",
            f"simple indexing can't do it: no circle of these plates fits. The nearest is "
            f"{abs(move.error_arcsec):.0f} seconds of arc out each time"
            + (
                f", {abs(move.total_error_arcsec):.0f} once round"
                if move.total_error_arcsec
                else ""
            )
            + "; wanted another plate, or differential indexing",
        )
    return move


def degrees_of(value: Fraction) -> Quantity:
    """An exact angle as a quantity."""
    return quantity(value, "degree")


def _title(number: int, of: int) -> str:
    return f"Division {number} of {of}" if number <= of else "Once round, to the first"


def _counted(number: int, of: int) -> str:
    """Counted aloud: `Division 3 of 7.`"""
    return f"{_title(number, of)}."


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def _dial_words(setting: TableSetting) -> str:
    parts = []
    for count, name in ((setting.degrees, "degree"), (setting.minutes, "minute"),
                        (setting.seconds, "second")):  # fmt: skip
        if count:
            parts.append(f"{Decimal(count).normalize():f} {name}{'' if count == 1 else 's'}")
    return ", ".join(parts) or "zero"


def division_answers(number: int, of: int) -> tuple[tuple[str, Figure | str], ...]:
    """Which division, and how many are left: the operation's own questions."""
    left = of - number
    return (
        ("which_division", f"Division {number} of {of}." if number <= of else "Back at the first."),
        ("holes_left", f"{left} to go after this one." if left > 0 else "This is the last one."),
    )
