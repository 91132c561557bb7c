"""Which of several readings was meant: by the slot's band and the value that the plan foresees."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.phrases.numbers import unit_name
from assistant.phrases.reading import Reading
from assistant.spoken import Intent, Reason, Slot, SlotKind, SlotValue
from assistant.units import magnitude, unit_symbol

NEAR = Decimal(2)
"""A reading within this factor of the expected value, where no other is, was meant. Readings of
the same words lie a factor of ten or more apart, so that the exact factor hardly matters."""

_FAR = Decimal(1000)
"""Beyond any factor: on the other side of zero than the band."""
_PER_UNIT = {
    ("inch", "mm"): Decimal("25.4"),
    ("arcminute", "degree"): 1 / Decimal(60),
    ("degree", "arcminute"): Decimal(60),
}

Said = Mapping[str, Reading | str]
"""One way to read a sentence: what was said in each slot."""


@dataclass(frozen=True, slots=True)
class Resolved:
    """The intent, and why it can't simply be taken, where it can't."""

    intent: Intent
    reason: Reason | None = None
    detail: str = ""
    otherwise: Intent | None = None
    """What else was said by the same words, where there is such a thing."""


def resolve(name: str, slots: Sequence[Slot], readings: Sequence[Said]) -> Resolved:
    """The likeliest of `readings` of one sentence of intent `name`; there is at least one.

    One that is likely at this step is taken only where what the words plainly say is likely, too.
    Else the one that is left would be ten times, or a thousand times, what was meant.
    """
    by_name = {slot.name: slot for slot in slots}
    candidates = [_weigh(said, by_name) for said in readings]
    plausible = [candidate for candidate in candidates if candidate.outside == 0]
    if not plausible:
        nearest = min(candidates, key=lambda candidate: candidate.outside)
        return Resolved(_intent(name, nearest.said), Reason.IMPLAUSIBLE, nearest.trouble)
    best = min(plausible, key=lambda candidate: candidate.surprise)
    taken = _intent(name, best.said)
    plainly = [candidate for candidate in candidates if candidate.plain] or candidates
    if not any(candidate.outside == 0 for candidate in plainly):
        meant = min(plainly, key=lambda candidate: candidate.outside)
        return Resolved(taken, Reason.SCALE, meant.trouble, _intent(name, meant.said))
    if any(candidate.doubtful for candidate in plausible) or not _settled(plausible):
        other = next((c for c in (*plausible, *candidates) if c.key != best.key), None)
        otherwise = None if other is None else _intent(name, other.said)
        return Resolved(taken, Reason.AMBIGUOUS, _either(plausible), otherwise)
    return Resolved(taken)


@dataclass(frozen=True, slots=True)
class _Weighed:
    """One way to read a sentence, against the bands and expectations of its slots."""

    said: Said
    outside: Decimal
    """The factor by which it is outside its band; 0 inside."""
    surprise: Decimal
    """The factor between value and expectation, 1 or more; infinite without an expectation."""
    doubtful: bool
    plain: bool
    key: tuple[object, ...]
    """Equal where the meaning is equal."""
    trouble: str


def _weigh(said: Said, slots: Mapping[str, Slot]) -> _Weighed:
    outside, surprise, doubtful, plain = Decimal(0), Decimal(1), False, True
    key: list[object] = []
    trouble = ""
    for name, reading in said.items():
        if isinstance(reading, str):
            key.append(reading)
            continue
        if reading.text:
            continue  # a free number is what was said, however it may be read
        slot = slots[name]
        unit = unit_name(slot.unit) if slot.unit and reading.unit else reading.unit
        value = _in_unit(reading, unit)
        key += [value, reading.turns]
        doubtful, plain = doubtful or reading.doubtful, plain and reading.plain
        beyond = _beyond(value, slot, unit)
        if beyond and not trouble:
            trouble = f"{_shown(value, unit)} is outside {_band(slot, unit)}"
        outside += beyond
        if slot.expected is not None:
            surprise = max(surprise, _factor(value, magnitude(slot.expected, unit)))
        elif slot.kind is not SlotKind.CHOICE:
            surprise = Decimal("Infinity")
    return _Weighed(said, outside, surprise, doubtful, plain, tuple(key), trouble)


def _settled(plausible: Sequence[_Weighed]) -> bool:
    """Whether only one meaning is left, by itself or because the others aren't foreseen."""
    if len({candidate.key for candidate in plausible}) == 1:
        return True
    return len({candidate.key for candidate in plausible if candidate.surprise < NEAR}) == 1


def _in_unit(reading: Reading, unit: str) -> Decimal:
    if reading.unit == unit or not reading.unit:
        return reading.value
    factor = _PER_UNIT.get((reading.unit, unit))
    if factor is not None:
        return reading.value * factor
    if (unit, reading.unit) == ("inch", "mm"):
        return reading.value / _PER_UNIT["inch", "mm"]
    return magnitude(reading.quantity, unit)


def _beyond(value: Decimal, slot: Slot, unit: str) -> Decimal:
    for limit, sign in ((slot.low, 1), (slot.high, -1)):
        if limit is not None and (bound := magnitude(limit, unit)) * sign > value * sign:
            factor = _factor(value, bound)
            return factor if factor.is_finite() else _FAR + abs(value - bound)
    return Decimal(0)


def _factor(value: Decimal, expected: Decimal) -> Decimal:
    if value == expected:
        return Decimal(1)
    if value * expected <= 0:
        return Decimal("Infinity")
    return max(value / expected, expected / value)


def _intent(name: str, said: Said) -> Intent:
    slots: list[tuple[str, SlotValue]] = []
    for slot, reading in said.items():
        if isinstance(reading, str):
            slots.append((slot, reading))
        elif reading.text:
            slots.append((slot, reading.text))
        elif not reading.unit:
            slots.append((slot, int(reading.value)))
        else:
            slots.append((slot, reading.quantity))
            if reading.turns is not None:
                slots.append(("turns", reading.turns))
    return Intent(name, tuple(slots))


def _either(plausible: Sequence[_Weighed]) -> str:
    texts = [
        " ".join(_shown(r.value, r.unit) for r in c.said.values() if isinstance(r, Reading))
        for c in plausible
    ]
    return " or ".join(dict.fromkeys(texts))


def _band(slot: Slot, unit: str) -> str:
    if slot.low is None:
        return f"up to {_shown(magnitude(slot.high, unit), unit)}" if slot.high is not None else ""
    if slot.high is None:
        return f"{_shown(magnitude(slot.low, unit), unit)} and up"
    return f"{magnitude(slot.low, unit)} to {_shown(magnitude(slot.high, unit), unit)}"


def _shown(value: Decimal, unit: str) -> str:
    """For the screen and the log; what is spoken is worded by `saying`."""
    return f"{value.quantize(Decimal('0.00001')).normalize():f} {unit_symbol(unit)}".rstrip()
