"""The way of the hand on a wheel, from the machine's file to the arrow."""

from __future__ import annotations

import pytest

from assistant.app.paths import configs_folder
from assistant.errors import BadFile
from assistant.machine import parse_machine
from assistant.present.formatting import hand_sense
from tests.devices.glances import SADDLE_IN

MILL = (configs_folder() / "machines" / "millrace-horizontal.toml").read_text(encoding="utf-8")
SADDLE = 'rises = "in"\nclockwise = "in"\n'


def test_the_profile_tells_it_or_leaves_it_open() -> None:
    assert SADDLE in MILL
    for told, clockwise in (('clockwise = "in"\n', 1), ('clockwise = "out"\n', -1), ("", 0)):
        text = MILL.replace(SADDLE, f'rises = "in"\n{told}')
        axis = parse_machine(text, "mill.toml").axis("saddle")
        assert axis.clockwise == axis.wheel.clockwise == clockwise
    move = SADDLE_IN
    assert (hand_sense(move, "in"), hand_sense(move, "out"), hand_sense(move, "")) == (1, -1, 0)


def test_another_axis_way_is_refused_by_name() -> None:
    text = MILL.replace(SADDLE, 'rises = "in"\nclockwise = "up"\n')
    with pytest.raises(BadFile) as refused:
        parse_machine(text, "mill.toml")
    for part in ("mill.toml", "clockwise", "'up'", '"in" or "out"'):
        assert part in str(refused.value)
