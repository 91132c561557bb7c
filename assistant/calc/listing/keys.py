"""Straight keys, keyseats and hub keyways."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

B17 = "Machinery's Handbook, 31st ed., p. 2552 (ASME B17.1); DIN 6885-1"
STANDARDS = ("ASME B17.1", "DIN 6885-1")
SHAFT = Input("shaft", "length", "the shaft's diameter", above="0")
BORE = Input("bore", "length", "the bore's diameter", above="0")
WIDTH = Input(
    "width", "length", "the key's width, where the drawing gives it", above="0", optional=True
)
HEIGHT = Input(
    "height", "length", "the key's height, where the drawing gives it", above="0", optional=True
)
STANDARD = Input("standard", "text", "whose key", choices=STANDARDS, optional=True)
SHAPE = Input(
    "shape", "text", "shape of an inch key", choices=("square", "rectangular"), optional=True
)
SOURCE = Output("source", "text")

ENTRIES = (
    Calculation(
        name="key-size-inch",
        title="Width and height of the key for a shaft, ASME B17.1",
        inputs=(SHAFT,),
        result=(
            Output("width", "inch"),
            Output("square", "inch", "height of the square key"),
            Output("rectangular", "inch", "height of the rectangular key"),
            Output("preferred", "text"),
            SOURCE,
        ),
        formula="table, ranges over .. to and including ..",
        source="ASME B17.1, Table 1; Shigley, Table 7-6, p. 391",
        example=(
            {"shaft": "1-5/8 in"},
            {"width": "0.375", "square": "0.375", "rectangular": "0.25", "preferred": "square"},
        ),
        function="assistant.calc.asked_keys:key_size_inch",
        topic="Keys",
    ),
    Calculation(
        name="key-size-metric",
        title="Size and depths of the key for a shaft, DIN 6885-1",
        inputs=(SHAFT,),
        result=(
            Output("width", "mm"),
            Output("height", "mm"),
            Output("shaft_depth", "mm", "t1, from the crown"),
            Output("hub_depth", "mm", "t2, from the crown"),
            Output("depth_plus", "mm", "tolerance of both, minus nothing"),
            SOURCE,
        ),
        formula="table, ranges over .. to and including ..",
        source="DIN 6885-1, form A",
        example=(
            {"shaft": "30 mm"},
            {
                "width": "8",
                "height": "7",
                "shaft_depth": "4",
                "hub_depth": "3.3",
                "depth_plus": "0.2",
            },
        ),
        function="assistant.calc.asked_keys:key_size_metric",
        topic="Keys",
    ),
    Calculation(
        name="chordal-height",
        title="Height of the arc that a keyseat's width cuts off the shaft",
        inputs=(
            Input("diameter", "length", "the shaft's diameter", above="0"),
            Input("width", "length", "the key's width", above="0"),
        ),
        result=(Output("height", "length"),),
        formula="Y = (D - sqrt(D^2 - W^2)) / 2",
        source="plane geometry; US Navy training manual (NAVEDTRA 14345), height of arc",
        example=({"diameter": "1-1/2 in", "width": "3/8 in"}, {"height": "0.02382"}),
        function="assistant.calc.keys:chordal_height",
        topic="Keys",
    ),
    Calculation(
        name="keyseat",
        title="A straight keyseat in a shaft: depth from the top, floor to opposite, over the key",
        inputs=(
            SHAFT,
            WIDTH,
            HEIGHT,
            STANDARD,
            SHAPE,
            Input(
                "depth_from_top",
                "length",
                "depth from the top, where the drawing gives it",
                above="0",
                optional=True,
            ),
            Input("measured_shaft", "length", "the shaft as measured", above="0", optional=True),
            Input(
                "measured_key", "length", "the key's height as measured", above="0", optional=True
            ),
            Input(
                "fit",
                "text",
                "class of a metric keyway's width",
                choices=("P9", "N9", "JS9", "H9", "D10"),
                optional=True,
            ),
        ),
        result=(
            Output("key_width", "length"),
            Output("key_height", "length"),
            Output("width_low", "length", "least width of the seat"),
            Output("width_high", "length", "greatest width of the seat"),
            Output("chordal_height", "length", "Y"),
            Output("side_depth", "length", "at the side wall"),
            Output("depth_from_top", "length", "from the top of the shaft, at least"),
            Output("depth_high", "length", "from the top of the shaft, at most"),
            Output("floor_to_opposite", "length", "S, or d - t1: plus nothing"),
            Output("floor_low", "length"),
            Output("over_key", "length", "M: plus nothing"),
            Output("over_key_low", "length"),
            SOURCE,
        ),
        formula="inch: depth = Y + H/2, S = D - depth, M = S + H; metric: depth = t1",
        source=B17,
        example=(
            {"shaft": "1-1/2 in"},
            {
                "key_width": "0.375",
                "chordal_height": "0.0238",
                "side_depth": "0.1875",
                "depth_from_top": "0.2113",
                "floor_to_opposite": "1.289",
                "floor_low": "1.274",
                "over_key": "1.664",
                "over_key_low": "1.649",
            },
        ),
        function="assistant.calc.asked_keys:keyseat",
        topic="Keys",
    ),
    Calculation(
        name="hub-keyway",
        title="A keyway in a hub: across the bore to its floor",
        inputs=(
            BORE,
            WIDTH,
            HEIGHT,
            STANDARD,
            SHAPE,
            Input(
                "clearance", "length", "over the key, where it is not the standard's", optional=True
            ),
            Input("taper", "yes or no", "a taper key, at the deep end", default="no"),
        ),
        result=(
            Output("key_width", "length"),
            Output("depth_from_crown", "length", "from the top of the bore, at least"),
            Output("opposite_to_floor", "length", "T, or d + t2: minus nothing"),
            Output("high", "length"),
            SOURCE,
        ),
        formula="inch: T = D - Y + H/2 + 0.005 (taper - 0.020); metric: d + t2",
        source=B17,
        example=(
            {"bore": "1-1/2 in"},
            {"key_width": "0.375", "opposite_to_floor": "1.669", "high": "1.679"},
        ),
        function="assistant.calc.asked_keys:hub_keyway",
        topic="Keys",
    ),
    Calculation(
        name="broached-keyway",
        title="Passes and shims for a hub keyway by push broach",
        inputs=(
            BORE,
            Input("cut_per_pass", "length", "the broach's last tooth less its first", above="0"),
            WIDTH,
            HEIGHT,
            STANDARD,
        ),
        result=(
            Output("depth", "length", "from the top of the bore"),
            Output("passes", "count"),
            Output("shims", "count"),
            Output("shim", "length", "thickness of each"),
            Output("readings", "length", "across the bore to the floor after each pass"),
            Output("check_low", "length"),
            Output("check_high", "length"),
        ),
        formula="depth = T - D; passes = depth / cut, up; shim = (depth - cut) / (passes - 1)",
        source=f"depth: {B17}; passes: common practice, no source",
        example=(
            {"bore": "1-1/8 in", "cut_per_pass": "0.060 in"},
            {
                "passes": 2,
                "shims": 1,
                "depth": "0.1159",
                "shim": "0.0559",
                "readings": ["1.185", "1.241"],
                "check_low": "1.241",
            },
        ),
        function="assistant.calc.asked_keys:broached_keyway",
        topic="Keys",
    ),
    Calculation(
        name="keyway-depth-tolerance",
        title="Tolerance of the size that is measured for a keyway's depth",
        inputs=(
            Input("width", "length", "the key's width", above="0"),
            Input("part", "text", "which part", choices=("shaft", "hub")),
            Input("standard", "text", "whose key", choices=STANDARDS),
        ),
        result=(Output("plus", "length"), Output("minus", "length")),
        formula="table",
        source="ASME B17.1, Table 2; DIN 6885-1",
        example=(
            {"width": "3/8 in", "part": "shaft", "standard": "ASME B17.1"},
            {"plus": "0", "minus": "0.015"},
        ),
        function="assistant.calc.asked_keys:keyway_depth_tolerance",
        topic="Keys",
    ),
    Calculation(
        name="keyway-width-class",
        title="Tolerance classes of a metric keyway's width",
        inputs=(Input("part", "text", "which part", choices=("shaft", "hub")),),
        result=(
            Output("tight", "text"),
            Output("normal", "text"),
            Output("sliding", "text"),
            Output("classes", "text"),
        ),
        formula="table",
        source="DIN 6885-1",
        example=({"part": "shaft"}, {"normal": "N9", "classes": "P9 / N9 / H9"}),
        function="assistant.calc.asked_keys:keyway_width_class",
        topic="Keys",
    ),
    Calculation(
        name="keyseat-lead",
        title="How far a keyseat may run out of line over its length",
        inputs=(Input("length", "length", "the keyseat's length", above="0"),),
        result=(Output("lead", "inch"),),
        formula="0.002 to 4 in; 0.0005 an inch to 10 in; 0.005 above",
        source="Machinery's Handbook, 31st ed., p. 2552 (ASME B17.1)",
        example=({"length": "6 in"}, {"lead": "0.003"}),
        function="assistant.calc.keys:max_lead",
        topic="Keys",
    ),
)
