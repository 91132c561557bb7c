"""What can be read and heard in a shop."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

ENTRIES = (
    Calculation(
        name="character-height",
        title="Height of figures that are read at a distance",
        inputs=(
            Input("distance", "length", "how far away it is read", above="0"),
            Input("angle", "number", "minutes of arc", above="0", high="600", default="20"),
        ),
        result=(Output("height", "length"),),
        formula="2 D tan(A / 2); printed as 6.283 D A / 21600",
        source="NUREG-0700 Rev. 2, guideline 1.3.1-4",
        example=({"distance": "1500 mm", "angle": "22"}, {"height": "9.60"}),
        function="assistant.calc.legible:character_height",
        topic="Reading and hearing",
    ),
    Calculation(
        name="character-height-rule",
        title="Height of figures by the rule of thumb",
        inputs=(Input("distance", "length", "how far away it is read", above="0"),),
        result=(Output("height", "length"),),
        formula="distance / 200",
        source="FAA rule of thumb, Taylor & Francis b22361",
        example=({"distance": "1000 mm"}, {"height": "5"}),
        function="assistant.calc.legible:rule_of_thumb_height",
        topic="Reading and hearing",
    ),
    Calculation(
        name="contrast-ratio",
        title="Contrast of two colours",
        inputs=(
            Input("one", "text", "a colour, as #FFBF00"),
            Input("other", "text", "the other colour"),
        ),
        result=(Output("ratio", "number"),),
        formula="(L1 + 0.05) / (L2 + 0.05)",
        source="WCAG 2.x",
        example=({"one": "#FFBF00", "other": "#000000"}, {"ratio": "12.7"}),
        function="assistant.calc.legible:contrast",
        topic="Reading and hearing",
    ),
    Calculation(
        name="noise-time",
        title="How long a day a noise may be borne: a guide, local rules decide",
        inputs=(Input("level", "number", "noise in dB(A)", low="0", high="140"),),
        result=(Output("time", "hour"),),
        formula="8 h / 2^((L - 85) / 3)",
        source="NIOSH recommended exposure limit, 85 dB(A), 3 dB exchange",
        example=({"level": "88"}, {"time": "4"}),
        function="assistant.calc.legible:noise_time",
        topic="Reading and hearing",
    ),
    Calculation(
        name="reading-guideline",
        title="A published guideline for figures, speech or noise",
        inputs=(Input("name", "text", "which guideline"),),
        result=(
            Output("what", "text"),
            Output("low", "number"),
            Output("high", "number"),
            Output("unit", "text"),
            Output("source", "text"),
        ),
        formula="table",
        source="each row of the table names its own",
        example=(
            {"name": "preferred-character-angle"},
            {"low": "20", "high": "22", "unit": "arcmin"},
        ),
        function="assistant.calc.legible:guideline",
        topic="Reading and hearing",
    ),
)
