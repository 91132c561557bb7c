"""Threads: sizes, depths, limits of size."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

TOPIC = "Threads"
THREAD = Input("thread", "text", "the thread, such as 1/2-13, 10-24 or M8x1.25")
MAJOR = Input("major", "length", "the nominal diameter", above="0")
TPI = Input("tpi", "number", "threads an inch", above="0", high="200", optional=True)
PITCH = Input("pitch", "length", "the pitch, where not threads an inch", above="0", optional=True)
DEPTHS = ("5/8 H", "11/16 H", "17/24 H", "3/4 H")
BASIS = Input("basis", "text", "which depth: a share of the sharp height H", choices=DEPTHS)

ENTRIES = (
    Calculation(
        name="thread",
        title="What a thread measures: series, pitch and basic diameters",
        inputs=(THREAD,),
        result=(
            Output("name", "text"),
            Output("series", "text"),
            Output("major", "length"),
            Output("pitch", "length"),
            Output("tpi", "number"),
            Output("pitch_dia", "length"),
            Output("minor_int", "length", "basic minor diameter of the hole"),
            Output("minor_ext", "length", "root of the external thread, rounded"),
        ),
        formula="pitch diameter = D - 3/4 H; minor of the hole = D - 5/4 H; H = sqrt(3)/2 P",
        source="ASME B1.1; ISO 261, ISO 724; series from memory, compared with open tables",
        example=(
            {"thread": "1/2-13"},
            {"name": "1/2-13 UNC", "series": "UNC", "major": "0.5", "pitch_dia": "0.4500",
             "minor_int": "0.4167", "minor_ext": "0.4084"},
        ),
        function="assistant.calc.thread_sizes:thread_sizes",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-basic",
        title="Basic diameters from a diameter and a pitch",
        inputs=(MAJOR, TPI, PITCH),
        result=(
            Output("pitch_dia", "length"),
            Output("minor_int", "length"),
            Output("minor_ext_unr", "length", "UNR external"),
            Output("minor_ext_rounded", "length", "ISO external, rounded root"),
            Output("height", "length", "H of the sharp triangle"),
        ),
        formula="D - 0.649519 P, D - 1.082532 P, D - 1.190785 P, D - 1.226869 P",
        source="ASME B1.1; ISO 724",
        example=(
            {"major": "8 mm", "pitch": "1.25 mm"},
            {"pitch_dia": "7.188", "minor_int": "6.647", "minor_ext_rounded": "6.466"},
        ),
        function="assistant.calc.thread_sizes:basic_dimensions",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-height",
        title="Height of the sharp 60 degree triangle",
        inputs=(Input("pitch", "length", "the pitch", above="0"),),
        result=(Output("height", "length"),),
        formula="H = sqrt(3)/2 P = 0.866025 P",
        source="ISO 68-1; ASME B1.1",
        example=({"pitch": "2 mm"}, {"height": "1.7321"}),
        function="assistant.calc.threads:sharp_height",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-depth",
        title="Depth of a thread on one side, on the basis named",
        inputs=(Input("pitch", "length", "the pitch", above="0"), BASIS),
        result=(Output("depth", "length"),),
        formula="5/8 H = 0.5413 P; 11/16 H = 0.5954 P; 17/24 H = 0.6134 P; 3/4 H = 0.6495 P",
        source="ASME B1.1 (5/8 H, UNR 11/16 H), ISO 68-1 (17/24 H), the old National form (3/4 H)",
        example=({"pitch": "1.5 mm", "basis": "17/24 H"}, {"depth": "0.9202"}),
        function="assistant.calc.threads:single_depth",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-depth-factor",
        title="Depth of a thread as a share of its pitch, single and double",
        inputs=(BASIS,),
        result=(
            Output("single", "number", "on one side"),
            Output("double", "number", "on the diameter"),
            Output("meaning", "text"),
        ),
        formula="share of H x sqrt(3)/2",
        source="ASME B1.1; ISO 68-1",
        example=({"basis": "5/8 H"}, {"single": "0.541266", "double": "1.08253175"}),
        function="assistant.calc.thread_sizes:depth_factor",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-depth-by-tool",
        title="Depth that a tool with a flat nose must go for the right pitch diameter",
        inputs=(
            Input("pitch", "length", "the pitch", above="0"),
            Input("flat", "length", "width of the flat at the tool's nose", low="0 in"),
        ),
        result=(Output("depth", "length"),),
        formula="sqrt(3)/2 x (7/8 P - flat)",
        source="geometry of the basic profile, ISO 68-1",
        example=({"pitch": "0.05 in", "flat": "0.00625 in"}, {"depth": "0.032476"}),
        function="assistant.calc.threads:depth_for_tool",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-length-over",
        title="What a rule shows over so many threads of the scratch pass",
        inputs=(
            Input("pitch", "length", "the pitch", above="0"),
            Input("threads", "count", "how many threads", low="1", high="1000"),
        ),
        result=(Output("distance", "length"),),
        formula="threads x P",
        source="common practice, no source",
        example=({"pitch": "1.5 mm", "threads": "10"}, {"distance": "15"}),
        function="assistant.calc.threads:length_over_threads",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-limits",
        title="Limits of size of a thread by its name and class",
        inputs=(
            THREAD,
            Input("thread_class", "text", "the class: 2A, 3B, 6g, 6H"),
        ),
        result=(
            Output("major_max", "length"),
            Output("major_min", "length"),
            Output("pitch_max", "length"),
            Output("pitch_min", "length"),
            Output("minor_max", "length"),
            Output("minor_min", "length"),
        ),
        formula="see thread-limits-unified and thread-limits-metric",
        source="ASME B1.1 formulas; ISO 965-1 formulas, set to preferred numbers",
        example=(
            {"thread": "1/4-20", "thread_class": "2A"},
            {"major_max": "0.2489", "major_min": "0.2408", "pitch_max": "0.2164",
             "pitch_min": "0.2127", "minor_min": None},
        ),
        function="assistant.calc.thread_sizes:thread_limits",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-limits-unified",
        title="Limits of size of a unified thread from its diameter and pitch",
        inputs=(
            MAJOR,
            Input("tpi", "number", "threads an inch", above="0", high="200"),
            Input("thread_class", "text", "the class",
                  choices=("1A", "2A", "3A", "1B", "2B", "3B")),
            Input("engagement", "length", "length of engagement: the diameter, or nine pitches for "
                  "UNEF, fine UN and specials", above="0", optional=True),
        ),
        result=(
            Output("allowance", "inch"),
            Output("major_max", "inch"),
            Output("major_min", "inch"),
            Output("pitch_max", "inch"),
            Output("pitch_min", "inch"),
            Output("minor_max", "inch"),
            Output("minor_min", "inch"),
        ),
        formula="2A tolerance = 0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3); allowance 0.3 of "
        "it; 2B 1.3 of it, 3A 0.75, 3B 0.975; rounded to 0.0001 in step by step",
        source="ASME B1.1-2003 formulas; one printed allowance that differs: b1_1_departures.csv",
        example=(
            {"major": "1/2 in", "tpi": "28", "thread_class": "2A", "engagement": "0.321429 in"},
            {"allowance": "0.0011", "major_max": "0.4989", "major_min": "0.4924",
             "pitch_max": "0.4757", "pitch_min": "0.4720"},
        ),
        function="assistant.calc.unified_limits:unified_limits",
        topic=TOPIC,
    ),
    Calculation(
        name="thread-limits-metric",
        title="Limits of size of a metric thread from its diameter and pitch",
        inputs=(
            Input("major", "mm", "the nominal diameter", low="1 mm", high="180 mm"),
            Input("pitch", "mm", "the pitch", low="0.2 mm", high="8 mm"),
            Input("tolerance", "text", "the class: 6g, 6h, 5g6g, 6H, 6G"),
        ),
        result=(
            Output("deviation", "mm"),
            Output("major_max", "mm"),
            Output("major_min", "mm"),
            Output("pitch_max", "mm"),
            Output("pitch_min", "mm"),
            Output("minor_max", "mm"),
            Output("minor_min", "mm"),
        ),
        formula="es = 15 + 11 P; Td2(6) = 90 P^0.4 d^0.1; Td(6) = 180 P^(2/3) - 3.15 P^(-1/2); "
        "TD1(6) = 433 P - 190 P^1.22 or 230 P^0.7; each to the R40 series, micrometres",
        source="ISO 965-1 formulas; printed values that differ: iso965_departures.csv",
        example=(
            {"major": "8", "pitch": "1.25", "tolerance": "6g"},
            {"deviation": "0.028", "major_max": "7.972", "major_min": "7.760",
             "pitch_max": "7.160", "pitch_min": "7.042", "minor_max": "6.619"},
        ),
        function="assistant.calc.metric_limits:metric_limits",
        topic=TOPIC,
    ),
)  # fmt: skip
