"""How far work or a boring bar springs from the tool, and the deepest cut that it stands.

    spring = share x force x sum of (x2^3 - x1^3) / (3 E I)

over the pieces of the work, each from x1 to x2 from its end: of a bar held at one end and pushed
at the other. `share` is what the other end leaves of that: everything where it is free. The jaws
are taken for stiff, so that it springs rather more than this says.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from assistant.calc.exact import in_unit, positive, system
from assistant.calc.speeds import material
from assistant.calc.table import Row, rows
from assistant.calc.trig import PI
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, quantity

PUSHES = Decimal("0.5")
"""Of the main cutting force, what pushes the work from the tool: common practice, no source; it is
less with a sharp tool square to the work."""
ALLOWED = Decimal("0.05")
"""Millimetres that it may spring in a cut, two thousandths of an inch: more chatters, and leaves
more than a finishing cut takes off. Common practice, no source."""
MOST_FREE = 10
"""Diameters that a bar may stand out of the jaws with nothing at its end, however light the cut:
further out it can whip. Common practice, no source."""
SHARES = {
    ("chuck", False): Decimal(1),  # F L^3 / (3 E I)
    ("chuck", True): Decimal("0.02944"),
    ("tailstock", False): Decimal("0.02944"),  # 0.009813 F L^3 / (E I), 0.586 L from the jaws
    ("tailstock", True): Decimal("0.0078125"),
    ("centres", False): Decimal("0.0625"),  # F L^3 / (48 E I), at the middle
    ("centres", True): Decimal("0.0078125"),
}
"""By how it is held and whether a steady is set: what is left of the spring with a free end, where
it is most. A steady without the tailstock carries the end; with it, it stands midway and halves
the length. Beam formulas as in Machinery's Handbook (from memory; the tests work them again)."""

Pieces = Sequence[tuple[Quantity, Quantity]]
"""Length and diameter of each piece, from the end towards the jaws."""


def spring(
    pieces: Pieces, force: Decimal, modulus: Decimal, held: str = "chuck", steady: bool = False
) -> Quantity:
    """How far it springs under a force in N, where it springs most; modulus in kN/mm^2.

    Raises `ImpossibleInput` for a length or a diameter of nothing or less.
    """
    if (held, steady) not in SHARES:
        raise BadInput("held", held, "wanted chuck, tailstock or centres")
    bent, begin = Decimal(0), Decimal(0)
    for length, dia in pieces:
        end = begin + in_unit(positive("length", length), "mm")
        inertia = PI * in_unit(positive("diameter", dia), "mm") ** 4 / 64
        bent += (end**3 - begin**3) / (3 * modulus * 1000 * inertia)
        begin = end
    moved = quantity(SHARES[held, steady] * bent * force, "mm")
    return moved if system(pieces[0][0]) == "mm" else moved.to("inch")


def bar_spring(
    length: Quantity, dia: Quantity, force: Decimal, modulus: Decimal, held: str, steady: bool
) -> Quantity:
    """`spring` of a plain bar, for the catalogue."""
    return spring(((length, dia),), force, modulus, held, steady)


def deepest_cut(
    pieces: Pieces, feed: Quantity, work: str, *, bends: str = "", held: str = "chuck",
    steady: bool = False,
) -> Quantity:  # fmt: skip
    """The depth of cut, on one side, at which it springs by `ALLOWED`.

    force = depth x feed x specific cutting force of `work`; half of it pushes away. `bends` is the
    material that springs where that isn't the work: a boring bar's. Raises `BadInput` for a
    material that the table lacks.
    """
    cut, bent = _of(work), _of(bends or work)
    a_newton = spring(pieces, Decimal(1), Decimal(bent["modulus"]), held, steady)
    force = ALLOWED / in_unit(a_newton, "mm")
    unit = system(feed)
    depth = force / (PUSHES * Decimal(cut["force"]) * in_unit(positive("feed", feed), "mm"))
    return quantity(depth, "mm") if unit == "mm" else quantity(depth, "mm").to("inch")


def bar_deepest_cut(
    length: Quantity, dia: Quantity, feed: Quantity, work: str, held: str, steady: bool
) -> Quantity:
    """`deepest_cut` of a plain bar, for the catalogue."""
    return deepest_cut(((length, dia),), feed, work, held=held, steady=steady)


def too_far_out(ratio: Decimal, held: str, steady: bool) -> bool:
    """Whether a bar of that many diameters is out of the jaws too far with nothing at its end."""
    return held == "chuck" and not steady and ratio > MOST_FREE


def _of(word: str) -> Row:
    name = material(word)
    for row in rows("cutting_forces"):
        if row["material"] == name:
            return row
    raise ImpossibleInput("material", word, "no cutting force is tabled for it")
