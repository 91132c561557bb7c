"""Questions about keys that the catalogue answers: the sizes of a keyseat laid out flat.

Each answers one entry of `calc/listing/keys.toml`; a job calls the functions behind them itself.
"""

from __future__ import annotations

from assistant.calc import broach, keys, woodruff
from assistant.calc.exact import in_unit, shown
from assistant.calc.key_tables import FITS, depth_tolerance, inch_heights
from assistant.calc.woodruff import WoodruffKey
from assistant.errors import BadInput
from assistant.units import Quantity, quantity


def key_size_inch(shaft: Quantity) -> dict[str, object]:
    """Width and heights of the ASME B17.1 key for a shaft."""
    key = keys.key_for_shaft(shaft, keys.Standard.INCH)
    square, rectangular = inch_heights(shaft)
    return {
        "width": key.width, "square": square, "rectangular": rectangular, "preferred": key.shape,
        "source": key.source,
    }  # fmt: skip


def key_size_metric(shaft: Quantity) -> dict[str, object]:
    """Size and depths of the DIN 6885-1 key for a shaft."""
    key = keys.key_for_shaft(shaft, keys.Standard.METRIC)
    return {
        "width": key.width, "height": key.height, "shaft_depth": key.shaft_depth,
        "hub_depth": key.hub_depth, "depth_plus": key.depth_plus, "source": key.source,
    }  # fmt: skip


def _key(
    bore: Quantity,
    width: Quantity | None,
    height: Quantity | None,
    standard: str | None,
    shape: str | None,
) -> keys.Key:
    if width is not None:
        return keys.key_as_given(width, height, standard)
    if height is not None:
        raise BadInput("height", shown(height), "give the key's width too")
    return keys.key_for_shaft(bore, standard, shape)


def keyseat(
    shaft: Quantity,
    width: Quantity | None = None,
    height: Quantity | None = None,
    standard: str | None = None,
    shape: str | None = None,
    depth_from_top: Quantity | None = None,
    measured_shaft: Quantity | None = None,
    measured_key: Quantity | None = None,
    fit: str | None = None,
) -> dict[str, object]:
    """A keyseat, all its sizes laid out flat."""
    seat = keys.keyseat(
        shaft, _key(shaft, width, height, standard, shape), depth_from_top=depth_from_top,
        measured_shaft=measured_shaft, measured_key=measured_key, fit=fit,
    )  # fmt: skip
    return {
        "key_width": seat.key.width, "key_height": seat.height,
        "width_low": seat.width.low, "width_high": seat.width.high,
        "chordal_height": seat.chordal_height, "side_depth": seat.side_depth,
        "depth_from_top": seat.depth_from_top.nominal, "depth_high": seat.depth_from_top.high,
        "floor_to_opposite": seat.floor_to_opposite.nominal,
        "floor_low": seat.floor_to_opposite.low,
        "over_key": seat.over_key.nominal, "over_key_low": seat.over_key.low,
        "source": seat.source,
    }  # fmt: skip


def hub_keyway(
    bore: Quantity,
    width: Quantity | None = None,
    height: Quantity | None = None,
    standard: str | None = None,
    shape: str | None = None,
    clearance: Quantity | None = None,
    taper: bool = False,
) -> dict[str, object]:
    """A keyway in a hub, its sizes laid out flat."""
    key = _key(bore, width, height, standard, shape)
    way = keys.hub_keyway(bore, key, taper=taper, clearance=clearance)
    return {
        "key_width": way.key.width, "depth_from_crown": way.depth_from_crown.nominal,
        "opposite_to_floor": way.opposite_to_floor.nominal, "high": way.opposite_to_floor.high,
        "source": way.source,
    }  # fmt: skip


def keyway_depth_tolerance(width: Quantity, part: str, standard: str) -> dict[str, Quantity]:
    """Plus and minus of the depth that is measured, by key width."""
    plus, minus = depth_tolerance(width, part, standard)
    return {"plus": plus, "minus": minus}


def keyway_width_class(part: str) -> dict[str, str]:
    """ISO 286 classes of a metric keyway's width, from tight to sliding."""
    return {**FITS[part], "classes": " / ".join(FITS[part].values())}


def broached_keyway(
    bore: Quantity,
    cut_per_pass: Quantity,
    width: Quantity | None = None,
    height: Quantity | None = None,
    standard: str | None = None,
) -> broach.BroachPlan:
    """Passes and shims for a hub keyway cut by push broach."""
    way = keys.hub_keyway(bore, _key(bore, width, height, standard, None))
    return broach.broach_plan(way, cut_per_pass)


def woodruff_size(number: str) -> dict[str, Quantity]:
    """Width and diameter by the rule of the number alone."""
    width, diameter = woodruff.key_size(number)
    return {"width": width, "diameter": diameter}


def woodruff_key(number: str) -> dict[str, object]:
    """A Woodruff key from the table."""
    key = woodruff.key(number)
    return {
        "width": key.width, "diameter": key.diameter, "height_high": key.height.high,
        "height_low": key.height.low, "source": key.source,
    }  # fmt: skip


def woodruff_depths(number: str) -> dict[str, Quantity]:
    """Side-wall depths of a Woodruff keyseat, which no shaft changes."""
    key = woodruff.key(number)
    width, low = in_unit(key.width, "inch"), in_unit(key.height.low, "inch")
    return {
        "seat_depth": quantity(low - width / 2, "inch"),
        "hub_depth": quantity(width / 2 + woodruff.HUB_CLEARANCE, "inch"),
        "protrusion": quantity(width / 2, "inch"),
    }


def woodruff_seat(
    shaft: Quantity,
    number: str | None = None,
    width: Quantity | None = None,
    height: Quantity | None = None,
    measured_shaft: Quantity | None = None,
    measured_height: Quantity | None = None,
) -> dict[str, object]:
    """A Woodruff keyseat, its sizes laid out flat."""
    key: WoodruffKey
    if number is not None:
        key = woodruff.key(number)
    elif width is not None and height is not None:
        key = woodruff.metric_key(width, height)
    else:
        key = woodruff.suggested_keys(shaft)[0]
    seat = woodruff.seat(shaft, key, measured_shaft=measured_shaft, measured_height=measured_height)
    return {
        "key": key.name, "cutter_width": key.width, "cutter_diameter": key.diameter,
        "chordal_height": seat.chordal_height, "side_depth": seat.side_depth.nominal,
        "depth_from_top": seat.depth_from_top.nominal, "depth_high": seat.depth_from_top.high,
        "over_key": seat.over_key.nominal, "over_key_low": seat.over_key.low,
        "over_key_high": seat.over_key.high, "hub_depth": seat.hub_depth, "source": seat.source,
    }  # fmt: skip


def woodruff_for_shaft(shaft: Quantity) -> list[str]:
    """Names of the keys suggested for a shaft, the smallest first."""
    return [key.name for key in woodruff.suggested_keys(shaft)]


def woodruff_shafts(width: Quantity) -> dict[str, Quantity]:
    """Shafts that suit an inch key's width."""
    low, high = woodruff.shaft_range(width)
    return {"from": low, "to": high}
