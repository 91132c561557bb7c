"""Machine profiles: handwheels, dials, speeds and feeds of one machine, read from TOML.

The travel of a handwheel turn can't be known from the kind of machine: every profile gives it,
and it should have been measured with an indicator.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from assistant.calc.dial import divisions_per_turn
from assistant.calc.exact import as_unit, system
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.likely import doubt_climbing, doubt_gearbox, doubt_wheel
from assistant.textfile import read_file, read_toml
from assistant.units import Quantity, inches

KINDS = ("horizontal mill", "vertical mill", "lathe", "drill press", "press")
BARE = ("press",)
"""Kinds without handwheels and spindle: an arbor press, a vice at the bench."""

DIVIDERS = ("dividing head", "rotary table")
FED = ("table", "saddle")
"""The axes that a mill feeds sideways, so that a cutter can climb on them."""
CLIMBS = ("never", "drag", "eliminator")
"""Whether a cutter may climb where the axis is fed, pulling the work in by its backlash: not at
all; in light passes, with its lock or gib nipped up so that it drags; or with a backlash eliminator
on its nut."""

WAYS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "table": ("right", "left"),
        "saddle": ("in", "out"),
        "knee": ("up", "down"),
        "quill": ("down", "up"),
        "carriage": ("left", "right"),
        "cross slide": ("in", "out"),
        "compound": ("in", "out"),
        "tailstock": ("in", "out"),
    }
)
"""The positive and the negative way of each axis, in the operator's words."""


def way(axis: str, sign: int) -> str:
    """The direction word of travel of that sign on an axis."""
    return WAYS[axis][0 if sign > 0 else 1]


@dataclass(frozen=True, slots=True)
class Wheel:
    """The part of a handwheel that is needed to show a move on it."""

    axis: str
    """What the operator grips: `table`, `saddle`, `knee`, `quill`, `carriage`, `cross slide` ..."""
    per_turn: Quantity
    graduation: Quantity
    rises: int
    """+1 where the dial's numbers rise with positive travel of the axis, -1 where they fall."""
    clockwise: int = 0
    """+1 where the wheel is turned clockwise, by the one who faces it, for positive travel; -1
    where the other way; 0 where that isn't told."""


@dataclass(frozen=True)
class Axis:
    """One handwheel and its dial."""

    name: str
    per_turn: Quantity
    """Travel a full turn."""
    graduation: Quantity
    """Travel a division of the dial."""
    rises: int
    """+1 where the numbers rise with positive travel, -1 where they fall."""
    settable: bool
    """Whether the dial can be set to zero."""
    backlash: Quantity
    """Lost motion on reversing, as measured on this machine; nothing where it isn't known."""
    diameter_reading: bool = False
    """A cross slide whose dial counts the diameter: the tool moves half of it."""
    backlash_known: bool = True
    """Whether the machine's file gives the backlash."""
    travel: Quantity | None = None
    """From one end of the axis to the other, as its dial counts it; None where the file doesn't
    tell, so that no move can be held against it."""
    clockwise: int = 0
    """+1 where a clockwise turn, seen by the one who faces the wheel, is positive travel, -1 where
    it is negative; 0 where the profile doesn't tell."""
    climb: str = "never"
    """One of `CLIMBS`: `never` where the profile doesn't tell."""

    def __hash__(self) -> int:
        return hash((self.name, self.rises))

    @property
    def wheel(self) -> Wheel:
        """What is needed to show a move on it."""
        return Wheel(self.name, self.per_turn, self.graduation, self.rises, self.clockwise)

    def way(self, sign: int) -> str:
        """The direction word of travel of that sign."""
        return way(self.name, sign)


