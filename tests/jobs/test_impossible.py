"""Impossible geometry and impossible values: refused with a sentence that says what is wrong and
what would be right, in the shell and by voice, whatever the operation.
"""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path

import pytest
from typer.testing import CliRunner

from assistant.app.cli.every_command import app
from assistant.app.paths import configs_folder
from assistant.errors import BadInput
from assistant.jobs.operations import OPERATIONS
from assistant.jobs.planning import plan_for
from assistant.phrases import saying
from assistant.spoken import Refused
from assistant.units import inches, mm
from tests.factories import Job
from tests.jobs.walking import machine_of, text_of

DEMOS = sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml"))

IN_A_FILE = [
    # demo, what stands there, what is put there, what is said
    ("keyseat-inch", "[key] ", '[key]\nwidth = "2 in"\nheight = "3/8 in" ',
     "key width is 2 in: wider than the shaft of 1.5 in"),
    ("keyseat-inch", "[key] ", '[key]\ndepth_from_top = "0.8 in" ',
     "keyseat depth is 0.8 in: half the shaft of 1.5 in or more"),
    ("keyseat-inch", 'width = "3/8 in"', 'width = "1/2 in"', "wider than the seat of 0.377"),
    ("keyseat-inch", 'width = "3/8 in"', 'width = "1/4 in"', "wanted a cutter that cuts 0.375 in"),
    ("keyseat-inch", 'collar = "1-1/2 in"', 'collar = "4 in"', "must be smaller than 3.5 inch"),
    ("keyseat-inch", 'collar = "1-1/2 in"', 'collar = "3.3 in"', "wanted a larger cutter, or a"),
    ("woodruff-inch", 'number = "607"', 'number = "999"', "not in the table, which holds 202"),
    ("woodruff-inch", 'diameter = "7/8 in"', 'diameter = "1/4 in"', "half the shaft of 0.25 in"),
    ("woodruff-inch", 'stem = "1/4 in"', 'stem = "1 in"', "cutter.stem is 1 inch: must be smaller"),
    ("woodruff-inch", 'from_end = "1.250 in"', 'from_end = "0.2 in"', "run out of the end face"),
    ("broach-inch", 'bore = "1-1/4 in"', 'bore = "1/4 in"', "holds shafts over 5/16 in"),
    ("broach-inch", 'width = "0.2505 in"', 'width = "0.500 in"', "wants a keyway of 0.25"),
    ("broach-inch", 'length = "1-3/4 in"', 'length = "9 in"', "2.5 inch at most"),
    ("slot-inch", 'diameter = "3/8 in"', 'diameter = "3/4 in"', "wanted a cutter of 0.502"),
    ("slot-inch", 'diameter = "3/8 in"', 'diameter = "0.001 in"', "take a wider cutter"),
    ("slot-inch", 'max_pass = "0.080 in"', 'max_pass = "0.0001 in"', "check its unit"),
    ("slot-plunged", 'length = "42 mm"', 'length = "9 mm"', "must be more than the cutter, 10"),
    ("step-inch", 'depth = "0.187 in"', 'depth = "2 in"', "wanted a longer cutter"),
    ("face-metric", 'stock = "23 mm"', 'stock = "19 mm"', "nothing to cut to 20"),
    ("dovetail-inch", 'pin = "0.250 in"', 'pin = "0.9 in"', "too large for two of them"),
    ("flats-hexagon", 'across = "0.812 in"', 'across = "1.2 in"', "must be less than the stock"),
    ("flats-square", "sides = 4", "sides = 5", "a block turns to 1, 2, 4 or 6"),
    ("gear-inch", "teeth = 24", "teeth = 127", "wanted another plate"),
    ("gear-inch", 'body = "1-1/4 in"', 'body = "2 in"', "the collar would rub"),
    ("slitting-inch", 'depth = "0.500 in"', 'depth = "2.000 in"', "the collars let it go 1.125"),
    ("tslot-metric", 'diameter = "12 mm"', 'diameter = "14 mm"', "the throat is 12"),
    ("square-block-inch", 'width = "1.625 in"', 'width = "1.5 in"', "too little to square it to"),
    ("boring-head-inch", 'hole = "1.000 in"', 'hole = "1.500 in"', "smaller than the bore of 1.25"),
    ("boring-head-inch", 'graduation = "0.001 in"', 'graduation = "1 in"', "too coarse"),
    ("centre-bore", 'diameter = "0.200 in"', 'diameter = "2 in"', "doesn't go into 1.5"),
    ("holes-circle", "holes = 8", "holes = 0", "wanted a whole number from"),
    ("holes-grid", 'tip = "0.200 in"', 'tip = "-1 in"', "must be more than zero"),
    ("divide-ratchet", "divisions = 7", "divisions = 127", "wanted another plate"),
    ("divide-table", "divisions = 11", "divisions = 0", "wanted a whole number from 2 to 240"),
    ("angle-sine-bar", "degrees = 12.5", "degrees = 75", "set 15 from the other face"),
    ("angle-head", "degrees = 15", "degrees = 120", "wanted a number from 0.01 to 89.99"),
    ("tram-head", 'limit = "0.0005 in"', 'limit = "0 in"', "must be more than zero"),
    ("turn-shaft", 'stock = "1-1/2 in"', 'stock = "1-1/4 in"', "must be larger than the diameter"),
    ("turn-stepped", 'length = "0.875 in"', 'length = "2 in"', "must be shorter than 1.75"),
    ("bore-bush", 'hole = "15/16 in"', 'hole = "1-1/8 in"', "must be smaller than the bore"),
    ("face-length", 'diameter = "1-1/4 in"', 'diameter = "1/2 in"', "bore"),
    ("dial-in-bore", 'within = "0.001 in"', 'within = "-1 in"', "must be more than zero"),
    ("tailstock-line", 'spacing = "200 mm"', 'spacing = "0 mm"', "must be more than zero"),
    ("thread-external", 'length = "2-1/2 in"', 'length = "9 in"', "would lie in the jaws"),
    ("thread-internal", 'class = "6H"', 'class = "6g"', "internal: wanted 2B, 6H"),
    ("thread-external", "[thread]", '[thread]\nhand = "left"', "Only right-hand threads"),
    ("thread-external", "[thread]", "[thread]\nstarts = 2", "Only single-start threads"),
    ("taper-morse", "[taper]", '[taper]\nside = "internal"', "Only outside tapers"),
    ("taper-morse", 'length = "2.500 in"', 'length = "4 in"', "would lie in the jaws"),
    ("taper-set-over", 'small = "26 mm"', 'small = "36 mm"', "must be more than the small one"),
    ("knurl-knob", "diametral_pitch = 96", "diametral_pitch = 0", "from 16 to 200"),
    ("part-ring", 'bore = "20 mm"', 'bore = "60 mm"', "wanted 0 to less than 40 mm"),
    ("drill-counterbore", 'screw = "M8"', 'screw = "M9"', "wanted one of 4, 6, 8"),
    ("drill-press", 'pilot = "1/8 in"', 'pilot = "1/2 in"', "must be smaller than the drill"),
    ("tap-through", 'thread = "M10"', 'thread = "M10"\ndrill = "10.5 mm"', "as large as"),
]  # fmt: skip

