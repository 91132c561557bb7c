"""Drilling: sizes by name, points and depths, countersinks, counterbores, centres, reaming."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

TOPIC = "Drilling"
DIA = Input("dia", "length", "the drill's diameter", above="0")
POINT = Input(
    "point_angle", "degree", "the included angle of the point", low="30", high="170",
    default="118",
)  # fmt: skip
DRILL = (
    Output("name", "text"),
    Output("kind", "text"),
    Output("diameter", "length"),
    Output("source", "text"),
)
RANGE = (Output("least", "length"), Output("most", "length"), Output("source", "text"))
CENTRE = (
    Output("size", "text"),
    Output("body", "length"),
    Output("pilot", "length"),
    Output("source", "text"),
)

ENTRIES = (
    Calculation(
        name="drill-size",
        title="The diameter of a drill by its name",
        inputs=(Input("name", "text", "the drill: #7, F, 29/64, 6.8 mm"),),
        result=(
            Output("name", "text"), Output("kind", "text"),
            Output("inch", "inch"), Output("mm", "mm"), Output("source", "text"),
        ),
        formula="table",
        source="ASME B94.11M and ISO 235, from memory; compared with an open table",
        example=({"name": "#7"}, {"name": "#7", "inch": "0.201", "mm": "5.1054"}),
        function="assistant.calc.drills:named_size",
        topic=TOPIC,
    ),
    Calculation(
        name="drill-nearest",
        title="The drill nearest to a size",
        inputs=(
            Input("size", "length", "the size wanted", above="0"),
            Input("drills", "text", "which sets", choices=("inch", "metric", "all"),
                  default="inch"),
            Input("rule", "text", "which drill", choices=("nearest", "at or above", "at or below"),
                  default="nearest"),
        ),
        result=DRILL,
        formula="table; of two as near the smaller",
        source="ASME B94.11M and ISO 235, from memory; compared with an open table",
        example=(
            {"size": "0.257 in", "drills": "all"},
            {"name": "F", "kind": "letter", "diameter": "0.257"},
        ),
        function="assistant.calc.drills:nearest_of",
        topic=TOPIC,
    ),
    Calculation(
        name="drill-point-factor",
        title="Length of a drill's point as a share of its diameter",
        inputs=(POINT,),
        result=(Output("factor", "number"),),
        formula="0.5 / tan(A / 2)",
        source="geometry",
        example=({"point_angle": "118"}, {"factor": "0.3004"}),
        function="assistant.calc.drilling:point_factor",
        topic=TOPIC,
    ),
    Calculation(
        name="drill-point",
        title="Length of a drill's point",
        inputs=(DIA, POINT),
        result=(Output("length", "length"),),
        formula="D / 2 / tan(A / 2)",
        source="geometry",
        example=({"dia": "3/4 in"}, {"length": "0.2253"}),
        function="assistant.calc.drilling:point_length",
        topic=TOPIC,
    ),
    Calculation(
        name="drill-depth",
        title="How far to feed a drill from its touch for a full-diameter depth",
        inputs=(
            Input("full_diameter", "length", "depth at full diameter", above="0"),
            DIA,
            POINT,
            Input("through", "yes or no", "whether it goes through", default="no"),
        ),
        result=(
            Output("from_touch", "length"),
            Output("point", "length"),
            Output("full_diameter", "length"),
        ),
        formula="depth + D / 2 / tan(A / 2), through: and D / 10",
        source="geometry; the tenth of a diameter: common practice, no source",
        example=(
            {"full_diameter": "1 in", "dia": "3/4 in"}, {"from_touch": "1.2253", "point": "0.2253"},
        ),
        function="assistant.calc.drilling:drill_depth",
        topic=TOPIC,
    ),
    Calculation(
        name="drill-pecks",
        title="Where to stop and clear the chips of a hole",
        inputs=(Input("depth", "length", "depth of the hole", above="0"), DIA),
        result=(Output("depths", "length"), Output("deep", "yes or no")),
        formula="three diameters, then two, then one at a time",
        source="common practice, no source",
        example=(
            {"depth": "2 in", "dia": "1/4 in"},
            {"depths": ["0.75", "1.25", "1.50", "1.75", "2"], "deep": True},
        ),
        function="assistant.calc.drilling:peck_plan",
        topic=TOPIC,
    ),
    Calculation(
        name="drill-pilot",
        title="A pilot drill for a large drill",
        inputs=(DIA,),
        result=RANGE,
        formula="0.2 D to 0.3 D: a little more than the web",
        source="common practice, no source",
        example=({"dia": "1 in"}, {"least": "0.2", "most": "0.3"}),
        function="assistant.calc.drilling:pilot_drill",
        topic=TOPIC,
    ),
    Calculation(
        name="ream-allowance",
        title="How much to leave on the diameter for a reamer",
        inputs=(
            Input("dia", "length", "the reamer's diameter", above="0"),
            Input("how", "text", "by machine or by hand", choices=("machine", "hand"),
                  default="machine"),
        ),
        result=RANGE,
        formula="table",
        source="common practice, no source; ranges from memory of shop handbooks",
        example=({"dia": "1/2 in"}, {"least": "0.008", "most": "0.015"}),
        function="assistant.calc.drilling:reaming_allowance",
        topic=TOPIC,
    ),
    Calculation(
        name="countersink-depth",
        title="Travel of a countersink from its touch on the hole, or on the face",
        inputs=(
            Input("csk_dia", "length", "the diameter wanted at the face", above="0"),
            Input("hole_dia", "length", "the hole; 0 from the face", low="0 in", default="0 in"),
            Input("angle", "degree", "the included angle", low="30", high="170", default="82"),
        ),
        result=(Output("depth", "length"),),
        formula="(D - d) / 2 / tan(A / 2)",
        source="geometry",
        example=(
            {"csk_dia": "0.375 in", "hole_dia": "0.201 in", "angle": "82"}, {"depth": "0.1001"},
        ),
        function="assistant.calc.drilling:countersink_depth",
        topic=TOPIC,
    ),
    Calculation(
        name="counterbore",
        title="Counterbore for a socket head cap screw",
        inputs=(
            Input("screw", "text", "the screw: 10, 1/4, M6"),
            Input("below", "length", "how far the head lies below the face", low="0 in",
                  optional=True),
        ),
        result=(
            Output("screw", "text"), Output("dia", "length"), Output("depth", "length"),
            Output("clearance_hole", "length"), Output("source", "text"),
        ),
        formula="table; depth = head height + what it lies below",
        source="ASME B18.3; ISO 4762, DIN 974-1, ISO 273; from memory",
        example=(
            {"screw": "1/4"}, {"dia": "0.4375", "depth": "0.25", "clearance_hole": "0.28125"},
        ),
        function="assistant.calc.drilling:counterbore",
        topic=TOPIC,
    ),
    Calculation(
        name="centre-drill",
        title="Body and pilot of a plain centre drill by its number",
        inputs=(Input("size", "text", "its number, 00 to 8"),),
        result=CENTRE,
        formula="table",
        source="ASME B94.11M, plain type, from memory",
        example=({"size": "3"}, {"body": "0.25", "pilot": "0.109375"}),
        function="assistant.calc.drilling:centre_drill",
        topic=TOPIC,
    ),
    Calculation(
        name="centre-drill-iso",
        title="Body of an ISO centre drill type A by its pilot",
        inputs=(Input("pilot", "mm", "its pilot diameter", above="0"),),
        result=(
            Output("size", "text"), Output("body", "mm"), Output("pilot", "mm"),
            Output("source", "text"),
        ),
        formula="table",
        source="ISO 866, from memory",
        example=({"pilot": "3.15"}, {"size": "A3.15", "body": "8"}),
        function="assistant.calc.drilling:centre_drill_iso",
        topic=TOPIC,
    ),
    Calculation(
        name="centre-depth",
        title="Travel of a centre drill from its touch for a centre so wide",
        inputs=(
            Input("size", "text", "the centre drill: 3, or A2.5"),
            Input("mouth", "length", "width of the centre at the face", above="0"),
        ),
        result=(Output("depth", "length"),),
        formula="1.25 x pilot + (mouth - pilot) / 2 / tan 30",
        source="geometry; length of the pilot: ISO 866 type A, from memory",
        example=({"size": "A2.5", "mouth": "5 mm"}, {"depth": "5.290"}),
        function="assistant.calc.drilling:centre_travel",
        topic=TOPIC,
    ),
)  # fmt: skip
