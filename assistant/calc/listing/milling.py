"""Slots and faces wider than the cutter."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

COMMON = "common practice, no source"

ENTRIES = (
    Calculation(
        name="slot-walls",
        title="Where the cutter goes for both walls of a slot wider than it",
        inputs=(
            Input("width", "length", "the slot's width", above="0"),
            Input("cutter", "length", "the cutter, as measured", above="0"),
            Input("stock", "length", "left on each wall to finish", low="0 in", optional=True),
        ),
        result=(
            Output("offset", "length", "either side of the centre line, finished"),
            Output("rough_offset", "length", "either side, with the stock left on"),
        ),
        formula="(width - cutter) / 2, less the stock",
        source=COMMON,
        example=(
            {"width": "0.500 in", "cutter": "0.374 in", "stock": "0.010 in"},
            {"offset": "0.063", "rough_offset": "0.053"},
        ),
        function="assistant.calc.milling:slot_walls",
        topic="Cutting",
    ),
    Calculation(
        name="face-rows",
        title="Where the cutter goes for rows side by side over a face",
        inputs=(
            Input("width", "length", "the face's width", above="0"),
            Input("cutter", "length", "the cutter's diameter", above="0"),
            Input("step_over", "length", "the most a row may take", above="0"),
        ),
        result=(Output("rows", "length", "the cutter's centre, from the near edge"),),
        formula="equal rows; centre = row end - half the cutter",
        source=COMMON,
        example=(
            {"width": "3 in", "cutter": "1 in", "step_over": "0.75 in"},
            {"rows": ["0.25", "1", "1.75", "2.5"]},
        ),
        function="assistant.calc.milling:face_rows",
        topic="Cutting",
    ),
    Calculation(
        name="way-of-milling",
        title="Whether a cut climbs or is conventional",
        inputs=(
            Input("work_on", "text", "side of the cutter's travel", choices=("left", "right")),
            Input("clockwise", "yes or no", "as seen from the spindle", default="yes"),
        ),
        result=(Output("way", "text"),),
        formula="clockwise cutter, work on its left: conventional",
        source=COMMON,
        example=({"work_on": "left"}, {"way": "conventional"}),
        function="assistant.calc.milling:way_of_milling",
        topic="Cutting",
    ),
)
