"""The sheet of a machine, and the word of the reader of machine files."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.dial import check_reading
from assistant.errors import BadFile, ImpossibleInput, Unlikely
from assistant.filling.machines.axes import AXES, FILE, key_of
from assistant.filling.machines.naming import file_name
from assistant.filling.sheet import Sheet
from assistant.machine import Machine, parse_machine

FEWEST = 2
"""Lines of any dial; one with few is asked about, as `likely` has it."""


@dataclass(frozen=True)
class MachineSheet(Sheet):
    """One machine as far as it is told."""

    @property
    def unit(self) -> str:
        """What its dials are marked in."""
        return "mm" if self.told.get("unit") == "mm" else "inch"

    @property
    def machine_kind(self) -> str:
        """As told."""
        return str(self.told.get("kind") or "")

    @property
    def title(self) -> str:
        """Its name."""
        return str(self.told.get("name") or self.machine_kind or "machine")

    @property
    def heading(self) -> str:
        """Name and kind."""
        return f"{self.title}: {self.machine_kind}, in {self.unit}"

    @property
    def stem(self) -> str:
        """The name of its file."""
        return file_name(self.title, self.machine_kind)

    @property
    def machine(self) -> Machine:
        """The machine itself, once all is told."""
        return parse_machine(self.text, FILE)

    def check(self, *, whole: bool) -> None:
        """What no reader of a file sees, then the reader of machine files. What is only unlikely
        is asked about by the fields."""
        self._wheels()
        self._dials()
        self._range()
        try:
            parse_machine(self.text, FILE)
        except Unlikely:
            if whole:
                raise

    def _wheels(self) -> None:
        axes = AXES.get(self.machine_kind, ())
        told = [self.told.get(f"?{key_of(axis)}") for axis in axes]
        if axes and not any(told) and None not in told:
            want = "a machine that is worked by handwheel has one with a dial at least"
            raise BadFile(FILE, f"?{key_of(axes[-1])}", "no", want)

    def _dials(self) -> None:
        for axis in AXES.get(self.machine_kind, ()):
            key = key_of(axis)
            lines = self.value_of(f"?{key}.lines")
            if isinstance(lines, int) and lines < FEWEST:
                raise BadFile(FILE, f"?{key}.lines", lines, "a dial has more lines than that")
            turn = self.size(f"axes.{key}.per_turn")
            for which in ("first", "second"):
                reading = self.size(f"?{key}.{which}")
                if turn is None or reading is None:
                    continue
                try:
                    check_reading(reading, turn)
                except ImpossibleInput as bad:
                    raise BadFile(FILE, f"?{key}.{which}", bad.value, bad.want) from bad

    def _range(self) -> None:
        low, high = self.value_of("?slowest"), self.value_of("?fastest")
        if isinstance(low, Decimal) and isinstance(high, Decimal) and high <= low:
            raise BadFile(FILE, "?fastest", f"{high:f}", f"must be over the slowest, {low:f}")