@dataclass(frozen=True)
class Machine:
    """One machine of the shop. `parse_machine` gives the same object for the same text, so that
    what was worked out for a machine can be kept."""

    name: str
    kind: str
    unit: str
    """`inch` or `mm`: what its dials are marked in."""
    axes: Mapping[str, Axis]
    speeds: tuple[Quantity, ...]
    """Spindle speeds, rising; empty where it has no spindle."""
    feeds: tuple[Quantity, ...] = ()
    """Power feeds, rising; empty where the machine has hand feed only."""
    feed_axis: str = "table"
    least_cut: Quantity = field(default_factory=lambda: inches("0.004"))
    """A cut shallower than this rubs."""
    plates: tuple[tuple[int, ...], ...] = ()
    """Hole circles of the dividing plates."""
    dividing_ratio: int = 40
    """Turns of the crank, or of a rotary table's wheel, to one turn of the work."""
    divider: str = "dividing head"
    """`dividing head`, by plate and pin, or `rotary table`, by a wheel with a dial in degrees."""
    divider_finest: int = 60
    """The finest that a rotary table's dial or vernier shows, in arc seconds."""
    depth_stop: bool = False
    """Whether the quill has a stop that can be set."""
    lead_screw: Quantity | None = None
    """Travel of a lead screw turn, for threads."""
    thread_dial: tuple[int, int] | None = None
    """Teeth of the thread dial's gear on the lead screw, and lines on the dial; None without."""
    compound_zero: str = "axis"
    """Where the compound's scale reads 0: `axis` or `square`."""
    notes: tuple[str, ...] = ()

    def __hash__(self) -> int:
        # of all that it is: sizes and mappings in it are dear to hash, or can't be
        return hash((self.name, self.kind))

    def axis(self, name: str) -> Axis:
        """The axis of that name; `BadInput` names those it has."""
        try:
            return self.axes[name]
        except KeyError:
            raise BadInput("axis", name, f"{self.name} has {', '.join(self.axes)}") from None


NO_MACHINE = Machine("", "", "inch", MappingProxyType({}), ())
"""Where no job is open."""


def read_axis(reader: Fields, name: str, unit: str) -> Axis:
    """One axis of a profile, `unit` being the machine's; raises `BadFile`, and `Unlikely` for what
    is taken only where it is confirmed."""
    ways = WAYS[name]
    per_turn, graduation = _dial(reader, unit)
    dial_unit = system(per_turn)
    travel = reader.optional_length("travel", unit)
    axis = Axis(
        name=name,
        per_turn=per_turn,
        graduation=graduation,
        rises=1 if reader.choice("rises", ways) == ways[0] else -1,
        settable=reader.choice("zero", ("settable", "fixed"), "settable") == "settable",
        backlash=as_unit(reader.length("backlash", unit, "0", zero_ok=True), dial_unit),
        # taken for the other kind every cut is twice as deep or half: no guess at a cross slide
        diameter_reading=reader.choice(
            "reads",
            ("diameter", "travel"),
            ... if name == "cross slide" and reader.strict else "travel",
        )
        == "diameter",
        backlash_known="backlash" in reader.table,
        travel=None if travel is None else as_unit(travel, dial_unit),
        clockwise=(
            (1 if reader.choice("clockwise", ways) == ways[0] else -1)
            if "clockwise" in reader.table
            else 0
        ),
        climb=reader.choice("climb", CLIMBS, CLIMBS[0]) if name in FED else CLIMBS[0],
    )
    if axis.climb != CLIMBS[0] and not axis.backlash_known and reader.strict:
        want = "a climbing cutter pulls the work in by the backlash: measure it, and give it"
        reader.fail("climb", axis.climb, want)
    if not reader.flag("confirmed", False) and reader.strict:
        doubt_wheel(reader, unit, per_turn, graduation, axis.travel)
        doubt_climbing(reader, axis.climb, axis.backlash)
    if axis.backlash >= per_turn and reader.strict:
        reader.fail("backlash", reader.table["backlash"], "must be less than a turn")
    reader.done()
    return axis


def _dial(reader: Fields, unit: str) -> tuple[Quantity, Quantity]:
    """Travel of a turn and of a division, in the one unit that a dial is marked in."""
    per_turn = reader.length("per_turn", unit)
    graduation = reader.length("graduation", unit)
    if not reader.strict:
        return per_turn, as_unit(graduation, system(per_turn))
    if system(per_turn) != system(graduation):
        turn = "inches" if system(per_turn) == "inch" else "millimetres"
        want = f"a dial has one unit, and per_turn is in {turn}: give both as the dial is marked"
        reader.fail("graduation", reader.table["graduation"], want)
    try:
        divisions_per_turn(per_turn, graduation)
    except BadInput as bad:
        reader.fail("graduation", reader.table["graduation"], bad.want)
    return per_turn, graduation


