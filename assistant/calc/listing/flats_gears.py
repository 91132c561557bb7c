"""Flats, squares and hexagons, slitting, T-slots, one spur gear."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

FLATS = "Flats and slots"
GEARS = "Spur gear"
SIDES = Input("sides", "count", "how many flats", low="3", high="360")
STOCK = Input("stock", "length", "the bar's diameter", above="0")
TEETH = Input("teeth", "count", "how many teeth", low="12", high="1000")
MODULE = Input("module", "length", "the module, or 1 / diametral pitch in inches", above="0",
               optional=True)  # fmt: skip
DP = Input("diametral_pitch", "number", "or the diametral pitch", above="0", high="200",
           optional=True)  # fmt: skip
PRESSURE = Input("pressure_angle", "degree", "14.5 or 20, as the cutter says", low="14.5",
                 high="20", default="20")  # fmt: skip
HANDBOOK = "Machinery's Handbook, spur gearing, from memory"
POLYGON = (
    Output("across_flats", "length"),
    Output("across_corners", "length"),
    Output("flat_width", "length"),
    Output("depth", "length", "of each flat from the bar's surface"),
    Output("full_corners", "yes or no", "whether the corners come out sharp"),
)

ENTRIES = (
    Calculation(
        name="polygon",
        title="Flats on a bar: how deep each is cut",
        inputs=(SIDES, Input("across_flats", "length", "size across flats", above="0"), STOCK),
        result=POLYGON,
        formula="depth = (stock - across flats) / 2; corners = across flats / cos(180 / n)",
        source="geometry",
        example=(
            {"sides": "6", "across_flats": "3/4 in", "stock": "7/8 in"},
            {"across_corners": "0.8660", "depth": "0.0625", "full_corners": True},
        ),
        function="assistant.calc.polygons:polygon",
        topic=FLATS,
    ),
    Calculation(
        name="polygon-largest",
        title="The largest square, hexagon and so on that a bar holds",
        inputs=(SIDES, STOCK),
        result=POLYGON,
        formula="across flats = D cos(180 / n)",
        source="geometry",
        example=(
            {"sides": "4", "stock": "1 in"}, {"across_flats": "0.7071", "depth": "0.1464"},
        ),
        function="assistant.calc.polygons:largest_polygon",
        topic=FLATS,
    ),
    Calculation(
        name="polygon-stock",
        title="The bar that a polygon with sharp corners needs",
        inputs=(SIDES, Input("across_flats", "length", "size across flats", above="0")),
        result=(Output("stock", "length"),),
        formula="across flats / cos(180 / n)",
        source="geometry",
        example=({"sides": "6", "across_flats": "19 mm"}, {"stock": "21.939"}),
        function="assistant.calc.polygons:stock_for",
        topic=FLATS,
    ),
    Calculation(
        name="flat-width",
        title="Width of a flat cut so deep on a bar",
        inputs=(STOCK, Input("depth", "length", "depth of the flat", above="0")),
        result=(Output("width", "length"),),
        formula="2 sqrt(r^2 - (r - depth)^2)",
        source="geometry",
        example=({"stock": "1 in", "depth": "0.1 in"}, {"width": "0.6"}),
        function="assistant.calc.polygons:flat_width",
        topic=FLATS,
    ),
    Calculation(
        name="flat-depth",
        title="Depth that gives a flat of a width on a bar",
        inputs=(STOCK, Input("width", "length", "width of the flat", above="0")),
        result=(Output("depth", "length"),),
        formula="r - sqrt(r^2 - (width / 2)^2)",
        source="geometry",
        example=({"stock": "1 in", "width": "0.6 in"}, {"depth": "0.1"}),
        function="assistant.calc.polygons:flat_depth",
        topic=FLATS,
    ),
    Calculation(
        name="slitting",
        title="Reach and travel of a slitting saw",
        inputs=(
            Input("saw", "length", "the saw's diameter", above="0"),
            Input("collar", "length", "the arbor collars' diameter", above="0"),
            Input("depth", "length", "depth of the cut", above="0"),
            Input("length", "length", "length of the cut", above="0"),
        ),
        result=(
            Output("reach", "length", "deepest cut before the collars touch"),
            Output("run_in", "length", "until full depth"),
            Output("travel", "length", "clear at both ends"),
        ),
        formula="(saw - collar) / 2; run-in = sqrt(depth (saw - depth))",
        source="geometry",
        example=(
            {"saw": "4 in", "collar": "1.5 in", "depth": "0.8 in", "length": "2 in"},
            {"reach": "1.25", "run_in": "1.6", "travel": "5.2"},
        ),
        function="assistant.calc.slots:slitting",
        topic=FLATS,
    ),
    Calculation(
        name="t-slot",
        title="A T-slot by its throat",
        inputs=(Input("throat", "mm", "width of the throat", above="0"),),
        result=(
            Output("throat", "mm"),
            Output("slot_depth", "mm", "least and most"),
            Output("head_width", "mm", "least and most"),
            Output("head_height", "mm", "least and most"),
            Output("source", "text"),
        ),
        formula="table",
        source="ISO 299 / DIN 650, from memory",
        example=(
            {"throat": "12"},
            {"slot_depth": ["20", "25"], "head_width": ["19", "21"], "head_height": ["8", "9"]},
        ),
        function="assistant.calc.slots:t_slot",
        topic=FLATS,
    ),
    Calculation(
        name="spur-gear",
        title="Blank, depth, cutter number and check size of a spur gear",
        inputs=(TEETH, PRESSURE, MODULE, DP),
        result=(
            Output("pitch_dia", "length"),
            Output("blank", "length", "outside diameter"),
            Output("whole_depth", "length"),
            Output("addendum", "length"),
            Output("circular_pitch", "length"),
            Output("cutter", "count", "its number"),
            Output("cutter_for", "text"),
            Output("chordal_thickness", "length"),
            Output("chordal_addendum", "length", "where the gear tooth vernier is set"),
        ),
        formula="blank = m (z + 2); depth 2.25 m (20 degrees) or 2.157 m (14.5); chordal "
        "thickness = m z sin(90 / z)",
        source=HANDBOOK,
        example=(
            {"teeth": "24", "diametral_pitch": "10", "pressure_angle": "14.5"},
            {"pitch_dia": "2.4", "blank": "2.6", "whole_depth": "0.2157", "cutter": 5,
             "chordal_thickness": "0.1570", "chordal_addendum": "0.1026"},
        ),
        function="assistant.calc.gears:spur_gear_by",
        topic=GEARS,
    ),
    Calculation(
        name="gear-span",
        title="Measurement over several teeth of a spur gear",
        inputs=(
            TEETH, PRESSURE, MODULE, DP,
            Input("spanned", "count", "how many teeth are spanned", low="1", high="500"),
        ),
        result=(Output("span", "length"),),
        formula="m cos a (pi (k - 1/2) + z (tan a - a))",
        source="geometry of the involute",
        example=({"teeth": "24", "module": "2 mm", "spanned": "3"}, {"span": "15.433"}),
        function="assistant.calc.gears:span_by",
        topic=GEARS,
    ),
    Calculation(
        name="gear-extra-depth",
        title="Further depth when a tooth measures too thick",
        inputs=(
            Input("thickness", "length", "what the tooth measures", above="0"),
            Input("wanted", "length", "what it should measure", above="0"),
            PRESSURE,
        ),
        result=(Output("depth", "length"),),
        formula="(thickness - wanted) / (2 tan a)",
        source="geometry",
        example=(
            {"thickness": "0.160 in", "wanted": "0.157 in", "pressure_angle": "20"},
            {"depth": "0.0041"},
        ),
        function="assistant.calc.gears:extra_depth",
        topic=GEARS,
    ),
)  # fmt: skip
