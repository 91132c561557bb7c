"""Questions of the catalogue that gather several functions, or take their inputs another way.

Each answers one entry of `calc/listing/`; a job calls the functions behind them itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc import cutting, dial, positions, speeds
from assistant.calc.exact import in_unit, system
from assistant.units import Quantity, quantity

# --- dials -----------------------------------------------------------------------------------


def handwheel_move(
    distance: Quantity,
    per_turn: Quantity,
    graduation: Quantity | None = None,
    start: Quantity | None = None,
    numbers: str = "rise",
) -> dict[str, object]:
    """A travel as turns, divisions and the reading to stop at."""
    unit = str(per_turn.units)
    step = graduation if graduation is not None else per_turn
    if graduation is not None:
        dial.divisions_per_turn(per_turn, graduation)
        distance = dial.settle(distance, graduation)
    travel = quantity(in_unit(distance, unit), unit)
    made = dial.move(travel, per_turn, step, 1 if numbers == "rise" else -1, start)
    return {
        "turns": made.turns, "part": quantity(made.part, unit),
        "divisions": made.divisions if graduation is not None else None,
        "reading": made.reading, "crossings": made.crossings,
    }  # fmt: skip


def dial_setting(target: Quantity, graduation: Quantity, toward: str) -> Quantity:
    """A target set to half divisions of a dial."""
    return dial.settle(target, graduation, dial.Toward(toward))


def travel_so_far(
    turns: int, reading: Quantity, per_turn: Quantity, start: Quantity | None = None
) -> Quantity:
    """Travel behind whole turns and a reading, numbers rising."""
    return dial.travel_from_turns(turns, reading, per_turn, start=start)


def come_back(travel: Quantity, per_turn: Quantity, backlash: Quantity) -> dict[str, object]:
    """How to come back by a travel so that the backlash is taken up again."""
    size = quantity(abs(in_unit(travel, str(per_turn.units))), str(per_turn.units))
    way = dial.approach(quantity(-in_unit(size, str(size.units)), str(size.units)), 1,
                        per_turn, backlash)  # fmt: skip
    return {
        "back": quantity(-in_unit(way.first, str(size.units)), str(size.units)),
        "forward": way.last, "overshoot": way.back_off,
    }  # fmt: skip


def dial_diameter(on_dial: Quantity, reads: str) -> dict[str, Quantity]:
    """What a cross-slide dial does to tool and diameter."""
    kind: dial.Reads = "diameter" if reads == "diameter" else "radius"
    return {
        "tool": dial.tool_travel(on_dial, kind), "diameter": dial.diameter_change(on_dial, kind)
    }  # fmt: skip


# --- speeds ----------------------------------------------------------------------------------


def surface_speeds(material: str, tool: str = "HSS", cut: str = "general") -> dict[str, object]:
    """A published surface-speed range, in ft/min."""
    found = speeds.speed_range(material, tool, cut)
    return {"low": found.low, "high": found.high, "what": found.what, "source": found.source}


def advised_speed(material: str, tool: str = "HSS", cut: str = "milling") -> dict[str, object]:
    """The surface-speed range to start in on a light machine, in ft/min."""
    found = speeds.advised_speed(material, tool, cut)
    return {"low": found.low, "high": found.high, "what": found.what, "source": found.source}


def turning_speeds(material: str, tool: str = "HSS") -> dict[str, object]:
    """Low ends of the roughing and finishing speeds on a lathe, in ft/min."""
    rough = speeds.speed_range(material, tool, "rough turning")
    finish = speeds.speed_range(material, tool, "finish turning")
    return {"rough": rough.low, "finish": finish.low, "source": rough.source}


def chip_loads(cutter: str, material: str = "any", basis: str = "starting") -> dict[str, object]:
    """A published chip-load range, in inches a tooth."""
    found = speeds.chip_load_range(cutter, material, basis)
    return {"low": found.low, "high": found.high, "what": found.what, "source": found.source}


def upper_chip_loads(material: str) -> dict[str, object]:
    """Upper guides for slotting cutters and end mills, in inches a tooth."""
    slotting = speeds.chip_load_range("slotting cutter", material, "upper")
    end_mill = speeds.chip_load_range("end mill", material, "upper")
    return {"slotting": slotting.high, "end_mill": end_mill.high, "source": slotting.source}


def advised_chip_load(cutter: str, diameter: Quantity) -> dict[str, object]:
    """Where to start on a light machine, in inches a tooth."""
    found = speeds.advised_chip_load(cutter, diameter)
    return {"low": found.low, "high": found.high, "source": found.source}


def drill_feed(diameter: Quantity) -> dict[str, object]:
    """A published drill-feed range, in inches a turn."""
    found = speeds.drill_feed_range(diameter)
    return {"low": found.low, "high": found.high, "what": found.what, "source": found.source}


def carbon_steel_drill() -> Decimal:
    """Speed of a carbon-steel drill, of the HSS speed."""
    return speeds.CARBON_STEEL_FACTOR


def machine_speed(wanted: Quantity, available: tuple[Decimal, ...]) -> dict[str, object]:
    """The nearest speed at or below that the machine has."""
    pick = speeds.nearest_below(wanted, [quantity(rpm, speeds.RPM) for rpm in available])
    return {"speed": pick.value, "above_wanted": pick.above}


# --- positions -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Holes:
    """Places of holes."""

    points: tuple[tuple[Quantity, Quantity], ...]


def bolt_circle(
    diameter: Quantity,
    holes: int,
    first_angle: Quantity | None = None,
    centre_x: Quantity | None = None,
    centre_y: Quantity | None = None,
    clockwise: bool = False,
) -> Holes:
    """Holes on a circle."""
    found = positions.bolt_circle(
        diameter, holes, first_angle, centre_x, centre_y, clockwise=clockwise
    )
    return Holes(tuple((point.x, point.y) for point in found))


def hole_grid(
    columns: int,
    rows: int,
    pitch_x: Quantity,
    pitch_y: Quantity,
    first_x: Quantity | None = None,
    first_y: Quantity | None = None,
) -> Holes:
    """Holes in rows, row by row."""
    found = positions.grid(columns, rows, pitch_x, pitch_y, first_x, first_y)
    return Holes(tuple((point.x, point.y) for point in found))


def passes(
    depth: Quantity,
    limit: Quantity,
    start: Quantity | None = None,
    witness: Quantity | None = None,
    finish: Quantity | None = None,
    least: Quantity | None = None,
    graduation: Quantity | None = None,
) -> dict[str, object]:
    """Cumulative depths of the passes of a cut."""
    unit = system(depth)
    step = None if graduation is None else quantity(in_unit(graduation, unit) / 2, unit)
    plan = cutting.passes(
        depth, limit, start=start, witness=witness, finish=finish, least=least, step=step
    )
    return {
        "count": len(plan), "depths": [one.depth for one in plan],
        "kinds": [str(one.kind) for one in plan],
    }  # fmt: skip
