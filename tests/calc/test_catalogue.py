"""The catalogue: every example, every refusal, and a listing that costs nothing."""

from __future__ import annotations

import contextlib
import json
import subprocess
import sys
from importlib import resources

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.calc import catalogue, handbook, listing
from assistant.calc import given as reading
from assistant.calc.calculation import Calculation, Input
from assistant.errors import BadInput, WheelcallError

ENTRIES = catalogue.entries()
by_name = pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)


@by_name
def test_the_example_of_every_calculation_comes_out(entry: Calculation) -> None:
    assert catalogue.check_example(entry) == []


@by_name
def test_every_calculation_is_described(entry: Calculation) -> None:
    assert entry.name == entry.name.lower()
    assert " " not in entry.name
    assert entry.title
    assert entry.formula
    assert entry.source
    assert entry.topic
    assert entry.result
    assert set(entry.example[0]) <= {about.name for about in entry.inputs}
    assert entry.example[1], "an example with no result shows nothing"
    assert set(entry.example[1]) <= {output.name for output in entry.result}
    assert all(about.unit in reading.KINDS for about in entry.inputs)
    for about in entry.inputs:
        for limit in (about.low, about.high, about.above, about.default):
            if limit is not None and limit != "0":
                reading.read(limit, Input(about.name, about.unit, about.what))


@by_name
def test_an_example_that_is_wrong_would_be_found(entry: Calculation) -> None:
    inputs, expected = entry.example
    spoilt = {field: spoil(value) for field, value in expected.items()}
    assert catalogue.differences(spoilt, dict(catalogue.run(entry.name, inputs).result))


def spoil(value: object) -> object:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    if isinstance(value, list):
        return [*value, "1"]
    if isinstance(value, dict):
        return {**value, next(iter(value), "x"): "spoilt"}
    try:
        return f"{float(str(value)) + 1}0"
    except ValueError:
        return f"{value} spoilt"


@by_name
def test_results_are_plain_data(entry: Calculation) -> None:
    answer = catalogue.run(entry.name, entry.example[0])
    data = json.loads(json.dumps(answer.as_json()))
    assert data["result"] == dict(answer.result)
    assert set(data["units"]) == set(data["result"])


ODD = ["0", "-1", "1", "0 in", "-1 in", "1e-3 in", "1 mm", "99999 mm", "1/0 in", "0 ft/min",
       "90 ft/min", "1 in/min", "7", "90", "179.9", "-90", "yes", "nan", "inf", "", "3/8",
       "999999999", "0.0001 in", "1,2,3", "steel", "#12345", "808", "M6", "1/4-20"]  # fmt: skip


@by_name
@settings(max_examples=12)
@given(data=st.data())
def test_odd_inputs_get_an_answer_or_a_sentence(entry: Calculation, data: st.DataObject) -> None:
    """Never an error of the program: whatever is given, an answer or a `WheelcallError`."""
    inputs = dict(entry.example[0])
    for about in entry.inputs:
        if data.draw(st.booleans()):
            inputs[about.name] = data.draw(st.sampled_from(ODD))
    with contextlib.suppress(WheelcallError):
        assert catalogue.run(entry.name, inputs).result