for path in sorted(Path(__file__).parent.glob("test_*.py")):
    if path.stem != Path(__file__).stem:  # an operation's own tests may have its cases
        IN_A_FILE += getattr(import_module(f"{__package__}.{path.stem}"), "IMPOSSIBLE", [])


@pytest.mark.parametrize(
    ("name", "old", "new", "says"), IN_A_FILE, ids=[f"{r[0]}: {r[2]!r}" for r in IN_A_FILE]
)
def test_a_file_that_cannot_be_is_refused_in_the_shell(name, old, new, says, tmp_path):
    """`wheelcall plan FILE` ends with the one sentence of the error, which the command line prints
    as it is (tests/app), and nothing is planned."""
    text = text_of(name)
    assert old in text, old
    path = tmp_path / f"{name}.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    result = CliRunner().invoke(app, ["plan", str(path)])
    assert isinstance(result.exception, BadInput), result.output[:200]
    assert says in str(result.exception)
    assert "\n" not in str(result.exception)


def test_every_operation_has_its_impossible_case():
    operations = {re.search(r'operation = "([\w-]+)"', text_of(row[0]))[1] for row in IN_A_FILE}
    assert operations == set(OPERATIONS)


WRONG = ('"-1 in"', '"text"', '"5 kg"', '"3 parsec"', '"nan"', '"inf"', '"1e12 in"',
         '"0.0000001 in"', "[1]", '""')  # fmt: skip
NOT_A_LENGTH = {"title", "operation", "machine", "unit", "notes", "material"}


