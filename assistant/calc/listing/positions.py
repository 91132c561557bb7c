"""Edges, centres, holes by coordinates, triangles."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

PLANE = "plane geometry"
COMMON = "common practice, no source"
HOLES = Input("holes", "count", "number of holes", low="1", high="1000")
CIRCLE = Input("diameter", "length", "diameter of the bolt circle", above="0")

ENTRIES = (
    Calculation(
        name="side-to-centre",
        title="From touching the side of a shaft to its centre line",
        inputs=(
            Input("shaft", "length", "the shaft's diameter", above="0"),
            Input("cutter", "length", "the cutter's measured width or diameter", above="0"),
            Input("paper", "length", "paper or feeler", low="0 in", optional=True),
        ),
        result=(Output("move", "length"),),
        formula="(shaft + cutter) / 2 + paper",
        source="US Army TC 9-524, milling Woodruff key slots",
        example=(
            {"shaft": "1-1/2 in", "cutter": "0.375 in", "paper": "0.003 in"},
            {"move": "0.9405"},
        ),
        function="assistant.calc.positions:side_to_centre",
        topic="Positions",
    ),
    Calculation(
        name="edge-to-spindle",
        title="How far the spindle's centre is from an edge just touched",
        inputs=(
            Input("tip", "length", "diameter of the edge finder's tip or the cutter", above="0"),
            Input("feeler", "length", "paper or feeler", low="0 in", optional=True),
        ),
        result=(Output("offset", "length"),),
        formula="tip / 2 + feeler",
        source=COMMON,
        example=({"tip": "0.200 in"}, {"offset": "0.1"}),
        function="assistant.calc.positions:edge_to_spindle",
        topic="Positions",
    ),
    Calculation(
        name="centre-of-two-touches",
        title="The middle of a boss, plate or bore from two touches",
        inputs=(
            Input("first", "length", "first touch, whole turns counted"),
            Input("second", "length", "second touch on the same scale"),
            Input("tip", "length", "diameter of the tip", above="0"),
            Input("inside", "yes or no", "whether inside a bore or slot", default="no"),
        ),
        result=(
            Output("position", "length", "on the scale of the touches"),
            Output("size", "length", "across the feature: the check"),
            Output("back", "length", "from the second touch, with its sign"),
        ),
        formula="(first + second) / 2; size = |second - first| - tip (outside) or + tip (inside)",
        source=COMMON,
        example=(
            {"first": "0.250 in", "second": "3.450 in", "tip": "0.200 in"},
            {"position": "1.85", "size": "3", "back": "-1.6"},
        ),
        function="assistant.calc.positions:centre_of",
        topic="Positions",
    ),
    Calculation(
        name="centre-correction",
        title="How far a slot is off centre, from its walls to the shaft's sides",
        inputs=(
            Input("near_wall", "length", "near wall, measured", low="0 in"),
            Input("far_wall", "length", "far wall, measured", low="0 in"),
        ),
        result=(Output("move", "length", "toward the near side where it is positive"),),
        formula="(near - far) / 2",
        source=COMMON,
        example=({"near_wall": "0.564 in", "far_wall": "0.560 in"}, {"move": "0.002"}),
        function="assistant.calc.positions:centre_correction",
        topic="Positions",
    ),
    Calculation(
        name="bolt-circle",
        title="Places of the holes on a bolt circle",
        inputs=(
            CIRCLE,
            HOLES,
            Input("first_angle", "degree", "of the first hole, from +X", optional=True),
            Input("centre_x", "length", "the circle's centre along X", optional=True),
            Input("centre_y", "length", "the circle's centre along Y", optional=True),
            Input("clockwise", "yes or no", "whether the holes go clockwise", default="no"),
        ),
        result=(Output("points", "length", "X and Y of each hole"),),
        formula="x = R cos a, y = R sin a",
        source=PLANE,
        example=(
            {"diameter": "2-1/2 in", "holes": "3", "first_angle": "90"},
            {"points": [["0", "1.25"], ["-1.0825", "-0.625"], ["1.0825", "-0.625"]]},
        ),
        function="assistant.calc.asked:bolt_circle",
        topic="Positions",
    ),
    Calculation(
        name="hole-grid",
        title="Places of holes in rows and columns, row by row in one direction",
        inputs=(
            Input("columns", "count", "holes in a row", low="1", high="1000"),
            Input("rows", "count", "rows", low="1", high="1000"),
            Input("pitch_x", "length", "between holes of a row"),
            Input("pitch_y", "length", "between rows"),
            Input("first_x", "length", "first hole along X", optional=True),
            Input("first_y", "length", "first hole along Y", optional=True),
        ),
        result=(Output("points", "length", "X and Y of each hole"),),
        formula="first + pitch x number",
        source=COMMON,
        example=(
            {"columns": "2", "rows": "2", "pitch_x": "25 mm", "pitch_y": "20 mm"},
            {"points": [["0", "0"], ["25", "0"], ["0", "20"], ["25", "20"]]},
        ),
        function="assistant.calc.asked:hole_grid",
        topic="Positions",
    ),
    Calculation(
        name="chord",
        title="Distance between neighbouring holes of a bolt circle: the check",
        inputs=(
            CIRCLE,
            HOLES,
            Input("apart", "count", "1 for neighbours, 2 for every other", low="1", default="1"),
        ),
        result=(Output("chord", "length"),),
        formula="D sin(180 k / N)",
        source=PLANE,
        example=({"diameter": "3 in", "holes": "5"}, {"chord": "1.7634"}),
        function="assistant.calc.positions:chord",
        topic="Positions",
    ),
    Calculation(
        name="chord-factor",
        title="Chord between neighbouring holes on a circle of diameter 1",
        inputs=(
            HOLES,
            Input("apart", "count", "1 for neighbours, 2 for every other", low="1", default="1"),
        ),
        result=(Output("factor", "number"),),
        formula="sin(180 k / N)",
        source=PLANE,
        example=({"holes": "7"}, {"factor": "0.433884"}),
        function="assistant.calc.positions:chord_factor",
        topic="Positions",
    ),
    Calculation(
        name="right-triangle",
        title="The whole of a right triangle from two of its parts",
        inputs=(
            Input("base", "length", "along", above="0", optional=True),
            Input("rise", "length", "up", above="0", optional=True),
            Input("hypotenuse", "length", "the long side", above="0", optional=True),
            Input("angle", "degree", "between base and hypotenuse", optional=True),
        ),
        result=(
            Output("base", "length"),
            Output("rise", "length"),
            Output("hypotenuse", "length"),
            Output("angle", "degree"),
        ),
        formula="c^2 = a^2 + b^2; tan A = rise / base",
        source=PLANE,
        example=(
            {"base": "4 in", "rise": "3 in"},
            {"hypotenuse": "5", "angle": "36.8699"},
        ),
        function="assistant.calc.positions:right_triangle",
        topic="Positions",
    ),
)
