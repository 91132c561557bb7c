"""Tapping: tap drills on a named basis, turns of the tap."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output
from assistant.calc.listing.threads import MAJOR, PITCH, THREAD, TPI

TOPIC = "Tapping"
PERCENT = Input("percent", "number", "percent of thread", low="30", high="100", default="75")
BASIS = Input(
    "basis", "text", "percent of what: classic 0.6495 P a side, B1.1 0.5413 P a side",
    choices=("classic", "B1.1"), default="classic",
)  # fmt: skip
BASES = "classic: 0.6495 P a side, as most charts; B1.1: the basic 5/8 H a side"
RULES = ("nearest", "at or above", "at or below")
GIVEN = (
    Output("drill", "text"),
    Output("dia", "length"),
    Output("hole", "length", "the exact hole asked for"),
    Output("percent_classic", "number"),
    Output("percent_b11", "number"),
)

ENTRIES = (
    Calculation(
        name="tap-drill",
        title="The drill for a tap, by percent of thread",
        inputs=(
            THREAD,
            PERCENT,
            BASIS,
            Input("drills", "text", "which sets", choices=("usual", "inch", "metric", "all"),
                  default="usual"),
            Input("rule", "text", "which drill", choices=RULES, default="nearest"),
        ),
        result=GIVEN,
        formula="hole = D - 1.299 P x percent (classic) or D - 1.0825 P x percent (B1.1); "
        "nearest drill",
        source="drill charts for 75 percent thread as quoted in the check values; " + BASES,
        example=(
            {"thread": "1/4-20"},
            {"drill": "#7", "dia": "0.201", "hole": "0.2013", "percent_classic": "75.4",
             "percent_b11": "90.5"},
        ),
        function="assistant.calc.tap_sizes:tap_drill_for",
        topic=TOPIC,
    ),
    Calculation(
        name="tap-drill-metric",
        title="The drill for a metric tap",
        inputs=(THREAD,),
        result=GIVEN,
        formula="table of ISO 2306, else the metric drill nearest to D - P",
        source="ISO 2306, from memory",
        example=(
            {"thread": "M12"},
            {"drill": "10.2 mm", "dia": "10.2", "hole": "10.25", "percent_classic": "79.2"},
        ),
        function="assistant.calc.tap_sizes:metric_tap_drill_for",
        topic=TOPIC,
    ),
    Calculation(
        name="tap-hole",
        title="The exact hole for a percent of thread",
        inputs=(MAJOR, PERCENT, BASIS, TPI, PITCH),
        result=(Output("hole", "length"),),
        formula="D - 1.299 P x percent (classic) or D - 1.0825 P x percent (B1.1)",
        source="tap drill rule D - 0.975 / tpi as quoted in the check values; " + BASES,
        example=(
            {"major": "3/8 in", "tpi": "16", "percent": "75", "basis": "B1.1"}, {"hole": "0.3243"},
        ),
        function="assistant.calc.tap_sizes:tap_hole_for",
        topic=TOPIC,
    ),
    Calculation(
        name="tap-percent",
        title="The percent of thread that a drill leaves",
        inputs=(MAJOR, Input("drill", "length", "the drill's diameter", above="0"), BASIS, TPI,
                PITCH),
        result=(Output("percent", "number"),),
        formula="100 (D - d) / (1.299 P) (classic) or / (1.0825 P) (B1.1)",
        source="geometry of the basic profile; " + BASES,
        example=({"major": "1/2 in", "drill": "27/64 in", "tpi": "13"}, {"percent": "78.2"}),
        function="assistant.calc.tap_sizes:percent_for",
        topic=TOPIC,
    ),
    Calculation(
        name="tap-turns",
        title="Turns of a tap for a depth of full thread, and the hole it needs",
        inputs=(
            Input("thread_depth", "length", "depth of full thread", above="0"),
            Input("pitch", "length", "the pitch", above="0"),
            Input("tap", "text", "which tap", choices=("taper", "plug", "bottoming"),
                  default="plug"),
            Input("blind", "yes or no", "whether the hole has a bottom", default="no"),
        ),
        result=(
            Output("turns", "number"),
            Output("travel", "length"),
            Output("hole_depth", "length", "at full diameter"),
        ),
        formula="turns = (depth + chamfer) / P; blind hole one pitch deeper than that",
        source="common practice, no source; chamfers of 8, 4, 2 threads: ASME B94.9, from memory",
        example=(
            {"thread_depth": "1/2 in", "pitch": "0.05 in", "tap": "plug", "blind": "yes"},
            {"turns": "14", "travel": "0.7", "hole_depth": "0.75"},
        ),
        function="assistant.calc.tapping:tap_turns",
        topic=TOPIC,
    ),
)  # fmt: skip