@pytest.mark.parametrize("name", DEMOS)
def test_no_value_of_any_demo_can_be_nonsense(name):
    """Every value of the file in turn is made negative, text, a mass, a unit of the stars, no
    number, endless, absurdly large or small, a list, nothing: each time one sentence."""
    text, machine = text_of(name), machine_of(name)
    lines = text.splitlines()
    tried = 0
    for place, line in enumerate(lines):
        found = re.match(r"(\w+) = ", line)
        if found is None or found[1] in NOT_A_LENGTH:
            continue
        for wrong in WRONG:
            changed = "\n".join([*lines[:place], f"{found[1]} = {wrong}", *lines[place + 1 :]])
            with pytest.raises(BadInput) as caught:
                plan_for(changed, f"{name}-{place}-{wrong}", machine, {})
            assert "\n" not in str(caught.value)
            tried += 1
    assert tried


TOLD = [
    # demo, step at which it is told, size, what is said
    ("keyseat-inch", "measure-shaft", inches("0.4"), "half the shaft of 0.4 in or more"),
    ("keyseat-inch", "measure-cutter", inches("0.380"), "wider than the seat of 0.377 at most"),
    ("keyseat-inch", "measure-key", inches("2"), "for a key 0.375 high"),
    ("woodruff-inch", "measure-shaft-diameter", inches("0.5"), "half the shaft of 0.5 in or more"),
    ("slot-inch", "measure-cutter", inches("0.51"), "wider than the slot of 0.502 at most"),
    ("slot-plunged", "measure-cutter", mm("10.5"), "wider than the slot of 10.1 at most"),
    ("flats-square", "measure-stock-diameter", mm("13"), "must be less than the stock"),
    ("face-metric", "measure-stock-height", mm("19.9"), "nothing to cut to 20"),
    ("gear-inch", "measure-blank-diameter", inches("1.2"), "wanted 1.6250"),
    ("turn-shaft", "measure-clean-up", inches("1.2"), "take larger stock"),
    ("boring-head-inch", "measure-hole", inches("1.3"), "nothing to cut to 1.25"),
    ("square-block-inch", "measure-stock-width", inches("1.4"), "nothing to cut to"),
    ("dovetail-inch", "measure-straight-width", inches("1.4"), "wider than the dovetail's mouth"),
]


@pytest.mark.parametrize(
    ("name", "step", "size", "says"), TOLD, ids=[f"{r[0]}: {r[1]}" for r in TOLD]
)
def test_a_size_that_cannot_be_is_refused_by_voice(name, step, size, says):
    """It is asked back first where it lies outside the band; and even after a yes it isn't taken:
    the step and the plan stay as they were."""
    job = Job(name)
    job.to_step(step)
    before = job.state.plan
    unit = "inch" if str(size.units) == "inch" else "mm"
    outcome = job.try_saying(f"measured {saying.say_length(size, unit)}")
    if isinstance(outcome.said, Refused):
        assert outcome.sentences[-1].text.endswith("Yes or no.")
        outcome = job.try_saying("yes")
    said = " ".join(sentence.text for sentence in outcome.sentences)
    assert said.startswith("Can't be."), said
    assert says in said
    assert job.state.step_id == step
    assert job.state.plan == before


@pytest.mark.parametrize("words", ["cut three hundred this pass", "cut zero this pass"])
def test_a_pass_that_cannot_be_cut_is_refused_by_voice(words):
    job = Job("slot-inch")
    job.to_step("roughing-2-set")
    job.try_saying(words)
    said = job.say("yes")
    assert said.startswith("Can't be. depth of cut")
    assert "0.239 is left before the finishing cut" in said


@pytest.mark.parametrize(
    ("name", "before", "words"),
    [("keyseat-inch", "[cutter]", "feet a minute"), ("slot-inch", "[cutter]", "feet a minute"),
     ("slot-plunged", "[cutter]", "metres a minute"), ("turn-shaft", "[tool]", "feet a minute"),
     ("turn-metric", "[tool]", "metres a minute"),
     ("boring-head-inch", "[boring_head]", "feet a minute")],
)  # fmt: skip
def test_a_surface_speed_is_refused_in_its_own_unit_wherever_it_is_given(name, before, words):
    text, machine = text_of(name), machine_of(name)
    assert before in text
    for wrong in ("0", "0.5", "3001", "-80", "nan", "inf", '"80"', "true"):
        given = text.replace(before, f"{before}\nsurface_speed = {wrong}", 1)
        with pytest.raises(BadInput) as caught:
            plan_for(given, f"{name}-{wrong}", machine, {})
        assert "surface_speed is" in str(caught.value)
        assert f"wanted {words} from 1 to 3000" in str(caught.value)
    taken = text.replace(before, f"{before}\nsurface_speed = 80", 1)
    speed = plan_for(taken, name, machine, {}).result("speed")
    assert "80" in " ".join(str(term.value) for term in speed.terms)