@lru_cache(maxsize=32)
def parse_machine(text: str, path: Path | str) -> Machine:
    """Read a profile; every error is a `BadFile` that names file, key, value and what is wanted."""
    return _read(Fields(str(path), read_toml(text, path)))


def machine_once_taken(text: str, name: str) -> Machine:
    """The machine of a profile that an earlier version of the program took and kept with a job:
    what is checked today isn't held against it, nor what is wanted today missed in it.

    Raises `BadFile` for a text that no version could read.
    """
    return _read(Fields(name, read_toml(text, name), strict=False))


def _read(reader: Fields) -> Machine:
    unit = {"in": "inch", "inch": "inch", "mm": "mm"}[reader.choice("unit", ("inch", "in", "mm"))]
    kind = reader.choice("kind", KINDS)
    axes_reader = reader.table_at("axes", {} if kind in BARE else ...)
    axes: dict[str, Axis] = {}
    for key in axes_reader.table:
        name = key.replace("_", " ")
        if name not in WAYS:
            axes_reader.fail(key, "unknown axis", "wanted one of " + ", ".join(WAYS))
        axes[name] = read_axis(axes_reader.table_at(key), name, unit)
    if not axes and kind not in BARE:
        axes_reader.fail("", "empty", "wanted at least one handwheel, such as [axes.table]")
    plates = reader.take("plates", "wanted lists of hole circles", [])
    for plate in plates if isinstance(plates, list) else [plates]:
        if not isinstance(plate, list) or not all(type(c) is int and 2 < c < 500 for c in plate):
            reader.refuse("plates", plate, "wanted lists of hole counts, as [[15, 16], [21]]")
    ratio = reader.take("dividing_ratio", "wanted a whole number such as 40", 40)
    if type(ratio) is not int or not 1 <= ratio <= 360:
        reader.refuse("dividing_ratio", ratio, "wanted a whole number such as 40")
    feed_unit = (
        f"{unit}/minute"
        if reader.choice("feed_per", ("minute", "turn"), "minute") == "minute"
        else f"{unit}/turn"
    )
    lead = reader.take("lead_screw", "", None)
    thread_dial = None
    if "thread_dial_gear" in reader.table or "thread_dial_marks" in reader.table:
        if lead is None:
            reader.fail("thread_dial_gear", "given", "a thread dial runs on a lead_screw: give it")
        thread_dial = (
            reader.whole("thread_dial_gear", 4, 200),
            reader.whole("thread_dial_marks", 1, 48),
        )
    speeds = reader.numbers("speeds", "rpm", [] if kind in BARE else ...)
    if not speeds and kind not in BARE:
        reader.fail("speeds", "empty", "wanted the spindle speeds in rpm")
    machine = Machine(
        name=reader.line("name", "wanted the machine's name"),
        kind=kind,
        unit=unit,
        axes=MappingProxyType(axes),
        speeds=speeds,
        feeds=reader.numbers("feeds", feed_unit, []),
        feed_axis=reader.text("feed_axis", "wanted an axis", "table"),
        least_cut=reader.length("least_cut", unit, "0.004 in"),
        plates=tuple(tuple(plate) for plate in plates),
        dividing_ratio=ratio,
        divider=reader.choice("divider", DIVIDERS, "dividing head"),
        divider_finest=reader.whole("divider_finest", 1, 3600, 60),
        depth_stop=reader.flag("depth_stop", False),
        lead_screw=None if lead is None else reader.length("lead_screw", unit),
        thread_dial=thread_dial,
        compound_zero=reader.choice("compound_zero", ("axis", "square"), "axis"),
        notes=reader.lines("notes"),
    )
    if not reader.flag("confirmed", False) and reader.strict:
        doubt_gearbox(
            reader,
            unit=unit,
            speeds=machine.speeds,
            feeds=machine.feeds,
            a_turn=feed_unit.endswith("/turn"),
            least_cut=machine.least_cut,
            lead_screw=machine.lead_screw,
        )
    reader.done()
    return machine


def load_machine(path: Path) -> Machine:
    """Read a profile from a file."""
    return parse_machine(read_file(path), path)