def test_listing_imports_neither_pint_nor_numpy() -> None:
    code = (
        "import sys; from assistant.calc import catalogue; assert len(catalogue.entries()) > 50;"
        "heavy = {'pint', 'numpy', 'assistant.units'} & set(sys.modules); assert not heavy, heavy"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_a_name_nearly_right_is_answered_with_the_right_one() -> None:
    with pytest.raises(BadInput, match="did you mean keyseat"):
        catalogue.find("keyset")
    assert catalogue.find("Bolt Circle").name == "bolt-circle"
    with pytest.raises(BadInput, match="calc --list"):
        catalogue.find("xyzzy")


@pytest.mark.parametrize(
    ("name", "inputs", "field", "want"),
    [
        ("keyseat", {"shaft": "1.5"}, "shaft", "with its unit"),
        ("keyseat", {}, "shaft", "give the shaft's diameter, such as shaft=1-1/2 in"),
        ("keyseat", {"shaft": "1 in", "depht": "1 in"}, "depht", "keyseat takes shaft, width"),
        ("keyseat", {"shaft": "0 in"}, "shaft", "must be more than 0"),
        ("keyseat", {"shaft": "1 in", "fit": "loose"}, "fit", "choose one of P9"),
        ("keyseat", {"shaft": "1 in", "width": "1-1/4 in"}, "key width", "wider than the shaft"),
        ("keyseat", {"shaft": "1 in", "width": "1/4 in", "height": "1 in"}, "keyseat depth",
         "half the shaft"),
        ("bolt-circle", {"diameter": "4 in", "holes": "2.5"}, "holes", "whole number"),
        ("bolt-circle", {"diameter": "4 in", "holes": "0"}, "holes", "must be 1 or more"),
        ("spindle-speed", {"surface_speed": "90", "diameter": "1 in"}, "surface_speed", "its unit"),
        ("sine-bar-stack", {"length": "5 in", "angle": "steep"}, "angle", "such as 29.5"),
        ("dial-divisions", {"per_turn": "0.125 in", "graduation": "0.0011 in"}, "graduation",
         "does not divide the turn"),
        ("run-out", {"cutter": "1 in", "depth": "0.6 in"}, "depth", "half the cutter"),
        ("dovetail", {"wide": "1 in", "depth": "1 in", "angle": "45", "pin": "0.1 in"}, "depth",
         "would meet"),
    ],
)  # fmt: skip
def test_a_bad_input_names_the_field_and_what_would_be_right(
    name: str, inputs: dict[str, str], field: str, want: str
) -> None:
    with pytest.raises(BadInput) as refusal:
        catalogue.run(name, inputs)
    assert refusal.value.field == field
    assert want in refusal.value.want


def test_results_come_in_the_system_of_the_first_size() -> None:
    inch = catalogue.run("spindle-speed", {"surface_speed": "90 ft/min", "diameter": "25.4 mm"})
    assert inch.units == {"spindle": "rpm"}
    assert catalogue.run("half-of", {"size": "25 mm"}).result == {"half": "12.5"}
    move = catalogue.run("add", {"first": "1 in", "second": "25.4 mm"})
    assert (move.result, move.units) == ({"sum": "2"}, {"sum": "in"})


@pytest.mark.parametrize(
    ("line", "written"),
    [
        ("dia length > 0: the diameter", Input("dia", "length", "the diameter", above="0")),
        ("tpi? number > 0 ..200: threads an inch",
         Input("tpi", "number", "threads an inch", above="0", high="200", optional=True)),
        ("bore length 0 in.. = 0 in: of a tube",
         Input("bore", "length", "of a tube", low="0 in", default="0 in")),
        ("set three plate|two sided = three plate: which",
         Input("set", "text", "which", choices=("three plate", "two sided"),
               default="three plate")),
        ("steady yes or no: is one set", Input("steady", "yes or no", "is one set")),
    ],
)  # fmt: skip
def test_an_input_is_written_in_a_line(line: str, written: Input) -> None:
    assert listing.an_input(line) == written


@pytest.mark.parametrize("line", ["dia", "dia: the diameter", "dia length", "", "dia > 0: what"])
def test_a_line_that_says_too_little_is_refused(line: str) -> None:
    with pytest.raises(ValueError, match="NAME KIND: WHAT"):
        listing.an_input(line)


def test_the_help_page_is_up_to_date() -> None:
    """`python -m assistant.calc.handbook > assistant/help/calculations.md` writes it anew."""
    shipped = resources.files("assistant") / "help" / "calculations.md"
    assert shipped.read_text(encoding="utf-8") == handbook.page()
