"""Passes, removal rate, finish, run-out."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

COMMON = "common practice, no source"
FEED = Input("feed", "feed", "feed rate", above="0")

ENTRIES = (
    Calculation(
        name="passes",
        title="Depths of the passes of a cut, adding up exactly",
        inputs=(
            Input("depth", "length", "full depth from the touch", above="0"),
            Input("limit", "length", "the most one pass may take", above="0"),
            Input("start", "length", "depth already reached", low="0 in", optional=True),
            Input("witness", "length", "a first skim", low="0 in", optional=True),
            Input("finish", "length", "left for the last pass", low="0 in", optional=True),
            Input("least", "length", "the machine's least useful cut", low="0 in", optional=True),
            Input("graduation", "length", "one division of the dial", above="0", optional=True),
        ),
        result=(
            Output("count", "count"),
            Output("depths", "length", "reached after each pass"),
            Output("kinds", "text"),
        ),
        formula="equal roughing cuts of at most the limit, each end set to half a division",
        source=COMMON,
        example=(
            {
                "depth": "0.2115 in",
                "limit": "0.060 in",
                "witness": "0.003 in",
                "finish": "0.010 in",
                "graduation": "0.001 in",
            },
            {"count": 6, "depths": ["0.003", "0.0525", "0.1025", "0.152", "0.2015", "0.2115"]},
        ),
        function="assistant.calc.asked:passes",
        topic="Cutting",
    ),
    Calculation(
        name="removal-rate",
        title="Metal removed a minute in milling",
        inputs=(
            Input("width", "length", "width of cut", above="0"),
            Input("depth", "length", "depth of cut", above="0"),
            FEED,
        ),
        result=(Output("rate", "removal"),),
        formula="width x depth x feed",
        source="plane geometry: the volume swept",
        example=({"width": "0.5 in", "depth": "0.1 in", "feed": "8 in/min"}, {"rate": "0.4"}),
        function="assistant.calc.cutting:removal_rate",
        topic="Cutting",
    ),
    Calculation(
        name="cutting-time",
        title="How long a cut takes",
        inputs=(Input("length", "length", "length of cut", above="0"), FEED),
        result=(Output("time", "minute"),),
        formula="length / feed",
        source=COMMON,
        example=({"length": "6 in", "feed": "3 in/min"}, {"time": "2"}),
        function="assistant.calc.cutting:cutting_time",
        topic="Cutting",
    ),
    Calculation(
        name="finish-height",
        title="Height of the ridges that a round-nosed tool leaves",
        inputs=(
            Input("feed", "length", "feed a turn, or a tooth", above="0"),
            Input("nose_radius", "length", "the tool's nose radius", above="0"),
        ),
        result=(Output("height", "length"),),
        formula="feed^2 / (8 x nose radius)",
        source="from memory of Machinery's Handbook, surface texture",
        example=({"feed": "0.010 in", "nose_radius": "1/32 in"}, {"height": "0.0004"}),
        function="assistant.calc.cutting:finish_height",
        topic="Cutting",
    ),
    Calculation(
        name="run-out",
        title="How far a slotting cutter's curved end reaches beyond full depth",
        inputs=(
            Input("cutter", "length", "the cutter's diameter", above="0"),
            Input("depth", "length", "depth of cut", low="0 in"),
        ),
        result=(Output("reach", "length"),),
        formula="sqrt(depth x (D - depth))",
        source="plane geometry",
        example=({"cutter": "3 in", "depth": "0.2115 in"}, {"reach": "0.768"}),
        function="assistant.calc.cutting:run_out",
        topic="Cutting",
    ),
)
