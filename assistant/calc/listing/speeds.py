"""Spindle speeds, feeds and their tables."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

MH = "Machinery's Handbook, cutting speeds and feeds"
DIAMETER = Input("diameter", "length", "diameter of the cutter, drill or work", above="0")
SPINDLE = Input("spindle", "rpm", "spindle speed", above="0")
TEETH = Input("teeth", "count", "teeth of the cutter", low="1")
CHIP = Input("chip_load", "length", "chip load, a tooth", above="0")
TOOL = Input("tool", "text", "what the tool is of", choices=("HSS", "carbide"), default="HSS")
MATERIAL = Input("material", "text", "the work, in shop words")
RANGE = (Output("low", "foot/minute"), Output("high", "foot/minute"))
WORDS = (Output("what", "text"), Output("source", "text"))
CHIPS = (Output("low", "inch"), Output("high", "inch"))

ENTRIES = (
    Calculation(
        name="spindle-speed",
        title="Spindle speed for a surface speed at a diameter",
        inputs=(
            Input("surface_speed", "speed", "surface speed", above="0"),
            DIAMETER,
        ),
        result=(Output("spindle", "rpm"),),
        formula="12 V / (pi D), or 1000 V / (pi D)",
        source=MH,
        example=({"surface_speed": "90 ft/min", "diameter": "1 in"}, {"spindle": "343.8"}),
        function="assistant.calc.speeds:spindle_speed",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="shop-spindle-speed",
        title="Spindle speed by the rule of the shop",
        inputs=(Input("surface_speed", "speed", "surface speed", above="0"), DIAMETER),
        result=(Output("spindle", "rpm"),),
        formula="4 V / D, or 320 V / D: 4.7 % fast in inches",
        source="maker's manual for a bench lathe, p. 27",
        example=({"surface_speed": "300 ft/min", "diameter": "1/2 in"}, {"spindle": "2400"}),
        function="assistant.calc.speeds:shop_spindle_speed",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="surface-speed",
        title="Surface speed at a spindle speed and diameter",
        inputs=(SPINDLE, DIAMETER),
        result=(Output("speed", "speed"),),
        formula="pi D n / 12, or pi D n / 1000",
        source=MH,
        example=({"spindle": "1200", "diameter": "1/2 in"}, {"speed": "157.08"}),
        function="assistant.calc.speeds:surface_speed",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="feed-rate",
        title="Feed rate from chip load",
        inputs=(SPINDLE, TEETH, CHIP),
        result=(Output("feed", "feed"),),
        formula="spindle speed x teeth x chip load",
        source=MH,
        example=({"spindle": "600", "teeth": "4", "chip_load": "0.003 in"}, {"feed": "7.2"}),
        function="assistant.calc.speeds:feed_rate",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="chip-load",
        title="Chip load that a feed gives",
        inputs=(Input("feed", "feed", "feed rate", above="0"), SPINDLE, TEETH),
        result=(Output("chip_load", "length"),),
        formula="feed / (spindle speed x teeth)",
        source=MH,
        example=({"feed": "7.2 in/min", "spindle": "600", "teeth": "4"}, {"chip_load": "0.003"}),
        function="assistant.calc.speeds:chip_load_of",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="hand-feed-pace",
        title="Seconds a handwheel turn when feeding by hand",
        inputs=(
            Input("feed", "feed", "feed rate", above="0"),
            Input("per_turn", "length", "travel of one turn of the wheel", above="0"),
        ),
        result=(Output("seconds", "second"),),
        formula="travel a turn / feed x 60",
        source="common practice, no source",
        example=({"feed": "3 in/min", "per_turn": "0.200 in"}, {"seconds": "4"}),
        function="assistant.calc.speeds:seconds_a_turn",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="machine-speed",
        title="The nearest speed at or below that the machine has",
        inputs=(
            Input("wanted", "rpm", "spindle speed wanted", above="0"),
            Input("available", "numbers", "the machine's speeds, in rpm", above="0"),
        ),
        result=(Output("speed", "rpm"), Output("above_wanted", "yes or no")),
        formula="nearest at or below; the slowest where none is",
        source="common practice, no source",
        example=(
            {"wanted": "139", "available": "60, 90, 140, 215"},
            {"speed": "90", "above_wanted": False},
        ),
        function="assistant.calc.asked:machine_speed",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="surface-speed-range",
        title="Published surface speeds for a material",
        inputs=(
            MATERIAL,
            TOOL,
            Input(
                "cut",
                "text",
                "kind of cut",
                default="general",
                choices=(
                    "general",
                    "milling",
                    "rough turning",
                    "finish turning",
                    "drilling",
                    "starting",
                ),
            ),
        ),
        result=(*RANGE, *WORDS),
        formula="table; low end on a light machine",
        source="each row of the table names its own",
        example=({"material": "mild steel"}, {"low": "80", "high": "100"}),
        function="assistant.calc.asked:surface_speeds",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="turning-speeds",
        title="Roughing and finishing speeds on a lathe, low ends",
        inputs=(MATERIAL, TOOL),
        result=(
            Output("rough", "foot/minute"),
            Output("finish", "foot/minute"),
            Output("source", "text"),
        ),
        formula="table",
        source="each row of the table names its own",
        example=({"material": "cast iron"}, {"rough": "60", "finish": "80"}),
        function="assistant.calc.asked:turning_speeds",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="carbon-steel-drill-factor",
        title="Speed of a carbon-steel drill, of the HSS speed",
        inputs=(),
        result=(Output("factor", "number"),),
        formula="0.5",
        source="US Navy training manual (NAVEDTRA 14345), drill speeds and feeds",
        example=({}, {"factor": "0.5"}),
        function="assistant.calc.asked:carbon_steel_drill",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="chip-load-range",
        title="Published chip loads of a cutter",
        inputs=(
            Input("cutter", "text", "kind of cutter, as `slotting cutter` or `end mill`"),
            Input("material", "text", "the work, in shop words, or any", default="any"),
            Input(
                "basis",
                "text",
                "which figure",
                choices=("starting", "range", "upper"),
                default="starting",
            ),
        ),
        result=(*CHIPS, *WORDS),
        formula="table",
        source="each row of the table names its own",
        example=({"cutter": "slotting cutter"}, {"low": "0.003", "high": "0.003"}),
        function="assistant.calc.asked:chip_loads",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="upper-chip-loads",
        title="Upper guides for chip load: a rigid machine and a large cutter",
        inputs=(MATERIAL,),
        result=(
            Output("slotting", "inch"),
            Output("end_mill", "inch"),
            Output("source", "text"),
        ),
        formula="table",
        source="from memory of the HSS table in Technology of Machine Tools",
        example=({"material": "aluminium"}, {"slotting": "0.013", "end_mill": "0.011"}),
        function="assistant.calc.asked:upper_chip_loads",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="starting-chip-load",
        title="Chip load to start with on a light machine",
        inputs=(
            Input(
                "cutter",
                "text",
                "kind of cutter",
                choices=("slotting cutter", "end mill", "face mill"),
            ),
            DIAMETER,
        ),
        result=(*CHIPS, Output("source", "text")),
        formula="table; an end mill's within 1/200 of its diameter",
        source="cutter maker's catalogue; 1/200: common practice, no source",
        example=({"cutter": "end mill", "diameter": "1/4 in"}, {"high": "0.00125"}),
        function="assistant.calc.asked:advised_chip_load",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="drill-feed-range",
        title="Published feed a turn of a drill",
        inputs=(Input("diameter", "length", "the drill's diameter", above="0"),),
        result=(*CHIPS, *WORDS),
        formula="table; low end for hard materials",
        source="US Navy training manual (NAVEDTRA 14345), drill speeds and feeds",
        example=({"diameter": "3/8 in"}, {"low": "0.004", "high": "0.007"}),
        function="assistant.calc.asked:drill_feed",
        topic="Speeds and feeds",
    ),
    Calculation(
        name="metric-surface-speed",
        title="A surface speed in metres a minute",
        inputs=(Input("surface_speed", "speed", "surface speed", above="0"),),
        result=(Output("speed", "meter/minute"),),
        formula="ft/min x 0.3048",
        source="a foot is 0.3048 m exactly",
        example=({"surface_speed": "100 ft/min"}, {"speed": "30.48"}),
        function="assistant.calc.conversions:to_metric_speed",
        topic="Speeds and feeds",
    ),
)
