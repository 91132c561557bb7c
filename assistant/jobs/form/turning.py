"""Work in the lathe."""

from __future__ import annotations

from assistant.calc.threads import DEPTH_BASES
from assistant.jobs.form.field import (
    Field,
    Form,
    Kind,
    Known,
    count,
    number,
    pick,
    size,
    toleranced,
    yes,
)
from assistant.jobs.form.groups import in_the_lathe, known_threads, lathe_tool

LATHE = ("lathe",)
CUTS = ("max_cut", "finish", "clean_up", "aim")
MOST_STEPS = 5
"""Further shoulders that are asked for; `jobs/lathe/stepped.py` has the last word."""
_FROM_END = "From the end face, as every length here."


def _shoulder(table: str, name: str, ask: str, gate: str) -> tuple[Field, ...]:
    here = f"{gate}=yes"
    return (
        yes(gate, f"to a {name}", ask, "Else the carriage runs clear.", usual="no"),
        *toleranced(f"{table}.length", f"length to the {name}",
                    f"How far is the {name} from the end face?", _FROM_END, "0.05", "60",
                    given=here),
        pick(f"{table}.by", f"{name} by", "Length by the carriage dial, or by the compound?",
             "The compound's dial is the finer one.", ("carriage", "compound"),
             usual="carriage", given=here, aside=True),
        size(f"{table}.left_on", f"left on the {name}", "How much is left on the length?",
             "Until the diameter is in.", "0", "0.1", usual="the usual", given=here, aside=True),
    )  # fmt: skip


def _step(number: int) -> tuple[Field, ...]:
    """A further shoulder, smaller and shorter than the one before."""
    gate, before = f"?step.{number}", "?shoulder" if not number else f"?step.{number - 1}"
    table, here = f"step.{number}", f"{gate}=yes"
    which = ("next", "one after", "third one", "fourth one", "fifth one")[number]
    return (
        yes(gate, f"the {which}", "Another step, smaller and shorter?",
            "Every shoulder is counted on the carriage's dial.", usual="no",
            given=f"{before}=yes & shoulder.by=carriage"),
        *toleranced(f"{table}.diameter", f"diameter of the {which}",
                    f"What diameter is the {which}?", "Smaller than the one before.",
                    "0.03", "20", given=here, limits_aside=False),
        *toleranced(f"{table}.length", f"length of the {which}",
                    f"How far is the {which} from the end face?", _FROM_END, "0.05", "60",
                    given=here),
        size(f"{table}.left_on", f"left on the {which}", "How much is left on that length?",
             "Until its diameter is in.", "0", "0.1", usual="the usual", given=here, aside=True),
    )  # fmt: skip


_SPRING = pick("tool.spring_pass", "spring pass", "Spring passes: yes, no, or auto?",
               "A pass at the same setting takes what sprang away.", ("yes", "no", "auto"),
               usual="auto", aside=True)  # fmt: skip

TURN = Form(
    "turn", "Turning", LATHE, "work.diameter",
    (
        size("work.stock", "stock", "What diameter is the stock?",
             "What there is before the first cut.", "0.06", "20"),
        *toleranced("work.diameter", "diameter", "What diameter is wanted?",
                    "As on the drawing; the largest, where it is stepped.", "0.03", "20",
                    limits_aside=False),
        *_shoulder("shoulder", "shoulder", "To a shoulder?", "?shoulder"),
        *(field for number in range(MOST_STEPS) for field in _step(number)),
        *in_the_lathe(),
        *lathe_tool(cuts=CUTS),
        _SPRING,
    ),
)  # fmt: skip

BORE = Form(
    "bore", "Boring", LATHE, "work.diameter",
    (
        size("work.hole", "hole", "What diameter is the hole?",
             "What there is before the first cut.", "0.1", "18"),
        *toleranced("work.diameter", "bore", "What diameter is wanted?", "As on the drawing.",
                    "0.1", "20", limits_aside=False),
        *_shoulder("floor", "floor", "Does it end at a floor?", "?floor"),
        *in_the_lathe(out=False),
        size("tool.bar", "boring bar", "How thick is the boring bar?",
             "Cuts are kept to what it stands.", "0.1", "4", usual="not looked at"),
        size("tool.bar_reach", "reach of the bar", "How far does the bar stand out?",
             "Its length decides how it springs.", "0.2", "30", usual="not looked at"),
        *lathe_tool(cuts=CUTS),
        _SPRING,
    ),
)  # fmt: skip

FACE = Form(
    "face-lathe", "Facing to length", LATHE, "work.length",
    (
        size("work.stock_length", "stock length", "How long is it now?",
             "With the other end faced.", "0.05", "60"),
        *toleranced("work.length", "length", "What length is wanted?", "As on the drawing.",
                    "0.05", "60", limits_aside=False),
        size("work.diameter", "diameter", "What diameter is it?", "The speed goes by it.",
             "0.05", "20"),
        size("work.bore", "bore", "What bore has it?", "Facing stops there.", "0.03", "18",
             usual="none", aside=True),
        pick("work.by", "length by", "Length by the carriage dial, or by the compound?",
             "The compound's dial is the finer one.", ("carriage", "compound"),
             usual="compound", aside=True),
        pick("work.measured", "measured", "Measured in the chuck, or out of it?",
             "Out of it, the face is touched again.", ("in the chuck", "out of it"),
             usual="out of it", aside=True),
        *in_the_lathe(),
        *lathe_tool(),
    ),
)  # fmt: skip

