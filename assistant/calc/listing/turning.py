"""Turning, boring, parting, knurling and setting up the lathe."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

TOPIC = "Turning"
SETUP = "Setting up the lathe"
FROM = Input("from_dia", "length", "the diameter it has", above="0")
TO = Input("to_dia", "length", "the diameter it is to have", above="0")
MOST = Input("most", "length", "the deepest cut, on one side", above="0")
FEED = Input("feed", "length", "feed a turn", above="0")
DIA = Input("dia", "length", "the diameter", above="0")
LENGTH = Input("length", "length", "length of the cut", above="0")
OUT = Input("length", "length", "how far it stands out", above="0")
HELD = Input("held", "text", "how it is held", choices=("chuck", "tailstock", "centres"),
             default="chuck")  # fmt: skip
STEADY = Input("steady", "yes or no", "whether a steady is set", default="no")
COMMON = "common practice, no source"

ENTRIES = (
    Calculation(
        name="turn-to-diameter",
        title="What to dial from a measured diameter to the one wanted",
        inputs=(
            Input("measured", "length", "the diameter measured", above="0"),
            Input("wanted", "length", "the diameter wanted", above="0"),
            Input("dial", "text", "what the cross slide's dial reads",
                  choices=("diameter", "radius")),
        ),
        result=(
            Output("dial", "length", "on the dial"),
            Output("tool", "length", "what the tool moves"),
            Output("inward", "yes or no", "towards the axis"),
        ),
        formula="tool = |difference| / 2; a diameter dial shows the difference itself",
        source=COMMON,
        example=(
            {"measured": "1.520 in", "wanted": "1.500 in", "dial": "radius"},
            {"dial": "0.01", "tool": "0.01", "inward": True},
        ),
        function="assistant.calc.turning:to_diameter",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-depth",
        title="Depth of cut on one side between two diameters",
        inputs=(FROM, TO),
        result=(Output("depth", "length"),),
        formula="|D1 - D2| / 2",
        source="geometry",
        example=({"from_dia": "2 in", "to_dia": "1.9 in"}, {"depth": "0.05"}),
        function="assistant.calc.turning:depth_of_cut",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-passes",
        title="The fewest equal passes between two diameters",
        inputs=(FROM, TO, MOST),
        result=(Output("passes", "count"), Output("depth", "length", "of each, on one side")),
        formula="ceil(depth / most)",
        source="arithmetic",
        example=(
            {"from_dia": "2 in", "to_dia": "1.52 in", "most": "0.05 in"},
            {"passes": 5, "depth": "0.048"},
        ),
        function="assistant.calc.turning:equal_passes",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-plan",
        title="Roughing and finishing cuts between two diameters",
        inputs=(
            FROM,
            TO,
            MOST,
            Input("finish", "length", "left for the last cut, on one side", above="0",
                  optional=True),
            Input("least", "length", "the least useful cut, on one side", above="0",
                  optional=True),
        ),
        result=(Output("diameters", "length", "after each pass"), Output("cuts", "length")),
        formula="equal roughing cuts of at most the deepest, then the finishing cut",
        source=COMMON,
        example=(
            {"from_dia": "2 in", "to_dia": "1.52 in", "most": "0.05 in", "finish": "0.01 in"},
            {"diameters": ["1.908", "1.816", "1.724", "1.632", "1.54", "1.52"],
             "cuts": ["0.046", "0.046", "0.046", "0.046", "0.046", "0.01"]},
        ),
        function="assistant.calc.turning:diameter_passes",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-slenderness",
        title="Whether a piece needs the tailstock or a steady",
        inputs=(
            Input("length", "length", "how far it stands out", above="0"),
            DIA,
            Input("tailstock", "yes or no", "whether the tailstock is up", default="no"),
        ),
        result=(Output("ratio", "number"), Output("advice", "text")),
        formula="length / diameter: 3 in the chuck alone, 10 on the tailstock",
        source=COMMON,
        example=({"length": "2 in", "dia": "1 in"}, {"ratio": "2"}),
        function="assistant.calc.lathe_setup:slenderness",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-spring",
        title="How far a bar springs from the tool",
        inputs=(
            OUT,
            DIA,
            Input("force", "number", "the push on it, in newtons", above="0"),
            Input("modulus", "number", "stiffness of the metal, kN/mm2: steel 206", above="0"),
            HELD,
            STEADY,
        ),
        result=(Output("spring", "length"),),
        formula="F L^3 / 3 E I, free; / 102 E I on the tailstock; / 48 E I between centres",
        source="beam formulas of Machinery's Handbook, from memory",
        example=(
            {"length": "100 mm", "dia": "20 mm", "force": "200", "modulus": "206"},
            {"spring": "0.0412"},
        ),
        function="assistant.calc.slender:bar_spring",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-slender-cut",
        title="The deepest cut that a bar stands, by how far it springs",
        inputs=(OUT, DIA, FEED, Input("work", "text", "the material, in shop words"), HELD, STEADY),
        result=(Output("depth", "length", "on one side"),),
        formula="the depth at which half the cutting force springs it 0.05 mm (0.002 in)",
        source="beam formulas as for turn-spring; cutting force: a cutter maker's table; the "
        "spring allowed is common practice, no source",
        example=(
            {"length": "100 mm", "dia": "20 mm", "feed": "0.1 mm", "work": "mild steel"},
            {"depth": "1.3445"},
        ),
        function="assistant.calc.slender:bar_deepest_cut",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-removal",
        title="Metal removed a minute in turning",
        inputs=(
            Input("surface_speed", "speed", "surface speed", above="0"),
            Input("depth", "length", "depth of cut on one side", above="0"),
            FEED,
        ),
        result=(Output("rate", "removal"),),
        formula="12 V d f (inches), V d f (metric)",
        source="machine tool course handout, as in the check values",
        example=(
            {"surface_speed": "100 ft/min", "depth": "0.1 in", "feed": "0.01 in"}, {"rate": "1.2"},
        ),
        function="assistant.calc.turning:turning_removal",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-time",
        title="Time of one cut in turning or facing",
        inputs=(LENGTH, FEED, Input("rpm", "rpm", "spindle speed", above="0")),
        result=(Output("time", "minute"),),
        formula="L / (f x rpm); facing: L is the radius crossed",
        source="arithmetic",
        example=({"length": "6 in", "feed": "0.005 in", "rpm": "400"}, {"time": "3"}),
        function="assistant.calc.turning:turning_time",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-speed-for-time",
        title="Surface speed at which a cut takes a given time",
        inputs=(
            LENGTH, DIA, FEED, Input("time", "number", "minutes", above="0"),
        ),
        result=(Output("speed", "speed"),),
        formula="pi D L / (f t)",
        source="lecture on machining operations, turning example, as in the check values",
        example=(
            {"length": "400 mm", "dia": "150 mm", "feed": "0.3 mm", "time": "5"},
            {"speed": "125.66"},
        ),
        function="assistant.calc.turning:speed_in_minutes",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-suggested-depth",
        title="A usual depth of cut on a light lathe",
        inputs=(Input("material", "text", "the material"),),
        result=(
            Output("hss", "inch"), Output("carbide", "inch"), Output("source", "text"),
        ),
        formula="table",
        source="shop sheet for a light lathe, as in the check values",
        example=({"material": "brass"}, {"hss": "0.05", "carbide": "0.07"}),
        function="assistant.calc.turning:suggested_depth",
        topic=TOPIC,
    ),
    Calculation(
        name="turn-shoulders",
        title="Where the carriage stops while roughing to shoulders",
        inputs=(
            Input("ends", "lengths", "shoulders from the datum face", above="0"),
            Input("finish", "length", "left to be faced", low="0 in"),
        ),
        result=(Output("stops", "length"),),
        formula="shoulder - what is left on",
        source=COMMON,
        example=(
            {"ends": "0.5 in, 1.25 in", "finish": "0.010 in"}, {"stops": ["0.49", "1.24"]},
        ),
        function="assistant.calc.turning:shoulder_stops",
        topic=TOPIC,
    ),
    Calculation(
        name="part-off",
        title="Travel of a parting blade, how far it may stand out, its speed",
        inputs=(
            DIA,
            Input("bore", "length", "the bore of a tube", low="0 in", default="0 in"),
            Input("blade_reach", "length", "how far the blade stands out", above="0"),
        ),
        result=(
            Output("travel", "length"),
            Output("most_reach", "length"),
            Output("speed_share", "number", "of the turning speed, from and to"),
        ),
        formula="(D - bore) / 2; reach that and D / 10; a third to half of the turning speed",
        source=COMMON,
        example=(
            {"dia": "1 in", "blade_reach": "0.6 in"}, {"travel": "0.5", "most_reach": "0.6"},
        ),
        function="assistant.calc.turning:parting",
        topic=TOPIC,
    ),
    Calculation(
        name="knurl-blank",
        title="The diameter on which a knurl comes out even, from its pitch",
        inputs=(
            DIA,
            Input("pitch", "length", "the knurl's pitch, square to its teeth", above="0"),
            Input("helix", "degree", "the teeth's angle: 0 straight, 30 diamond", low="0",
                  high="59", default="0"),
            Input("rule", "text", "which diameter", choices=("nearest", "below", "above"),
                  default="nearest"),
        ),
        result=(
            Output("teeth", "count"), Output("diameter", "length"), Output("change", "length"),
        ),
        formula="N x pitch / (cos(helix) x pi)",
        source="geometry",
        example=(
            {"dia": "20 mm", "pitch": "1 mm", "rule": "below"},
            {"teeth": 62, "diameter": "19.7352", "change": "-0.2648"},
        ),
        function="assistant.calc.knurling:knurl_blank",
        topic=TOPIC,
    ),
    Calculation(
        name="knurl-blank-dp",
        title="The diameter on which a diametral pitch knurl comes out even",
        inputs=(
            DIA,
            Input("diametral_pitch", "count", "64, 96, 128 or 160", low="20", high="400"),
            Input("rule", "text", "which diameter", choices=("nearest", "below", "above"),
                  default="nearest"),
        ),
        result=(
            Output("teeth", "count"), Output("diameter", "length"), Output("change", "length"),
        ),
        formula="N / DP",
        source="ASME B94.6, from memory; geometry",
        example=(
            {"dia": "0.74 in", "diametral_pitch": "96"}, {"teeth": 71, "diameter": "0.739583"},
        ),
        function="assistant.calc.knurling:knurl_blank_dp",
        topic=TOPIC,
    ),
    Calculation(
        name="dial-in",
        title="How far to bring a piece over in a four-jaw chuck, or to a bore",
        inputs=(
            Input("high", "length", "the highest reading of a turn"),
            Input("low", "length", "the lowest reading of a turn"),
        ),
        result=(Output("runout", "length"), Output("move", "length")),
        formula="(high - low) / 2",
        source=COMMON,
        example=({"high": "0.012 in", "low": "0.004 in"}, {"runout": "0.008", "move": "0.004"}),
        function="assistant.calc.lathe_setup:dial_in",
        topic=SETUP,
    ),
    Calculation(
        name="tailstock-align",
        title="How far to move the tailstock, from two collars",
        inputs=(
            Input("headstock_collar", "length", "collar near the headstock", above="0"),
            Input("tailstock_collar", "length", "collar near the tailstock", above="0"),
            Input("spacing", "length", "between the collars", above="0"),
            Input("length", "length", "from the chuck to the tailstock centre", above="0"),
        ),
        result=(Output("shift", "length"), Output("towards_tool", "yes or no")),
        formula="|difference| / 2 x length / spacing; a larger tailstock collar: towards the tool",
        source=COMMON,
        example=(
            {"headstock_collar": "1.000 in", "tailstock_collar": "1.003 in", "spacing": "6 in",
             "length": "8 in"},
            {"shift": "0.002", "towards_tool": True},
        ),
        function="assistant.calc.lathe_setup:tailstock_shift",
        topic=SETUP,
    ),
)  # fmt: skip
