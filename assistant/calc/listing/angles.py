"""Angles and setting up."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

SINE = "Handbook of Machining and Metalworking Calculations, ch. 4"
COMMON = "common practice, no source"
ANGLE = Input("angle", "degree", "the angle")

ENTRIES = (
    Calculation(
        name="sine-bar-stack",
        title="Gauge block stack under a sine bar",
        inputs=(Input("length", "length", "the sine bar's length", above="0"), ANGLE),
        result=(Output("stack", "length"),),
        formula="L sin A",
        source=SINE,
        example=({"length": "5 in", "angle": "34d25m"}, {"stack": "2.826"}),
        function="assistant.calc.angles:sine_bar_stack",
        topic="Angles and setting up",
    ),
    Calculation(
        name="sine-bar-angle",
        title="The angle that a stack under a sine bar gives",
        inputs=(
            Input("length", "length", "the sine bar's length", above="0"),
            Input("stack", "length", "the stack", above="0"),
        ),
        result=(Output("angle", "degree"),),
        formula="asin(stack / L)",
        source=SINE,
        example=({"length": "5 in", "stack": "2.5 in"}, {"angle": "30"}),
        function="assistant.calc.angles:sine_bar_angle",
        topic="Angles and setting up",
    ),
    Calculation(
        name="tilt-rise",
        title="Rise over a length, to set a head, vice or table to an angle by indicator",
        inputs=(Input("run", "length", "length swept", above="0"), ANGLE),
        result=(Output("rise", "length"),),
        formula="run x tan A",
        source=COMMON,
        example=({"run": "4 in", "angle": "3"}, {"rise": "0.2096"}),
        function="assistant.calc.angles:tilt_rise",
        topic="Angles and setting up",
    ),
    Calculation(
        name="tilt-angle",
        title="The angle of a rise over a length",
        inputs=(
            Input("run", "length", "length swept", above="0"),
            Input("rise", "length", "change of the indicator"),
        ),
        result=(Output("angle", "degree"),),
        formula="atan(rise / run)",
        source=COMMON,
        example=({"run": "100 mm", "rise": "1.7455 mm"}, {"angle": "1.000"}),
        function="assistant.calc.angles:tilt_angle",
        topic="Angles and setting up",
    ),
    Calculation(
        name="dovetail",
        title="A dovetail measured over or between two pins",
        inputs=(
            Input("wide", "length", "sharp-cornered width at the wide end", above="0"),
            Input("depth", "length", "depth", above="0"),
            Input("angle", "degree", "of the sides to the base"),
            Input("pin", "length", "diameter of the pins", above="0"),
            Input("female", "yes or no", "between pins, in the slide's slot", default="no"),
        ),
        result=(
            Output("narrow", "length"),
            Output("over_pins", "length", "over the pins, or between them (female)"),
            Output("largest_pin", "length"),
        ),
        formula="male: narrow + d (1 + cot(A/2)); female: wide - d (1 + cot(A/2))",
        source="from memory of Machinery's Handbook, dovetail slides",
        example=(
            {"wide": "3 in", "depth": "0.5 in", "angle": "60", "pin": "0.375 in"},
            {"narrow": "2.42265", "over_pins": "3.44717", "largest_pin": "0.66667"},
        ),
        function="assistant.calc.angles:dovetail",
        topic="Angles and setting up",
    ),
    Calculation(
        name="tram-correction",
        title="How far to move a head or vice jaw, from an indicator swept over it",
        inputs=(
            Input("difference", "length", "the indicator's change over the sweep"),
            Input("sweep", "length", "length swept", above="0"),
            Input("across", "length", "from the pivot to where it is corrected", above="0"),
        ),
        result=(Output("correction", "length"),),
        formula="difference x across / sweep",
        source=COMMON,
        example=(
            {"difference": "0.004 in", "sweep": "8 in", "across": "12 in"},
            {"correction": "0.006"},
        ),
        function="assistant.calc.angles:tram_correction",
        topic="Angles and setting up",
    ),
    Calculation(
        name="v-block-top-shift",
        title="How far the top of a shaft moves in a V-block for a change of diameter",
        inputs=(
            Input("change", "length", "change of diameter"),
            Input("included", "degree", "the V's angle", default="90"),
        ),
        result=(Output("shift", "length"),),
        formula="change x (1 + 1 / sin(A/2)) / 2: 1.207 times in a 90 degree V",
        source="plane geometry",
        example=({"change": "0.100 in"}, {"shift": "0.1207"}),
        function="assistant.calc.angles:v_block_top_shift",
        topic="Angles and setting up",
    ),
    Calculation(
        name="v-block-centre-shift",
        title="How far the centre of a shaft rises in a V-block for a change of diameter",
        inputs=(
            Input("change", "length", "change of diameter"),
            Input("included", "degree", "the V's angle", default="90"),
        ),
        result=(Output("shift", "length"),),
        formula="change / (2 sin(A/2)): 0.7071 times in a 90 degree V",
        source="plane geometry",
        example=({"change": "0.100 in"}, {"shift": "0.0707"}),
        function="assistant.calc.angles:v_block_centre_shift",
        topic="Angles and setting up",
    ),
    Calculation(
        name="vice-centre-shift",
        title="How far the centre moves from a vice's fixed jaw for a change of diameter",
        inputs=(Input("change", "length", "change of diameter"),),
        result=(Output("shift", "length"),),
        formula="change / 2",
        source="plane geometry",
        example=({"change": "0.012 in"}, {"shift": "0.006"}),
        function="assistant.calc.angles:vice_centre_shift",
        topic="Angles and setting up",
    ),
    Calculation(
        name="other-swivel-reading",
        title="The same setting on a swivel that is read from the other side",
        inputs=(Input("angle_to_axis", "degree", "the angle as given"),),
        result=(Output("angle", "degree"),),
        formula="90 - A",
        source=COMMON,
        example=({"angle_to_axis": "29.5"}, {"angle": "60.5"}),
        function="assistant.calc.angles:from_square",
        topic="Angles and setting up",
    ),
)
