"""Cutting threads in the lathe: infeed, the thread dial, wires."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output
from assistant.calc.listing.threads import BASIS, PITCH, THREAD, TPI

TOPIC = "Threading in the lathe"
SET_OVER = Input(
    "set_over", "degree", "the compound's angle from square to the axis", low="0", high="90",
    default="29.5",
)  # fmt: skip
WIRES = "Machinery's Handbook, measuring screw threads, three-wire method"
EXACT_PITCH = Input("pitch", "length", "the pitch", above="0")

ENTRIES = (
    Calculation(
        name="compound-infeed",
        title="Travel of the compound for a thread depth",
        inputs=(Input("depth", "length", "the depth, square to the axis", above="0"), SET_OVER),
        result=(
            Output("travel", "length", "along the compound"),
            Output("shift", "length", "the tool's move along the axis meanwhile"),
            Output("from_square", "degree", "as most compounds read"),
            Output("from_axis", "degree", "the same setting read from the axis"),
        ),
        formula="travel = depth / cos(angle from square)",
        source="US Navy training manual, Fig. 6-91 (compound at 29-1/2 degrees); geometry",
        example=(
            {"depth": "0.0472 in"},
            {"travel": "0.0542", "from_square": "29.5", "from_axis": "60.5"},
        ),
        function="assistant.calc.thread_infeed:compound_infeed",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-compound",
        title="Travel of the compound for the whole depth of a thread",
        inputs=(BASIS, SET_OVER, TPI, PITCH),
        result=(Output("travel", "length"), Output("shift", "length")),
        formula="depth on the basis named / cos(angle from square)",
        source="US Navy training manual, Fig. 6-91; depths: ASME B1.1, ISO 68-1",
        example=({"basis": "17/24 H", "tpi": "13"}, {"travel": "0.0542"}),
        function="assistant.calc.thread_sizes:thread_compound",
        topic=TOPIC,
    ),
    Calculation(
        name="infeed-passes",
        title="Shrinking passes of a thread, each with about the same area of chip",
        inputs=(
            Input("depth", "length", "the whole depth", above="0"),
            Input("first_cut", "length", "the most that the first pass may take", above="0"),
            Input("least_cut", "length", "the least useful cut of the machine", above="0"),
            Input("spring_passes", "count", "passes at full depth", "0", "10", default="2"),
        ),
        result=(
            Output("depths", "length", "where each pass ends, from the touch"),
            Output("cuts", "length", "what each takes"),
            Output("spring_passes", "count"),
        ),
        formula="depth x sqrt(k / n); no cut under the least useful one",
        source="common practice, no source; chip area is geometry",
        example=(
            {"depth": "0.030 in", "first_cut": "0.015 in", "least_cut": "0.002 in"},
            {"depths": ["0.015", "0.02121", "0.02598", "0.030"],
             "cuts": ["0.015", "0.00621", "0.00477", "0.00402"], "spring_passes": 2},
        ),
        function="assistant.calc.thread_infeed:infeed_passes",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-dial",
        title="Where on the thread dial the half nut may be closed again",
        inputs=(
            Input("gear_teeth", "count", "teeth of the dial's gear on the lead screw", "1", "200"),
            Input("marks", "count", "lines on the dial", "1", "64"),
            Input("tpi", "fraction", "threads an inch to cut", above="0", optional=True),
            Input("pitch", "length", "or the pitch to cut", above="0", optional=True),
            Input("screw_tpi", "fraction", "threads an inch of the lead screw", above="0",
                  optional=True),
            Input("screw_pitch", "length", "or its pitch", above="0", optional=True),
        ),
        result=(
            Output("open_half_nut", "yes or no"),
            Output("every", "count", "use every so many lines"),
            Output("rule", "text"),
            Output("anywhere", "yes or no"),
        ),
        formula="least common multiple of thread pitch and lead screw pitch, over the travel "
        "between two lines",
        source="common practice, no source; arithmetic",
        example=(
            {"gear_teeth": "32", "marks": "8", "tpi": "11-1/2", "screw_tpi": "8"},
            {"open_half_nut": True, "every": 4, "anywhere": False},
        ),
        function="assistant.calc.thread_dial:thread_dial",
        topic=TOPIC,
    ),
    Calculation(
        name="wire-best",
        title="The best wire for measuring a thread over three wires",
        inputs=(EXACT_PITCH,),
        result=(Output("wire", "length"),),
        formula="P / sqrt(3) = 0.57735 P",
        source=WIRES,
        example=({"pitch": "1.5 mm"}, {"wire": "0.8660"}),
        function="assistant.calc.thread_wires:best_wire",
        topic=TOPIC,
    ),
    Calculation(
        name="wire-pick",
        title="Of the wires at hand, the one nearest to the best",
        inputs=(
            EXACT_PITCH,
            Input("wires", "lengths", "the wires at hand; a usual set where not given",
                  above="0", optional=True),
        ),
        result=(Output("wire", "length"),),
        formula="nearest to 0.57735 P, from 0.5052 P to 1.0104 P",
        source=WIRES + "; the limits are geometry; the usual set from memory",
        example=(
            {"pitch": "0.05 in", "wires": "0.024 in, 0.029 in, 0.032 in"}, {"wire": "0.029"},
        ),
        function="assistant.calc.thread_wires:wire_at_hand",
        topic=TOPIC,
    ),
    Calculation(
        name="wire-reading",
        title="Size over three wires for a pitch diameter",
        inputs=(
            Input("pitch_dia", "length", "the pitch diameter", above="0"),
            EXACT_PITCH,
            Input("wire", "length", "the wire's diameter", above="0"),
        ),
        result=(Output("over_wires", "length"),),
        formula="M = E + 3 W - 0.866025 P (helix correction left out)",
        source=WIRES,
        example=(
            {"pitch_dia": "0.45 in", "pitch": "0.0769231 in", "wire": "0.04441 in"},
            {"over_wires": "0.5166"},
        ),
        function="assistant.calc.thread_wires:size_over_wires",
        topic=TOPIC,
    ),
    Calculation(
        name="wire-pitch-diameter",
        title="Pitch diameter from a reading over three wires",
        inputs=(
            Input("over_wires", "length", "the reading over the wires", above="0"),
            EXACT_PITCH,
            Input("wire", "length", "the wire's diameter", above="0"),
        ),
        result=(Output("pitch_dia", "length"),),
        formula="E = M - 3 W + 0.866025 P (helix correction left out)",
        source=WIRES,
        example=(
            {"over_wires": "0.5166 in", "pitch": "0.0769231 in", "wire": "0.04441 in"},
            {"pitch_dia": "0.4500"},
        ),
        function="assistant.calc.thread_wires:pitch_dia_from_wires",
        topic=TOPIC,
    ),
    Calculation(
        name="wire-helix",
        title="What the lead angle adds to a size over wires",
        inputs=(
            Input("pitch_dia", "length", "the pitch diameter", above="0"),
            Input("lead", "length", "the lead: pitch times starts", above="0"),
            Input("wire", "length", "the wire's diameter", above="0"),
        ),
        result=(Output("correction", "length"),),
        formula="3/4 W (lead / (pi E))^2",
        source="ASME B1.2, lead angle correction for 60 degree threads, from memory",
        example=(
            {"pitch_dia": "0.45 in", "lead": "0.0769231 in", "wire": "0.04441 in"},
            {"correction": "0.0001"},
        ),
        function="assistant.calc.thread_wires:helix_correction",
        topic=TOPIC,
    ),
    Calculation(
        name="wire-limits",
        title="Limits over three wires for a thread and its class",
        inputs=(
            THREAD,
            Input("thread_class", "text", "the class: 2A, 3A, 6g"),
            Input("wire", "length", "the wire used; the best where not given", above="0",
                  optional=True),
        ),
        result=(
            Output("wire", "length"),
            Output("best", "length"),
            Output("basic", "length"),
            Output("most", "length"),
            Output("least", "length"),
            Output("helix", "length", "what the lead angle would add"),
        ),
        formula="M = E + 3 W - 0.866025 P with E at the limits of the class",
        source="limits: ASME B1.1, ISO 965-1; " + WIRES,
        example=(
            {"thread": "3/8-16", "thread_class": "2A", "wire": "0.03608 in"},
            {"most": "0.3872", "least": "0.3828"},
        ),
        function="assistant.calc.thread_sizes:wire_limits",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-to-go",
        title="How much further to feed from a reading over wires",
        inputs=(
            Input("measured", "length", "the reading over the wires", above="0"),
            Input("wanted", "length", "the reading wanted", above="0"),
            Input("compound", "degree", "the compound's angle from square; 0 for the cross slide",
                  low="0", high="60", default="0"),
        ),
        result=(
            Output("over", "length"),
            Output("infeed", "length", "square to the axis"),
            Output("compound", "length", "along the compound"),
        ),
        formula="infeed = (measured - wanted) / 2; compound = infeed / cos",
        source="geometry",
        example=(
            {"measured": "0.5200 in", "wanted": "0.5150 in", "compound": "29.5"},
            {"over": "0.005", "infeed": "0.0025", "compound": "0.00287"},
        ),
        function="assistant.calc.thread_wires:to_go",
        topic=TOPIC,
    ),
    Calculation(
        name="hand-stop-speed",
        title="The fastest that a thread may run, to be stopped by hand",
        inputs=(
            Input("lead", "length", "what the carriage goes a turn: the pitch", above="0"),
            Input("to_metal", "yes or no", "whether it ends at a shoulder or the jaws",
                  default="yes"),
            Input("by_spindle", "yes or no", "whether the half nut stays closed", default="no"),
        ),
        result=(Output("speed", "rpm"),),
        formula="0.15 in (4 mm) a second, half of it to a shoulder, half with the half nut closed",
        source="common practice, no source; seven tenths of a second to answer: an article on "
        "reaction time (experts.com)",
        example=({"lead": "0.1 in", "to_metal": "no"}, {"speed": "90"}),
        function="assistant.calc.hand_stop:hand_stop_speed",
        topic=TOPIC,
    ),
    Calculation(
        name="slide-speed",
        title="How far a slide runs in a second",
        inputs=(
            Input("spindle", "rpm", "spindle speed", above="0"),
            Input("lead", "length", "travel a turn: pitch or feed", above="0"),
        ),
        result=(Output("travel", "length", "in a second"),),
        formula="speed x travel a turn / 60",
        source="arithmetic",
        example=({"spindle": "360", "lead": "0.076923 in"}, {"travel": "0.46154"}),
        function="assistant.calc.hand_stop:slide_speed",
        topic=TOPIC,
    ),
)  # fmt: skip
