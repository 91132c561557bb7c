"""Dividing heads and rotary tables."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

TOPIC = "Dividing"
RATIO = Input("ratio", "count", "turns of the crank to one of the work", low="1", high="1000",
              default="40")  # fmt: skip
DIVISIONS = Input("divisions", "count", "how many equal spaces", low="1", high="10000")
ANGLE = Input("angle", "degree", "the angle, such as 8d50m", above="0", high="360")
PLATES = Input("plates", "text", "which usual set", choices=("three plate", "two sided"),
               default="three plate")  # fmt: skip
CIRCLES = Input("circles", "counts", "or your own plates' circles", low="2", high="1000",
                optional=True)  # fmt: skip
FINEST = Input("finest_arcsec", "count", "finest reading of the dial, arc seconds", low="1",
               high="3600", optional=True)  # fmt: skip
OD1644 = "US Army Ordnance OD1644 (milling), plain and angular indexing, as in the check values"
MOVE = (
    Output("exact", "yes or no"),
    Output("turns", "count", "whole turns"),
    Output("pairs", "counts", "holes and circle, each that will do"),
    Output("sector_holes", "counts", "holes between the sector arms, with the pin's own"),
    Output("error_arcsec", "number", "of one move, where no circle will do"),
    Output("total_error_arcsec", "number", "once round"),
)
SETTING = (
    Output("turns", "count"),
    Output("degrees", "count"),
    Output("minutes", "count"),
    Output("seconds", "number"),
    Output("dial_degrees", "number", "the dial's part in decimal degrees"),
    Output("error_arcsec", "number", "from setting it to the finest reading"),
)

ENTRIES = (
    Calculation(
        name="index-divisions",
        title="Turns and holes for equal divisions on a dividing head",
        inputs=(RATIO, DIVISIONS, PLATES, CIRCLES),
        result=MOVE,
        formula="turns = ratio / divisions; the hole that the pin is in is not counted",
        source=OD1644,
        example=(
            {"divisions": "7"},
            {"exact": True, "turns": 5, "pairs": [[15, 21], [35, 49]], "sector_holes": [16, 36]},
        ),
        function="assistant.calc.index_plates:divide",
        topic=TOPIC,
    ),
    Calculation(
        name="index-angle",
        title="Turns and holes for an angle on a dividing head",
        inputs=(RATIO, ANGLE, PLATES, CIRCLES),
        result=MOVE,
        formula="turns = angle x ratio / 360",
        source=OD1644,
        example=(
            {"angle": "8d50m", "plates": "two sided"},
            {"exact": True, "turns": 0, "pairs": [[53, 54]]},
        ),
        function="assistant.calc.index_plates:turn_by",
        topic=TOPIC,
    ),
    Calculation(
        name="index-usual-plates",
        title="What the two usual sets of plates offer for a division or an angle",
        inputs=(
            RATIO,
            Input(
                "divisions", "count", "how many equal spaces", low="1", high="10000", optional=True
            ),
            Input("angle", "degree", "or an angle", above="0", high="360", optional=True),
        ),
        result=(
            Output("turns", "count"),
            Output("three_plate", "counts"),
            Output("two_sided", "counts"),
            Output("possible_three_plate", "yes or no"),
            Output("possible_two_sided", "yes or no"),
        ),
        formula="turns = ratio / divisions, or angle x ratio / 360",
        source=OD1644,
        example=(
            {"divisions": "127"},
            {"possible_three_plate": False, "possible_two_sided": False, "three_plate": []},
        ),
        function="assistant.calc.index_plates:usual_plates",
        topic=TOPIC,
    ),
    Calculation(
        name="index-error",
        title="How far a move of the crank is from an angle",
        inputs=(
            RATIO,
            ANGLE,
            Input("holes", "count", "holes moved", low="0", high="10000"),
            Input("circle", "count", "holes in the circle", low="2", high="1000"),
        ),
        result=(Output("error_arcsec", "number", "negative: short"),),
        formula="holes / circle x 360 / ratio - angle",
        source=OD1644,
        example=(
            {"angle": "0d24m", "holes": "1", "circle": "23"},
            {"error_arcsec": "-31.3"},
        ),
        function="assistant.calc.indexing:index_error",
        topic=TOPIC,
    ),
    Calculation(
        name="index-coverage",
        title="Which numbers a set of plates can't divide",
        inputs=(
            RATIO,
            PLATES,
            Input("all_to", "count", "every number to", low="2", high="1000"),
            Input("then_to", "count", "then to", low="2", high="1000"),
            Input("steps", "counts", "only multiples of", low="1", high="100"),
        ),
        result=(
            Output("all_to", "count"),
            Output("then_to", "count"),
            Output("missing", "counts"),
        ),
        formula="the denominator of ratio / N must divide a circle",
        source="arithmetic",
        example=(
            {"plates": "three plate", "all_to": "50", "then_to": "100", "steps": "2"},
            {"missing": [96]},
        ),
        function="assistant.calc.index_plates:covered",
        topic=TOPIC,
    ),
    Calculation(
        name="index-plates",
        title="The circles of a usual set of plates",
        inputs=(PLATES,),
        result=(
            Output("first", "counts"),
            Output("second", "counts"),
            Output("third", "counts"),
        ),
        formula="table",
        source=OD1644 + " (two sided); the three-plate set from memory",
        example=(
            {"plates": "three plate"},
            {"first": [15, 16, 17, 18, 19, 20]},
        ),
        function="assistant.calc.index_plates:plate_circles",
        topic=TOPIC,
    ),
    Calculation(
        name="rotary-angle",
        title="Turns and dial of a rotary table for an angle from zero",
        inputs=(
            Input(
                "ratio",
                "count",
                "turns of the handwheel to one of the table",
                low="1",
                high="1000",
                default="90",
            ),
            Input("angle", "degree", "the angle, such as 16d42m20s", low="0", high="360"),
            FINEST,
        ),
        result=SETTING,
        formula="a turn is 360 / ratio degrees; the rest is read on the dial",
        source="maker's manual for rotary tables, vernier example, as in the check values",
        example=(
            {"ratio": "90", "angle": "16d42m20s"},
            {"turns": 4, "degrees": 0, "minutes": 42, "seconds": "20"},
        ),
        function="assistant.calc.rotary:table_angle",
        topic=TOPIC,
    ),
    Calculation(
        name="rotary-position",
        title="Setting of a rotary table for one of so many divisions, from zero",
        inputs=(
            Input(
                "ratio",
                "count",
                "turns of the handwheel to one of the table",
                low="1",
                high="1000",
                default="90",
            ),
            DIVISIONS,
            Input("index", "count", "which one: 0 is zero itself", low="0", high="10000"),
            FINEST,
        ),
        result=SETTING,
        formula="index x 360 / divisions, always from zero",
        source="geometry",
        example=(
            {"ratio": "90", "divisions": "7", "index": "3", "finest_arcsec": "10"},
            {"turns": 38, "degrees": 2, "minutes": 17, "seconds": "10"},
        ),
        function="assistant.calc.rotary:table_position",
        topic=TOPIC,
    ),
    Calculation(
        name="rotary-turn",
        title="Degrees to a turn of a rotary table's handwheel",
        inputs=(
            Input(
                "ratio", "count", "turns of the handwheel to one of the table", low="1", high="1000"
            ),
        ),
        result=(Output("degrees", "number"),),
        formula="360 / ratio",
        source="geometry",
        example=({"ratio": "90"}, {"degrees": "4"}),
        function="assistant.calc.rotary:turn_in_degrees",
        topic=TOPIC,
    ),
)
