"""One screen of each kind, of an invented part, for tests of the screen and its benchmark."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from assistant.present.formatting import stop_of
from assistant.present.glance import STOPPED, Bar, Ear, Glance, Limits, Moment, Stop
from assistant.present.keys_page import keys_page
from assistant.spoken import DialMove, Wheel
from assistant.units import inches, mm

SADDLE = Wheel("saddle", inches("0.200"), inches("0.001"), 1, 1)
KNEE = Wheel("knee", inches("0.100"), inches("0.001"), 1, 1)
TABLE = Wheel("table", inches("0.200"), inches("0.001"), 1)
QUILL = Wheel("quill", inches("0.500"), inches("0.001"), 1)
KNEE_MM = Wheel("knee", mm(2), mm("0.02"), 1, 1)

SADDLE_IN = DialMove(
    SADDLE, "in", inches("0.9405"), 4, Decimal("0.1405"), Decimal("140.5"), inches("0.1405")
)
KNEE_UP = DialMove(KNEE, "up", inches("0.006"), 0, Decimal("0.006"), Decimal(6), inches("0.017"))
KNEE_UP_MM = DialMove(KNEE_MM, "up", mm("3.24"), 1, Decimal("1.24"), Decimal(62), mm("1.24"))

SECTION = (
    ("shaft", 1.5),
    ("width", 0.375),
    ("height", 0.375),
    ("cutter_width", 0.375),
    ("depth_full", 0.2115),
)

BOLT_CIRCLE = (
    ("x_1", 2.0), ("y_1", 3.5), ("x_2", 3.299), ("y_2", 2.75), ("x_3", 3.299), ("y_3", 1.25),
    ("x_4", 2.0), ("y_4", 0.5), ("x_5", 0.701), ("y_5", 1.25), ("x_6", 0.701), ("y_6", 2.75),
    ("circle", 3.0), ("centre_x", 2.0), ("centre_y", 2.0), ("hole", 0.375), ("at", 2.0),
)  # fmt: skip
"""Six holes on 3 in about (2, 2); x = 2 + 1.5 sin(60 n), y = 2 + 1.5 cos(60 n)."""

SIXTY = (
    *(
        (f"{axis}_{row * 10 + place + 1}", 0.5 * (place if axis == "x" else row))
        for row in range(6)
        for place in range(10)
        for axis in "xy"
    ),
    ("hole", 0.25),
    ("at", 23.0),
)
"""Six rows of ten, half an inch apart."""


def moved(move: DialMove) -> dict[str, Any]:
    """What a page has of a move."""
    return {"move": move, "stop": stop_of(move), "way": move.direction}


_BASE = Glance(
    moment=Moment.NOTE,
    job="Pump shaft, 3/8 keyseat",
    place="step 14 of 41",
    heard="heard: that's through",
)

GLANCES = {
    "check": replace(
        _BASE,
        say="checked",
        moment=Moment.CHECK,
        place="step 3 of 41",
        heard="heard: yes",
        instruction="Overarm support in place before the arbor nut is tight?",
        cautions=("Gloves, rings and loose sleeves off.", "Drawbar spanner off the machine."),
    ),
    "touch": replace(
        _BASE,
        say="touched",
        moment=Moment.TOUCH,
        place="step 9 of 41",
        heard="",
        instruction="Touch the side of the shaft, cutter down to the centre line.",
        cautions=("Oiled paper stuck on. Hands nowhere near.",),
        drawing=(*SECTION, ("touch_side", 1.0)),
        drawing_kind="keyseat",
    ),
    "move": replace(
        _BASE,
        say="I'm set",
        moment=Moment.MOVE,
        number="0.9405",
        unit="in",
        widest="0.0000",
        what="saddle in",
        instruction="Drop the knee ten turns first. Then saddle in. Lock it.",
        **moved(SADDLE_IN),
        place="step 11 of 41",
        heard="heard: three thou",
    ),
    "move-mm": replace(
        _BASE,
        say="I'm set",
        moment=Moment.MOVE,
        number="3.24",
        unit="mm",
        widest="00.000",
        what="knee up",
        instruction="Knee up for the second pass. Lock it.",
        **moved(KNEE_UP_MM),
        job="Winch shaft, 8 x 7 keyseat",
        pass_place="pass 2 of 4",
        bar=Bar(4.0, 1.6, 3.24, (0.08, 1.6, 3.24, 4.0)),
    ),
    "cut": replace(
        _BASE,
        say="that's through",
        moment=Moment.CUT,
        number="0.0770",
        unit="in",
        widest="0.0000",
        what="left after this cut",
        instruction="Say that's through when it is.",
        cautions=("Conventional, no climbing.",),
        pass_place="pass 3 of 6",
        phase="cutting",
        bar=Bar(0.2115, 0.083, 0.1345, (0.003, 0.043, 0.083, 0.1345, 0.1745, 0.2115)),
        drawing=(*SECTION, ("depth_now", 0.083), ("depth_after", 0.1345)),
        drawing_kind="keyseat",
    ),
    "measure": replace(
        _BASE,
        say="measured ...",
        moment=Moment.MEASURE,
        number="1.664",
        unit="in",
        widest="0.0000",
        what="over the key",
        instruction="Spindle off and standing. Brush the chips out. Measure over the key.",
        limits=Limits(
            1.649, 1.664, "1.649", "1.664", 1.666, "1.666", "micrometer", "two over the limit"
        ),
        heard="heard: one point six six six",
    ),
    "holes": replace(
        _BASE,
        say="I'm set",
        moment=Moment.HOLES,
        number="1.2990",
        unit="in",
        widest="0.0000",
        what="table right",
        instruction="Hole 2. Come on from the left. Lock both.",
        **moved(
            DialMove(
                TABLE, "right", inches("1.299"), 6, Decimal("0.099"), Decimal(99), inches("0.099")
            )
        ),
        job="Gland flange, six holes",
        place="step 9 of 22",
        drawing=BOLT_CIRCLE,
        drawing_kind="bolt circle",
        heard="heard: that's through",
    ),
    "index": replace(
        _BASE,
        say="I'm set",
        moment=Moment.INDEX,
        number="5",
        unit="turns",
        widest="00",
        what="crank",
        stop=Stop("5 turns +", "15", "00", "holes", "on the 21 circle"),
        instruction="Five turns and 15 spaces in the 21 circle. Don't count the pin's hole.",
        job="Ratchet, 7 teeth",
        place="step 5 of 19",
        drawing=(("holes", 21.0), ("spaces", 15.0), ("turns", 5.0)),
        drawing_kind="index",
        heard="heard: I'm set",
    ),
    "note": replace(
        _BASE,
        say="I'm set",
        number="180",
        unit="rpm",
        widest="0000",
        what="spindle speed",
        instruction="Set one eighty, the nearest at or below.",
        place="step 7 of 41",
        heard="heard: what speed",
    ),
    "say": Glance(
        Moment.SAY,
        instruction="front wall five sixty two and a half",
        detail=("I heard nothing.",),
        place="12 of 20",
        level=0.5,
    ),
    "ask": replace(
        _BASE,
        say="yes, or no",
        moment=Moment.ASK,
        number="1.109",
        unit="in",
        widest="0.0000",
        what="is that right?",
        instruction="One one oh nine? Yes or no.",
        choices=("yes", "no"),
        heard="heard: one point one oh nine",
    ),
    "quiet": replace(
        _BASE,
        say="listen",
        moment=Moment.QUIET,
        number="0.9405",
        unit="in",
        widest="0.0000",
        what="saddle in",
        instruction="Saddle in. Lock it.",
        **moved(SADDLE_IN),
        ear=Ear.NOT_LISTENING,
        heard="heard: quit listening",
    ),
    "trouble": replace(
        _BASE,
        say="where are we",
        moment=Moment.TROUBLE,
        phase=STOPPED,
        instruction="Hit your stop button. I can't.",
        detail=("I am silent till you speak on.",),
        heard="heard: stop",
    ),
    "answer": replace(
        _BASE,
        say="that's through",
        moment=Moment.CUT,
        number="0.0770",
        unit="in",
        widest="0.0000",
        what="left after this cut",
        instruction="Say that's through when it is.",
        pass_place="pass 3 of 6",
        phase="cutting",
        bar=Bar(0.2115, 0.083, 0.1345, (0.003, 0.043, 0.083, 0.1345, 0.1745, 0.2115)),
        heard="heard: tap drill for three eighths sixteen",
        answer=(
            "Size: 0.3125 in",
            "5/16 drill, for 3/8-16 UNC.",
            "77 percent of thread, on the three quarters H basis.",
        ),
    ),
    "why": replace(
        _BASE,
        say="I'm set",
        moment=Moment.MOVE,
        number="0.9405",
        unit="in",
        widest="0.0000",
        what="saddle in",
        instruction="Saddle in. Lock it.",
        **moved(SADDLE_IN),
        heard="heard: why",
        answer=(
            "Saddle in: 0.9405 in",
            "+ half the shaft 0.7500 in",
            "+ half the cutter 0.1875 in",
            "+ paper 0.0030 in",
        ),
    ),
    "waiting": replace(
        _BASE,
        say="I'm set",
        moment=Moment.MOVE,
        number="0.017",
        unit="in",
        widest="0.0000",
        what="knee up",
        instruction="Up six. Lock it.",
        **moved(KNEE_UP),
        ear=Ear.WAITING,
        waits_for="hold or tap the pedal (f9)",
        heard="",
        noted="0.003 in.",
    ),
    "unplugged": replace(
        _BASE,
        say="I'm set",
        moment=Moment.MOVE,
        number="0.9405",
        unit="in",
        widest="0.0000",
        what="saddle in",
        instruction="Saddle in. Lock it.",
        **moved(SADDLE_IN),
        ear=Ear.NO_MICROPHONE,
        heard="",
        trouble=("Microphone: unplugged. Keys and typed words still work.",),
    ),
    "hole": replace(
        _BASE,
        say="that's through",
        moment=Moment.CUT,
        number="1.0250",
        unit="in",
        widest="0.0000",
        what="feed the quill down",
        **moved(
            DialMove(
                QUILL, "down", inches("1.025"), 2, Decimal("0.025"), Decimal(25), inches("0.025")
            )
        ),
        instruction="Peck 3 of 4, then right out for the chips.",
        phase="cutting",
        job="Bell bracket, a tapped hole",
        place="step 14 of 22",
        drawing=(
            ("drill_across", 0.3125),
            ("drill_deep", 1.344),
            ("drill_point", 0.094),
            ("sink_across", 0.394),
            ("sink_deep", 0.041),
            ("full_diameter", 1.25),
            ("thread_across", 0.375),
            ("thread_deep", 1.0),
            ("pitch", 0.0625),
            ("drill_at", 1.0),
            ("drill_now", 0.65),
            ("drill_after", 1.025),
        ),
        drawing_kind="hole",
    ),
    "gear": replace(
        _BASE,
        say="that's through",
        moment=Moment.CUT,
        number="0.010",
        unit="in",
        widest="0.0000",
        what="left after this cut",
        instruction="Feed the table right through.",
        phase="cutting",
        job="Clock train wheel, 32 teeth",
        place="step 71 of 280",
        pass_place="pass 1 of 2",
        bar=Bar(0.135, 0.0, 0.125, (0.125, 0.135)),
        drawing=(
            ("teeth", 32.0),
            ("blank", 2.125),
            ("depth_full", 0.135),
            ("at", 12.0),
            ("round_now", 0.125),
            ("depth_now", 0.0),
            ("depth_after", 0.125),
        ),
        drawing_kind="gear",
    ),
    "block": replace(
        _BASE,
        say="I'm set",
        instruction="Face 3. Face one still to the fixed jaw, face two down. Tap it down.",
        cautions=("Spindle stopped and isolated while you turn the work.",),
        job="Anvil block, squared",
        place="step 23 of 79",
        drawing=(
            ("thickness", 1.25),
            ("width", 1.75),
            ("length", 3.0),
            ("at", 3.0),
            ("done", 2.0),
            ("depth_full", 0.11),
        ),
        drawing_kind="block",
    ),
    "thread": replace(
        _BASE,
        say="that's through",
        moment=Moment.CUT,
        number="0.0338",
        unit="in",
        widest="0.0000",
        what="left after this cut",
        instruction="Close on any line. At the end: tool out, and open the half nut.",
        phase="cutting",
        job="Letterpress screw, eight to the inch",
        place="step 34 of 90",
        pass_place="pass 6 of 12",
        bar=Bar(
            0.0767,
            0.0389,
            0.0429,
            (0.003, 0.0173, 0.0245, 0.03, 0.0347, 0.0389, 0.0429, 0.05, 0.058, 0.066, 0.0767),
        ),
        drawing=(
            ("pitch", 0.125),
            ("depth_full", 0.0767),
            ("infeed", 29.5),
            ("depth_now", 0.0389),
            ("depth_after", 0.0429),
            ("pass_1", 0.05),
            ("pass_2", 0.058),
            ("pass_3", 0.066),
            ("pass_4", 0.0767),
        ),
        drawing_kind="thread",
    ),
    "sine-bar": replace(
        _BASE,
        say="I'm set",
        number="1.0822",
        unit="in",
        widest="0.0000",
        what="stack",
        instruction="Stack under one roll. Work against the bar's stop.",
        job="Kiln wedge on a sine bar",
        place="step 4 of 7",
        drawing=(("angle", 12.5), ("run", 3.0), ("bar", 5.0), ("stack_at", 1.0)),
        drawing_kind="angle",
    ),
    "near-holes": replace(
        _BASE,
        say="I'm set",
        moment=Moment.HOLES,
        number="0.500",
        unit="in",
        widest="0.0000",
        what="table right",
        **moved(
            DialMove(TABLE, "right", inches("0.5"), 2, Decimal("0.1"), Decimal(100), inches("0.1"))
        ),
        instruction="Hole 23. Lock both.",
        job="Strainer plate, sixty holes",
        place="step 51 of 141",
        drawing=SIXTY,
        drawing_kind="holes",
    ),
    "dial-in": replace(
        _BASE,
        say="I'm set",
        number="0.002",
        unit="in",
        widest="0.0000",
        what="half of the reading",
        instruction="Turn the higher jaw to the indicator. Slack the jaw opposite, tighten this.",
        job="Millstone spindle, dialled in",
        place="step 7 of 9",
        drawing=(("within", 0.001), ("inside", 0.0), ("swing", 0.004), ("pair", 1.0)),
        drawing_kind="dial-in",
    ),
    "done": replace(
        _BASE,
        say="same again",
        moment=Moment.DONE,
        place="",
        instruction="That's the job. It's in the record.",
        detail=("over the key: 1.660 in", "depth from the top: 0.2150 in"),
    ),
}
GLANCES["keys"] = keys_page(GLANCES["move"])
"""A name for each, with the page it should make."""
