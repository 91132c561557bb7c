"""Handwheels and their dials."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

COMMON = "common practice, no source"
PER_TURN = Input("per_turn", "length", "travel of one turn of the wheel", above="0")
GRADUATION = Input("graduation", "length", "one division of the dial", above="0")

ENTRIES = (
    Calculation(
        name="handwheel-move",
        title="A travel as whole turns, divisions and the reading to stop at",
        inputs=(
            Input("distance", "length", "how far, with a minus the other way"),
            PER_TURN,
            Input(
                "graduation",
                "length",
                "one division; the travel is set to halves of it",
                above="0",
                optional=True,
            ),
            Input("start", "length", "what the dial reads now", low="0 in", optional=True),
            Input(
                "numbers",
                "text",
                "whether the numbers rise or fall that way",
                choices=("rise", "fall"),
                default="rise",
            ),
        ),
        result=(
            Output("turns", "count", "whole turns"),
            Output("part", "length", "the rest"),
            Output("divisions", "number", "the rest in divisions"),
            Output("reading", "length", "to stop at"),
            Output("crossings", "count", "how often zero is met"),
        ),
        formula="turns = whole part of distance / turn; reading = (start + distance) mod turn",
        source=COMMON,
        example=(
            {"distance": "0.9405 in", "per_turn": "0.200 in", "graduation": "0.001 in"},
            {
                "turns": 4,
                "part": "0.1405",
                "divisions": "140.5",
                "reading": "0.1405",
                "crossings": 4,
            },
        ),
        function="assistant.calc.asked:handwheel_move",
        topic="Handwheels",
    ),
    Calculation(
        name="dial-divisions",
        title="How many divisions a dial has",
        inputs=(PER_TURN, GRADUATION),
        result=(Output("divisions", "count"),),
        formula="travel a turn / graduation",
        source=COMMON,
        example=({"per_turn": "2.5 mm", "graduation": "0.02 mm"}, {"divisions": 125}),
        function="assistant.calc.dial:divisions_per_turn",
        topic="Handwheels",
    ),
    Calculation(
        name="dial-setting",
        title="A size set to what the dial can show, in half divisions",
        inputs=(
            Input("target", "length", "the exact size"),
            GRADUATION,
            Input(
                "toward",
                "text",
                "which way to round",
                choices=("nearest", "deeper", "shallower"),
                default="nearest",
            ),
        ),
        result=(Output("setting", "length"),),
        formula="target / half a graduation, rounded, x half a graduation",
        source=COMMON,
        example=(
            {"target": "0.2113 in", "graduation": "0.001 in", "toward": "deeper"},
            {"setting": "0.2115"},
        ),
        function="assistant.calc.asked:dial_setting",
        topic="Handwheels",
    ),
    Calculation(
        name="travel-so-far",
        title="How far the wheel has gone, from whole turns and the reading",
        inputs=(
            Input("turns", "count", "whole turns counted", low="0"),
            Input("reading", "length", "what the dial reads", low="0 in"),
            PER_TURN,
            Input("start", "length", "what it read at the beginning", low="0 in", optional=True),
        ),
        result=(Output("travel", "length"),),
        formula="turns x travel a turn + reading - start",
        source=COMMON,
        example=(
            {"turns": "2", "reading": "0.011 in", "per_turn": "0.100 in"},
            {"travel": "0.211"},
        ),
        function="assistant.calc.asked:travel_so_far",
        topic="Handwheels",
    ),
    Calculation(
        name="come-back",
        title="How far to turn back past a place, and forward again, so that the backlash is up",
        inputs=(
            Input("travel", "length", "how far to come back"),
            PER_TURN,
            Input("backlash", "length", "of this screw", low="0 in"),
        ),
        result=(
            Output("back", "length", "turn back first"),
            Output("forward", "length", "then forward, to stop"),
            Output("overshoot", "length", "how far past that is"),
        ),
        formula="half a turn past, or more halves to be twice the backlash",
        source=COMMON,
        example=(
            {"travel": "0.100 in", "per_turn": "0.200 in", "backlash": "0.006 in"},
            {"back": "0.200", "forward": "0.100", "overshoot": "0.100"},
        ),
        function="assistant.calc.asked:come_back",
        topic="Handwheels",
    ),
    Calculation(
        name="reversed-travel",
        title="Handwheel travel that moves the table when the wheel is reversed",
        inputs=(
            Input("distance", "length", "how far the table is to go", above="0"),
            Input("backlash", "length", "of this screw", low="0 in"),
        ),
        result=(Output("travel", "length"),),
        formula="distance + backlash",
        source=COMMON,
        example=({"distance": "0.100 in", "backlash": "0.006 in"}, {"travel": "0.106"}),
        function="assistant.calc.dial:reversed_travel",
        topic="Handwheels",
    ),
    Calculation(
        name="backlash",
        title="Backlash, from the dial's two readings where one place is reached from either side",
        inputs=(
            Input("first", "length", "what the dial reads, come from one side", low="0 in"),
            Input("second", "length", "what it reads, come from the other", low="0 in"),
            PER_TURN,
        ),
        result=(Output("backlash", "length"),),
        formula="the shorter way round the dial from one reading to the other",
        source=COMMON,
        example=(
            {"first": "0.004 in", "second": "0.194 in", "per_turn": "0.200 in"},
            {"backlash": "0.010"},
        ),
        function="assistant.calc.dial:backlash_between",
        topic="Handwheels",
    ),
    Calculation(
        name="screw-lead",
        title="Travel of one turn of a screw",
        inputs=(
            Input("threads_per_inch", "number", "threads per inch of the screw", above="0"),
            Input("starts", "count", "number of starts", low="1", default="1"),
        ),
        result=(Output("lead", "inch"),),
        formula="starts / threads per inch",
        source="definition of lead",
        example=({"threads_per_inch": "5"}, {"lead": "0.2"}),
        function="assistant.calc.dial:screw_lead",
        topic="Handwheels",
    ),
    Calculation(
        name="screw-travel",
        title="True travel of a screw, whatever its dial says",
        inputs=(
            Input("turns", "number", "turns of the screw"),
            Input("lead", "length", "its true lead", above="0"),
        ),
        result=(Output("travel", "inch"),),
        formula="turns x lead",
        source=COMMON,
        example=({"turns": "25", "lead": "1 mm"}, {"travel": "0.98425"}),
        function="assistant.calc.dial:screw_travel",
        topic="Handwheels",
    ),
    Calculation(
        name="cross-slide-dial",
        title="What a cross-slide dial does to the tool and to the diameter",
        inputs=(
            Input("on_dial", "length", "how far on the dial"),
            Input("reads", "text", "what the dial reads", choices=("diameter", "radius")),
        ),
        result=(Output("tool", "length", "tool travel"), Output("diameter", "length", "change")),
        formula="diameter dial: tool moves half; radius dial: diameter changes twice",
        source=COMMON,
        example=(
            {"on_dial": "0.020 in", "reads": "diameter"},
            {"tool": "0.01", "diameter": "0.02"},
        ),
        function="assistant.calc.asked:dial_diameter",
        topic="Handwheels",
    ),
)
