"""Groups of fields that several operations have: cutter, holding, tool, drills, threads."""

from __future__ import annotations

from functools import cache

from assistant.calc import drills
from assistant.calc.thread_series import threads_of
from assistant.jobs.form.field import Field, Kind, Known, Offer, count, number, pick, size, yes
from assistant.units import Quantity

MILLS = ("horizontal mill", "vertical mill")
DRILLING = ("vertical mill", "drill press")
TABLES = "what the tables give"
USUAL_CUT = "the usual cut"
ROUND = ("end mill", "face mill")
"""Cutters whose width is their diameter."""


def same_as(key: str) -> Offer:
    """Offers the size that was told for another field."""

    def offer(known: Known) -> tuple[Quantity | int | str, ...]:
        told = known.size(key)
        return () if told is None else (told,)

    return offer


def by_machine(horizontal: str, other: str) -> Offer:
    """Offers a word by the kind of machine."""

    def offer(known: Known) -> tuple[Quantity | int | str, ...]:
        return (horizontal if known.machine_kind == "horizontal mill" else other,)

    return offer


def surface_speed(table: str, called: str = "tool") -> Field:
    """The job's own surface speed."""
    return number(
        f"{table}.surface_speed", f"surface speed of the {called}",
        "What surface speed, in feet a minute, or metres on a metric job?",
        "Only where you have your own. The tables give one for the material.",
        "1", "3000", usual=TABLES, aside=True, kind=Kind.NUMBER,
    )  # fmt: skip


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


def held(*choices: str) -> Field:
    """How a milled or drilled work is held."""
    return pick("holding", "holding", "How is it held?",
                "What is checked before the cut, and what still holds for the next part.",
                choices, usual=choices[0], aside=True)  # fmt: skip


def milled() -> tuple[Field, ...]:
    """What every milled depth has."""
    return (
        pick("depth_axis", "the axis that goes deeper", "Depth by the knee, or by the quill?",
             "The handwheel that depths are counted on.", ("knee", "quill"), usual="knee",
             aside=True),
        size("witness", "the witness skim", "How deep is the first skim?",
             "It shows whether the mark is even. Zero leaves it out.", "0", "0.03",
             usual="three thou, or a tenth of a millimetre", aside=True),
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


def in_the_lathe(
    usual: str = "three-jaw",
    *,
    out: bool = True,
    only: tuple[str, ...] = (),
    tailstock: bool = True,
) -> tuple[Field, ...]:
    """The `[holding]` table of a lathe. `out`: whether it is asked how far the work stands out,
    and unless `tailstock` is false, whether a centre is in its end."""
    return (
        pick("holding.how", "holding", "How is it held?",
             "What is checked before the cut, and how deep a cut it stands.",
             only or ("three-jaw", "four-jaw", "collet", "between centres", "faceplate"),
             usual=usual, aside=True),
        yes("holding.tailstock", "tailstock up", "Is the tailstock's centre in it?",
            "Long work springs away without it.",
            usual="yes" if usual == "between centres" else "no", aside=not (out and tailstock)),
        size("holding.stick_out", "how far it stands out",
             "How far does it stand out of the jaws?",
             "Cuts are kept to what the work stands. Out too far it is refused.", "0.1", "120",
             usual="not looked at", aside=not out),
        yes("holding.steady", "steady", "Is there a steady on it?", "Long work springs away.",
            usual="no", aside=True),
    )  # fmt: skip


def lathe_tool(*, cuts: tuple[str, ...] = ("max_cut", "finish", "clean_up")) -> tuple[Field, ...]:
    """The `[tool]` table; `cuts` are those of its lengths that the operation reads."""
    known = {
        "max_cut": ("the deepest cut", "What is the most that a cut may take, on one side?"),
        "finish": ("the finishing cut", "How much is left for the finishing cut?"),
        "clean_up": ("the clean-up cut", "How deep is the first cut, to clean up?"),
        "aim": ("how far inside the limits", "How far inside the limits do you aim?"),
    }
    return (
        pick("tool.material", "the tool", "Is the tool HSS or carbide?", "The speed goes by it.",
             ("HSS", "carbide"), usual="HSS", aside=True),
        *(size(f"tool.{key}", known[key][0], known[key][1],
               "On one side, as the cross slide goes in.", "0", "0.3", usual=USUAL_CUT, aside=True)
          for key in cuts),
        size("tool.feed", "the feed", "What feed a turn?",
             "Only where you have your own. The nearest on the machine is taken.", "0.0005",
             "0.06", usual="the usual feed", aside=True),
        surface_speed("tool"),
    )  # fmt: skip


@cache
def _named(inch: bool) -> tuple[str, ...]:
    """Drills that have a name: a letter or a number. Fractions and millimetres are sizes."""
    kinds = ("number", "letter") if inch else ()
    return tuple(one.name for kind in kinds for one in drills.drills(kind))


def named_drills(known: Known) -> tuple[str, ...]:
    """Names of drills in a job of that unit."""
    return _named(known.unit == "inch")


def a_drill(
    key: str, name: str, ask: str, why: str, *, given: str = "", usual: str = "",
    aside: bool = False,
) -> Field:  # fmt: skip
    """A drill, by its size or its name."""
    return size(key, name, ask, why, "0.0135", "3.5", given=given, usual=usual, aside=aside,
                choices=named_drills, free=True)  # fmt: skip


@cache
def _threads(inch: bool) -> tuple[str, ...]:
    series = ("UNC", "UNF") if inch else ("coarse", "fine")
    return tuple(dict.fromkeys(one.name for name in series for one in threads_of(name)))


def known_threads(known: Known) -> tuple[str, ...]:
    """Names of the usual threads in a job of that unit; others are typed."""
    return _threads(known.unit == "inch")


def depth_by(table: str) -> Field:
    """By what a hole's depth is stopped."""
    return pick(f"{table}.depth_by", "depth by", "Depth by the dial, or by the stop?",
                "The stop is set once, the dial is read at every hole.", ("dial", "stop"),
                usual="dial", aside=True)  # fmt: skip


def through_or_blind(table: str, *, deep: str = "at full diameter") -> tuple[Field, ...]:
    """Whether a hole goes through, and how deep it is or how thick the work."""
    gate = f"?{table}.ends"
    return (
        pick(gate, "hole", "Right through, or blind?", "Through, the point has to come out.",
             ("through", "blind"), usual=""),
        size(f"{table}.through", "thickness", "How thick is the work there?",
             "The drill goes on till its point is out at the back.", "0.03", "10",
             given=f"{gate}=through"),
        size(f"{table}.depth", f"depth {deep}", f"How deep, {deep}?",
             "The point comes on top of it.", "0.03", "20", given=f"{gate}=blind"),
    )  # fmt: skip