PART = Form(
    "part", "Parting off", LATHE, "work.length",
    (
        size("work.diameter", "diameter", "What diameter is it?", "The blade has to reach in.",
             "0.05", "12"),
        size("work.bore", "bore", "What bore has it?", "The blade goes in so far only.", "0",
             "11", usual="none"),
        size("work.length", "length", "How long is the piece?", "As it comes off, faced.",
             "0.01", "30"),
        size("work.left_for_facing", "left for facing", "How much is left for facing?",
             "On the piece, on top of its length.", "0", "0.2",
             usual="ten thou, or three tenths of a millimetre", aside=True),
        size("tool.blade", "blade", "How wide is the blade?", "It comes on top of the length.",
             "0.015", "0.4"),
        size("tool.reach", "reach of the blade", "How far does the blade stand out?",
             "It has to get to the middle, or through the wall.", "0.05", "6"),
        size("work.from_jaws", "from the jaws", "How far from the jaws is the cut?",
             "Far out the work bends and climbs on the blade.", "0.02", "12",
             usual="by how far it stands out", aside=True),
        *in_the_lathe(only=("three-jaw", "four-jaw", "collet", "faceplate"), tailstock=False),
        *lathe_tool(cuts=()),
    ),
)  # fmt: skip

KNURL = Form(
    "knurl", "Knurl", LATHE, "work.diameter",
    (
        pick("knurl.pattern", "pattern", "Straight, or diamond?", "What the wheels roll.",
             ("straight", "diamond"), usual="straight"),
        pick("?knurl.by", "knurl told by", "By diametral pitch, or by pitch?",
             "As it is marked on the wheels.", ("diametral pitch", "pitch")),
        count("knurl.diametral_pitch", "diametral pitch", "What diametral pitch?",
              "As marked on the wheels. The blank goes by it.", 16, 200,
              given="?knurl.by=diametral pitch"),
        size("knurl.pitch", "pitch", "What pitch?", "From tooth to tooth, as marked.", "0.01",
             "0.2", given="?knurl.by=pitch"),
        number("knurl.helix", "helix", "What helix angle, in degrees?",
               "Of the teeth to the axis.", "0", "59", usual="30 for a diamond, else none",
               aside=True),
        size("work.stock", "stock", "What diameter is the stock?",
             "What there is before the first cut.", "0.1", "8"),
        size("work.diameter", "diameter", "About what diameter is wanted?",
             "It is turned to what the teeth divide.", "0.1", "8"),
        size("work.length", "length", "How long is the knurl?", "From the end face.", "0.03",
             "12"),
        *in_the_lathe(),
        *lathe_tool(cuts=("max_cut",)),
    ),
)  # fmt: skip

DIAL_IN = Form(
    "dial-in", "Dialling in", LATHE, "work.within",
    (
        pick("work.on", "dialled in on", "On the outside, or in the bore?",
             "Where the indicator rides.", ("outside", "bore"), usual="outside"),
        size("work.within", "within", "Within how much, over a whole turn?",
             "It is true when the indicator moves no more.", "0.0001", "0.02",
             usual="the usual"),
        *in_the_lathe("four-jaw", out=False),
    ),
    cuts=False,
)  # fmt: skip

TAILSTOCK = Form(
    "tailstock", "Tailstock into line", LATHE, "bar.collar",
    (
        size("bar.collar", "collars", "What diameter are the collars?",
             "Both are cut at one setting, and measured.", "0.2", "8"),
        size("bar.spacing", "from collar to collar", "How far apart are the collars?",
             "The correction grows with the length.", "0.5", "60"),
        size("bar.length", "length of the bar", "How long is the bar between centres?",
             "The tailstock is moved by its share.", "0.5", "80"),
        size("bar.within", "within", "Within how much of each other?", "Then it is in line.",
             "0.0001", "0.01", usual="the usual", aside=True),
        size("tool.cut", "the trial cut", "How deep is each trial cut?", "Off the diameter.",
             "0.001", "0.05", usual="the usual cut", aside=True),
        *in_the_lathe("between centres", out=False),
        *lathe_tool(cuts=()),
    ),
)  # fmt: skip


def _classes(known: Known) -> tuple[str, ...]:
    """Classes of fit of a screw, or of a nut."""
    if known.word("thread.side") == "internal":
        return ("1B", "2B", "3B", "6H")
    return ("1A", "2A", "3A", "6g", "6h")


