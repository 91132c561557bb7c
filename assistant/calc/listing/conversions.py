"""Quick sums: fractions, inches and millimetres, half of, add and take away."""

from __future__ import annotations

from assistant.calc.calculation import Calculation, Input, Output

EXACT = "an inch is 25.4 mm exactly"
SIZE = Input("size", "length", "the size")

ENTRIES = (
    Calculation(
        name="fraction-to-decimal",
        title="A fraction of an inch as a decimal",
        inputs=(Input("fraction", "fraction", "the fraction"),),
        result=(Output("decimal", "inch"),),
        formula="numerator / denominator",
        source="arithmetic",
        example=({"fraction": "47/64"}, {"decimal": "0.734375"}),
        function="assistant.calc.conversions:fraction_to_decimal",
        topic="Quick sums",
    ),
    Calculation(
        name="nearest-fraction",
        title="The fraction of an inch nearest to a size",
        inputs=(
            SIZE,
            Input("denominator", "count", "the finest: 2, 4, 8, 16, 32, 64 or 128", default="64"),
        ),
        result=(
            Output("fraction", "fraction"),
            Output("size", "inch"),
            Output("difference", "inch", "size less fraction"),
        ),
        formula="rounded to the nearest 1/64",
        source="arithmetic",
        example=({"size": "0.380 in"}, {"fraction": "3/8", "difference": "0.005"}),
        function="assistant.calc.conversions:nearest_fraction",
        topic="Quick sums",
    ),
    Calculation(
        name="inch-to-mm",
        title="A size in millimetres",
        inputs=(SIZE,),
        result=(Output("size", "mm"),),
        formula="inches x 25.4",
        source=EXACT,
        example=({"size": "0.5 in"}, {"size": "12.7"}),
        function="assistant.calc.conversions:to_mm",
        topic="Quick sums",
    ),
    Calculation(
        name="mm-to-inch",
        title="A size in inches",
        inputs=(SIZE,),
        result=(Output("size", "inch"),),
        formula="mm / 25.4",
        source=EXACT,
        example=({"size": "8 mm"}, {"size": "0.31496"}),
        function="assistant.calc.conversions:to_inches",
        topic="Quick sums",
    ),
    Calculation(
        name="half-of",
        title="Half of a size",
        inputs=(SIZE,),
        result=(Output("half", "length"),),
        formula="size / 2",
        source="arithmetic",
        example=({"size": "1-3/8 in"}, {"half": "0.6875"}),
        function="assistant.calc.conversions:half",
        topic="Quick sums",
    ),
    Calculation(
        name="add",
        title="Two sizes together",
        inputs=(
            Input("first", "length", "a size"),
            Input("second", "length", "another, in any unit"),
        ),
        result=(Output("sum", "length", "in the unit of the first"),),
        formula="first + second",
        source="arithmetic",
        example=({"first": "0.750 in", "second": "0.1875 in"}, {"sum": "0.9375"}),
        function="assistant.calc.conversions:add",
        topic="Quick sums",
    ),
    Calculation(
        name="take-away",
        title="One size less another",
        inputs=(
            Input("first", "length", "a size"),
            Input("second", "length", "what is taken away, in any unit"),
        ),
        result=(Output("rest", "length", "in the unit of the first"),),
        formula="first - second",
        source="arithmetic",
        example=({"first": "1.666 in", "second": "0.006 in"}, {"rest": "1.66"}),
        function="assistant.calc.conversions:take_away",
        topic="Quick sums",
    ),
)
