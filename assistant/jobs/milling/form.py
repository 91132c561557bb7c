"""Fields of milling jobs: cutter, depth, the block in the vice."""

from __future__ import annotations

from assistant.jobs.common.form import TABLES, USUAL_CUT, held, surface_speed
from assistant.jobs.field import Field, Known, Offer, count, pick, size, yes
from assistant.units import Quantity

ROUND = ("end mill", "face mill")
"""Cutters whose width is their diameter."""


def by_machine(horizontal: str, other: str) -> Offer:
    """Offers a word by the kind of machine."""

    def offer(known: Known) -> tuple[Quantity | int | str, ...]:
        return (horizontal if known.machine_kind == "horizontal mill" else other,)

    return offer


def cutter(
    kinds: tuple[str, ...], *, table: str = "cutter", called: str = "cutter",
    kind: Offer | None = None, diameter: Offer | None = None, offered: str = "",
    width: Offer | None = None, body: str = "body", body_called: str = "collar",
    body_needed: bool = False, wide: str = "0.01", reach: bool = True, own: bool = False,
) -> tuple[Field, ...]:  # fmt: skip
    """The `[cutter]` table. `own`: diameter and width are those of the key, unless told."""
    several = len(kinds) > 1
    sided = tuple(one for one in kinds if one not in ROUND)
    is_sided = f"{table}.kind={'|'.join(sided)}" if several else ""
    is_end_mill = f"{table}.kind=end mill"
    fields = [
        pick(f"{table}.kind", f"kind of {called}", f"What {called} is it?",
             f"What the {called} is decides how it is touched off and measured.", kinds,
             usual="" if several else kinds[0], offer=kind, aside=kind is not None or not several),
        size(f"{table}.diameter", f"{called} diameter", f"What diameter is the {called}?",
             "Half of it is in every centre line, all of it in the speed.", "0.03", "12",
             offer=diameter, offered=offered, aside=own,
             usual="as the key wants" if own else ""),
    ]  # fmt: skip
    if sided:
        fields.append(
            size(f"{table}.width", f"width of the {called}", f"How wide is the {called}?",
                 "As marked. It is measured before it cuts: a reground one is not its name.",
                 wide, "4", given=is_sided, offer=width, aside=width is not None or own,
                 usual="as the key wants" if own else "")
        )  # fmt: skip
    fields.append(
        size(f"{table}.{body}", f"{body_called} on the {called}",
             f"What diameter is the {body_called} on the {called}?",
             "What stands over the work beside the teeth decides how deep it reaches.",
             "0.03", "8", usual="" if body_needed else "not looked at", aside=not body_needed)
    )  # fmt: skip
    fields += teeth_and_passes(table, called)
    if reach:
        fields.append(
            size(f"{table}.reach", f"reach of the {called}", f"How deep does the {called} reach?",
                 "From its end to the holder. It is refused where the cut is deeper.",
                 "0.05", "10", usual="not looked at", aside=True)
        )  # fmt: skip
    if "end mill" in kinds:
        fields.append(
            yes(f"{table}.centre_cutting", f"the {called} cuts to the centre",
                f"Does the {called} cut to the centre?", "One that doesn't can't be plunged.",
                usual="yes", given=is_end_mill, aside=True)
        )  # fmt: skip
    return tuple(fields)


def teeth_and_passes(table: str, called: str) -> list[Field]:
    """What every cutter's table may say."""
    return [
        count(f"{table}.teeth", f"teeth of the {called}", f"How many teeth has the {called}?",
              "The feed goes by them.", 1, 80, usual="the usual number", aside=True),
        pick(f"{table}.material", f"material of the {called}",
             f"Is the {called} HSS or carbide?", "The speed goes by it.", ("HSS", "carbide"),
             usual="HSS", aside=True),
        size(f"{table}.max_pass", f"deepest pass of the {called}",
             "What is the most that a pass may take?",
             "No pass is planned deeper.", "0.002", "0.5", usual=USUAL_CUT, aside=True),
        size(f"{table}.chip_load", f"chip load of the {called}", "What chip load a tooth?",
             "Only where you have your own. The tables give one.", "0.0002", "0.03",
             usual=TABLES, aside=True),
        surface_speed(table, called),
    ]  # fmt: skip


def milled(*, witness: bool = True) -> tuple[Field, ...]:
    """What every milled depth has; without a first skim where there is nothing to be seen in it."""
    skim = size("witness", "the witness skim", "How deep is the first skim?",
                "It shows whether the mark is even. Zero leaves it out.", "0", "0.03",
                usual="three thou, or a tenth of a millimetre", aside=True)  # fmt: skip
    return (
        pick("depth_axis", "the axis that goes deeper", "Depth by the knee, or by the quill?",
             "The handwheel that depths are counted on.", ("knee", "quill"), usual="knee",
             aside=True),
        *((skim,) if witness else ()),
        size("finishing_cut", "the finishing cut", "How much is left for the finishing cut?",
             "It is taken from a measurement.", "0", "0.1", usual=USUAL_CUT, aside=True),
        size("aim_inside", "how far inside the limits", "How far inside the limits do you aim?",
             "The size aimed at lies so far from the limit that is met first.", "0", "0.05",
             usual="two thou, or five hundredths", aside=True),
    )  # fmt: skip


def on_a_block() -> tuple[Field, ...]:
    """What every job on a block in vice or clamps has."""
    return (
        pick("touch_side", "the side that is touched", "Which side do you touch, back or front?",
             "The back is toward the column. Sizes across count from it.", ("back", "front"),
             usual="back", aside=True),
        size("step_over", "the step over", "How far over is each row?",
             "More than the cutter would leave ribs.", "0.01", "6",
             usual="six tenths of the cutter", aside=True),
        size("wall_stock", "stock on the walls", "How much is left on the walls for finishing?",
             "Roughing stays so far away from every wall.", "0", "0.1", usual=USUAL_CUT,
             aside=True),
        pick("fixed_jaw", "the fixed jaw", "Which jaw of the vice is fixed, back or front?",
             "A side there isn't touched again for the next part.", ("back", "front"),
             usual="back", aside=True),
    )  # fmt: skip


_BLOCK = held("vice", "clamps", "angle plate")
ANY_CUTTER = ("end mill", "slotting cutter", "face mill")


def block(*fields: Field) -> tuple[Field, ...]:
    return (*fields, _BLOCK, *milled(), *on_a_block())