THREAD = Form(
    "thread", "Thread", LATHE, "thread.name",
    (
        pick("thread.side", "side", "External, or internal?", "A screw, or a nut.",
             ("external", "internal")),
        pick("thread.name", "thread", "Which thread?", "Its size and its threads an inch, or M.",
             known_threads, free=True),
        size("thread.length", "length of thread", "How long is the thread?",
             "From the end face.", "0.05", "40"),
        pick("thread.end", "end of the thread", "Up to a shoulder, or open past the end?",
             "Open: nothing to run into for half an inch. Else the carriage is kept slow.",
             ("shoulder", "open"), usual="shoulder"),
        pick("thread.class", "class", "Which class of fit?", "Its limits.",
             _classes,
             usual="the usual fit", aside=True, free=True),
        pick("thread.basis", "basis of the depth", "The single depth on which basis?",
             "Four of them are in print.", tuple(DEPTH_BASES), usual="the usual", aside=True),
        pick("infeed.method", "infeed", "Infeed by the compound, or straight in?",
             "By the compound the tool cuts on one side.", ("compound", "straight"),
             usual="compound", aside=True),
        number("infeed.set_over", "the compound's angle",
               "How many degrees is the compound from square to the axis?",
               "Half the thread's angle, or a little less.", "0", "30", usual="29 and a half",
               given="infeed.method=compound", aside=True),
        *(size(f"infeed.{key}", name, f"How deep is {name}?", "Square to the axis.", "0",
               "0.06", usual="the usual cut", aside=True)
          for key, name in (("first_cut", "the first cut"), ("least_cut", "the least cut"),
                            ("scratch", "the scratch pass"), ("finish", "the finishing cut"),
                            ("step", "a step at the end"))),
        count("infeed.spring_passes", "spring passes", "How many spring passes?",
              "At the last setting.", 0, 6, usual="one", aside=True),
        pick("check.by", "proved by", "Proved by wires, or by a gauge?",
             "Wires measure a screw; a nut takes a gauge.", ("wires", "gauge"),
             usual="wires for a screw", aside=True),
        size("check.wire", "wires", "What diameter are the wires?", "Three of a size.", "0.005",
             "0.5", usual="the best wire", aside=True),
        pick("start", "begun", "A new thread, or picked up again?",
             "After the work was out of the chuck.", ("new", "pick up"), usual="new",
             aside=True),
        *in_the_lathe(),
        *lathe_tool(cuts=()),
    ),
)  # fmt: skip

TAPER = Form(
    "taper", "Taper", LATHE, "work.diameter",
    (
        pick("?taper.by", "taper told by",
             "By a standard, a foot, the angle, or two diameters?", "As the drawing has it.",
             ("standard", "foot", "angle", "diameters")),
        pick("taper.family", "family", "Morse, or Brown and Sharpe?", "The standard it is of.",
             ("morse", "brown-sharpe"), given="?taper.by=standard"),
        pick("taper.size", "number", "Which number?", "The size of the standard taper.",
             tuple(str(one) for one in range(19)), given="?taper.by=standard"),
        number("taper.per_foot", "taper a foot", "How many inches a foot?",
               "On the diameter.", "0.01", "12", given="?taper.by=foot", kind=Kind.NUMBER),
        number("taper.included_angle", "included angle", "What included angle, in degrees?",
               "Of the whole cone.", "0.1", "89", given="?taper.by=angle"),
        size("taper.large", "large end", "What diameter is the large end?", "Of the taper.",
             "0.05", "12", given="?taper.by=diameters"),
        size("taper.small", "small end", "What diameter is the small end?", "Of the taper.",
             "0.03", "12", given="?taper.by=diameters"),
        size("taper.over", "over a length of", "Over what length?",
             "From one diameter to the other.", "0.1", "60", given="?taper.by=diameters"),
        size("taper.length", "length of the taper", "How long is the taper?",
             "As it is to be turned.", "0.1", "60"),
        pick("taper.method", "method", "By the compound, or by the tailstock?",
             "Steep and short by the compound, slight and long by the tailstock.",
             ("compound", "tailstock"), usual="compound"),
        size("work.total_length", "length between centres", "How long is the work, all of it?",
             "The tailstock is set over by its share.", "0.5", "80",
             given="taper.method=tailstock"),
        size("work.stock", "stock", "What diameter is the stock?",
             "What there is before the first cut.", "0.06", "12"),
        pick("work.at", "measured at", "Is the diameter that of the small end, or the large?",
             "Where it is measured.", ("small end", "large end"), usual="large end"),
        *toleranced("work.diameter", "diameter", "What diameter is wanted there?",
                    "As on the drawing.", "0.03", "12"),
        size("taper.spacing", "between the diameters", "How far apart are the two diameters?",
             "The two that prove the taper.", "0.1", "60",
             usual="three quarters of the length", aside=True),
        size("taper.within", "within", "Within how much?", "Over that spacing.", "0.0001",
             "0.01", usual="the usual", aside=True),
        *in_the_lathe(),
        *lathe_tool(cuts=CUTS),
    ),
)  # fmt: skip

FORMS = (TURN, BORE, FACE, PART, KNURL, DIAL_IN, TAILSTOCK, THREAD, TAPER)
