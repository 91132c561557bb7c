"""Woodruff keys and their keyseats."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

WOODRUFF = "ASME B17.2, Machinery's Handbook, 31st ed., p. 2557; Shigley, Tables 7-7 and 7-8"
SHAFT = Input("shaft", "length", "the shaft's diameter", above="0")
SOURCE = Output("source", "text")

ENTRIES = (
    Calculation(
        name="woodruff-number",
        title="Width and cutter diameter that a Woodruff key number stands for",
        inputs=(Input("number", "text", "the key's number"),),
        result=(Output("width", "inch"), Output("diameter", "inch")),
        formula="last two digits: eighths of diameter; those before: 32nds of width",
        source=WOODRUFF,
        example=({"number": "608"}, {"width": "0.1875", "diameter": "1"}),
        function="assistant.calc.asked_keys:woodruff_size",
        topic="Woodruff keys",
    ),
    Calculation(
        name="woodruff-key",
        title="A Woodruff key's sizes",
        inputs=(Input("number", "text", "the key's number"),),
        result=(
            Output("width", "inch"),
            Output("diameter", "inch"),
            Output("height_high", "inch"),
            Output("height_low", "inch"),
            SOURCE,
        ),
        formula="table",
        source=WOODRUFF,
        example=({"number": "606"}, {"width": "0.1875", "height_high": "0.313"}),
        function="assistant.calc.asked_keys:woodruff_key",
        topic="Woodruff keys",
    ),
    Calculation(
        name="woodruff-depths",
        title="Depth of a Woodruff keyseat at the side wall, in shaft and hub",
        inputs=(Input("number", "text", "the key's number"),),
        result=(
            Output("seat_depth", "inch", "B, plus 0.005, minus nothing"),
            Output("hub_depth", "inch"),
            Output("protrusion", "inch", "of the key above the edge, plus or minus 0.005"),
        ),
        formula="B = least C - W/2; hub = W/2 + 0.006; key stands W/2",
        source=WOODRUFF,
        example=({"number": "807"}, {"seat_depth": "0.2450", "hub_depth": "0.131"}),
        function="assistant.calc.asked_keys:woodruff_depths",
        topic="Woodruff keys",
    ),
    Calculation(
        name="woodruff-keyseat",
        title="A Woodruff keyseat in a shaft: how deep from the top, what it measures over the key",
        inputs=(
            SHAFT,
            Input("number", "text", "an inch key's number", optional=True),
            Input("width", "length", "a metric key's width", above="0", optional=True),
            Input("height", "length", "a metric key's height", above="0", optional=True),
            Input("measured_shaft", "length", "the shaft as measured", above="0", optional=True),
            Input(
                "measured_height",
                "length",
                "the key's height as measured",
                above="0",
                optional=True,
            ),
        ),
        result=(
            Output("key", "text"),
            Output("cutter_width", "length"),
            Output("cutter_diameter", "length"),
            Output("chordal_height", "length"),
            Output("side_depth", "length"),
            Output("depth_from_top", "length", "at least"),
            Output("depth_high", "length"),
            Output("over_key", "length"),
            Output("over_key_low", "length"),
            Output("over_key_high", "length"),
            Output("hub_depth", "length"),
            SOURCE,
        ),
        formula="depth = B + Y (inch), t1 (metric); over the key = D - Y + W/2",
        source=WOODRUFF + "; US Navy training manual, Fig. 7-74; ISO 3912",
        example=(
            {"shaft": "3/4 in", "number": "606"},
            {"depth_from_top": "0.226", "over_key": "0.832", "cutter_diameter": "0.75"},
        ),
        function="assistant.calc.asked_keys:woodruff_seat",
        topic="Woodruff keys",
    ),
    Calculation(
        name="woodruff-for-shaft",
        title="Woodruff keys suggested for a shaft",
        inputs=(SHAFT,),
        result=(Output("keys", "text"),),
        formula="table, ranges over .. to and including ..",
        source="from memory of Machinery's Handbook; ISO 3912",
        example=({"shaft": "1 in"}, {"keys": ["606", "607", "608", "609"]}),
        function="assistant.calc.asked_keys:woodruff_for_shaft",
        topic="Woodruff keys",
    ),
    Calculation(
        name="woodruff-shafts",
        title="Shafts that suit a Woodruff key's width",
        inputs=(Input("width", "length", "the key's width", above="0"),),
        result=(Output("from", "inch"), Output("to", "inch")),
        formula="table",
        source="Shigley, Table 7-8, p. 393",
        example=({"width": "5/16 in"}, {"from": "0.75", "to": "2.375"}),
        function="assistant.calc.asked_keys:woodruff_shafts",
        topic="Woodruff keys",
    ),
    Calculation(
        name="stem-clearance",
        title="What is left between a cutter's stem and the shaft at full depth",
        inputs=(
            Input("cutter", "length", "the cutter's diameter", above="0"),
            Input("stem", "length", "the stem's or collar's diameter", above="0"),
            Input("depth_from_top", "length", "depth from the top", low="0 in"),
        ),
        result=(Output("clearance", "length", "negative: it rubs"),),
        formula="(cutter - stem) / 2 - depth",
        source="common practice, no source",
        example=(
            {"cutter": "1 in", "stem": "1/2 in", "depth_from_top": "0.226 in"},
            {"clearance": "0.024"},
        ),
        function="assistant.calc.woodruff:stem_clearance",
        topic="Woodruff keys",
    ),
)
