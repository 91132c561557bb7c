"""Tapers: per foot and by angle, on the compound or by the tailstock."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

TOPIC = "Tapers"
LARGE = Input("large", "length", "the large diameter", above="0")
SMALL = Input("small", "length", "the small diameter", above="0")
TOTAL = Input("total_length", "length", "length of the work between centres", above="0")
RATIO = Input(
    "ratio", "number", "taper wanted: change of diameter over length", above="0", high="1"
)
TAPER = (
    Output("ratio", "number", "change of diameter over length"),
    Output("taper_per_foot", "inch/foot", "on the diameter"),
    Output("half_angle", "degree", "what the compound is set to"),
    Output("included_angle", "degree"),
)

ENTRIES = (
    Calculation(
        name="taper-per-foot",
        title="A taper in inches a foot, as angles",
        inputs=(Input("per_foot", "number", "inches a foot on the diameter", above="0",
                      high="20"),),
        result=TAPER,
        formula="half angle = atan(taper per foot / 24)",
        source="dimensions of standard tapers (supplier reference page), as in the check values",
        example=(
            {"per_foot": "0.60235"}, {"half_angle": "1.4377", "included_angle": "2.8754"},
        ),
        function="assistant.calc.tapers:taper_per_foot",
        topic=TOPIC,
    ),
    Calculation(
        name="taper-angle",
        title="An included angle, as a taper",
        inputs=(Input("included", "degree", "the included angle", above="0", high="89"),),
        result=TAPER,
        formula="change of diameter over length = 2 tan(A / 2)",
        source="Turning and Boring Tapers (1902, public domain), as in the check values",
        example=({"included": "20"}, {"ratio": "0.35265", "half_angle": "10"}),
        function="assistant.calc.tapers:taper_from_angle",
        topic=TOPIC,
    ),
    Calculation(
        name="taper-diameters",
        title="A taper from two diameters and the length between them",
        inputs=(LARGE, SMALL, Input("length", "length", "between them, along the axis", above="0")),
        result=TAPER,
        formula="half angle = atan((D - d) / (2 l))",
        source="geometry",
        example=(
            {"large": "1.25 in", "small": "1 in", "length": "4 in"},
            {"half_angle": "1.7899", "taper_per_foot": "0.75"},
        ),
        function="assistant.calc.tapers:taper_from_diameters",
        topic=TOPIC,
    ),
    Calculation(
        name="taper-standard",
        title="A standard taper: Morse, Brown & Sharpe, 7/24",
        inputs=(
            Input("family", "text", "which family", choices=("morse", "brown-sharpe", "7/24")),
            Input("size", "text", "its number"),
        ),
        result=(
            Output("name", "text"),
            Output("taper_per_foot", "inch/foot"),
            Output("half_angle", "degree"),
            Output("included_angle", "degree"),
            Output("large_end", "inch", "gauge or large end diameter"),
            Output("by_compound", "yes or no", "whether it may be turned with the compound"),
            Output("source", "text"),
        ),
        formula="table; half angle = atan(taper per foot / 24)",
        source="ASME B5.10, B5.50; part from memory, each row says",
        example=(
            {"family": "morse", "size": "3"},
            {"taper_per_foot": "0.60235", "half_angle": "1.4377", "large_end": "0.938",
             "by_compound": True},
        ),
        function="assistant.calc.tapers:standard_taper",
        topic=TOPIC,
    ),
    Calculation(
        name="tailstock-offset",
        title="Set-over of the tailstock for a taper in inches a foot",
        inputs=(TOTAL, Input("per_foot", "number", "inches a foot on the diameter", above="0",
                             high="4")),
        result=(Output("offset", "length"),),
        formula="length x taper per foot / 24",
        source="F. D. Jones, Turning and Boring (1914, public domain), as in the check values",
        example=({"total_length": "9 in", "per_foot": "1"}, {"offset": "0.375"}),
        function="assistant.calc.tapers:offset_from_foot",
        topic=TOPIC,
    ),
    Calculation(
        name="tailstock-offset-diameters",
        title="Set-over of the tailstock from two diameters",
        inputs=(TOTAL, LARGE, SMALL,
                Input("length", "length", "length of the tapered part", above="0")),
        result=(Output("offset", "length"),),
        formula="L (D - d) / (2 l)",
        source="geometry; F. D. Jones, Turning and Boring (1914, public domain)",
        example=(
            {"total_length": "10 in", "large": "1.25 in", "small": "1 in", "length": "4 in"},
            {"offset": "0.3125"},
        ),
        function="assistant.calc.tapers:offset_from_diameters",
        topic=TOPIC,
    ),
    Calculation(
        name="taper-correction",
        title="What puts a taper cut with the compound right, from two diameters",
        inputs=(
            LARGE,
            SMALL,
            Input("spacing", "length", "between the two measured places, along the axis",
                  above="0"),
            Input("wanted_half_angle", "degree", "the half angle wanted", above="0", high="45"),
        ),
        result=(
            Output("half_angle_change", "degree", "to add to the compound's angle"),
            Output("steeper", "yes or no"),
        ),
        formula="wanted half angle - atan((D - d) / (2 l))",
        source="geometry",
        example=(
            {"large": "1.25 in", "small": "1 in", "spacing": "4 in", "wanted_half_angle": "1.8"},
            {"half_angle_change": "0.0101", "steeper": True},
        ),
        function="assistant.calc.tapers:taper_correction",
        topic=TOPIC,
    ),
    Calculation(
        name="tailstock-correction",
        title="Further set-over of the tailstock, from two diameters",
        inputs=(
            LARGE,
            SMALL,
            Input("spacing", "length", "between the two measured places", above="0"),
            TOTAL,
            Input("wanted", "number", "taper wanted: change of diameter over length", above="0",
                  high="1"),
        ),
        result=(Output("change", "length", "positive: more set-over"),),
        formula="L (wanted - (D - d) / l) / 2",
        source="geometry",
        example=(
            {"large": "1.25 in", "small": "1.01 in", "spacing": "4 in", "total_length": "10 in",
             "wanted": "0.0625"},
            {"change": "0.0125"},
        ),
        function="assistant.calc.tapers:tailstock_correction",
        topic=TOPIC,
    ),
    Calculation(
        name="compound-indicator",
        title="Reading of an indicator that proves the compound's angle",
        inputs=(
            Input("travel", "length", "how far the compound is moved", above="0"),
            Input("half_angle", "degree", "the angle it should have", above="0", high="90"),
        ),
        result=(Output("reading", "length", "square to the axis"),),
        formula="travel x sin(half angle)",
        source="geometry",
        example=({"travel": "1 in", "half_angle": "1.4377"}, {"reading": "0.02509"}),
        function="assistant.calc.tapers:compound_reading",
        topic=TOPIC,
    ),
    Calculation(
        name="taper-gauge-infeed",
        title="Infeed that lets a gauge go further onto a taper",
        inputs=(Input("stands_off", "length", "how far the gauge stands off", above="0"), RATIO),
        result=(Output("infeed", "length", "on the radius"),),
        formula="stand-off x ratio / 2",
        source="geometry",
        example=({"stands_off": "1/4 in", "ratio": "0.05"}, {"infeed": "0.00625"}),
        function="assistant.calc.tapers:infeed_for_gauge",
        topic=TOPIC,
    ),
)  # fmt: skip
