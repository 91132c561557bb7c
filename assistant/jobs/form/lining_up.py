"""Finding a place and setting up: nothing of these cuts."""

from __future__ import annotations

from assistant.jobs.form.field import Form, number, pick, size, yes
from assistant.jobs.form.groups import MILLS

CENTRE = Form(
    "centre", "Finding the middle", (*MILLS, "drill press"), "feature.diameter",
    (
        pick("feature.kind", "what is found", "A bore, a boss, a plate, or a corner?",
             "What is touched, and from which sides.", ("corner", "boss", "plate", "bore")),
        size("feature.diameter", "diameter", "About what diameter is it?",
             "So that the way across is known.", "0.1", "40",
             given="feature.kind=boss|bore"),
        size("feature.across_x", "along", "About how long is it, along the table?",
             "So that the way across is known.", "0.1", "60", given="feature.kind=plate"),
        size("feature.across_y", "across", "About how wide is it, across the table?",
             "So that the way across is known.", "0.1", "40", given="feature.kind=plate"),
        pick("feature.x_side", "first side along", "Which side first, left or right?",
             "Of a corner: the side that it is at.", ("left", "right"), usual="left",
             aside=True),
        pick("feature.y_side", "first side across", "And front, or back?",
             "Of a corner: the side that it is at.", ("front", "back"), usual="front",
             aside=True),
        pick("tip.kind", "touched with", "With an edge finder, or with the cutter?",
             "How the sides are touched.", ("edge finder", "cutter"), usual="edge finder",
             aside=True),
        size("tip.diameter", "tip", "What diameter is the tip?", "Half of it is in every touch.",
             "0.05", "2"),
    ),
    cuts=False,
)  # fmt: skip

ANGLE = Form(
    "angle", "Angle", MILLS, "angle.degrees",
    (
        pick("angle.method", "method", "By a sine bar, or by tilting?", "How it is set.",
             ("sine bar", "tilt")),
        number("angle.degrees", "angle", "How many degrees?", "As on the drawing.", "0.01",
               "89.99"),
        size("angle.bar", "sine bar", "How long is the sine bar?",
             "From roller to roller. The stack goes by it.", "1", "20",
             given="angle.method=sine bar"),
        pick("angle.part", "what is tilted", "Is it the vice, the head, or the table?",
             "What is slackened, and tapped.", ("vice", "head", "table"), usual="vice"),
        size("angle.run", "run of the indicator", "Over what length does the indicator run?",
             "The longer, the finer.", "0.2", "30"),
        size("angle.limit", "within", "Within how much, over that run?", "Then it is set.",
             "0.0001", "0.02", usual="half a thou, or a hundredth", aside=True),
    ),
    cuts=False,
)  # fmt: skip

TRAM = Form(
    "tram", "Tramming", MILLS, "tram.sweep",
    (
        pick("tram.what", "what is trammed", "The head, or the vice?",
             "What is brought square or in line.", ("head", "vice")),
        size("tram.sweep", "sweep", "Over what length does the indicator run?",
             "From one end to the other.", "1", "40"),
        size("tram.limit", "within", "Within how much?", "From end to end.", "0.0001", "0.02",
             usual="half a thou, or a hundredth", aside=True),
        yes("tram.nods", "the head nods", "Does the head nod as well?",
            "Then it is swept from front to back, too.", usual="no", given="tram.what=head"),
    ),
    cuts=False,
)  # fmt: skip

FORMS = (CENTRE, ANGLE, TRAM)
