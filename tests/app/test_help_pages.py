"""Help pages: what they show is there, and what they name exists."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from assistant.app.cli.listing import topics
from assistant.present.glance import Moment
from tests.devices.glances import GLANCES
from tests.devices.pictures import drawn, halved, load

HELP = Path(__file__).resolve().parents[2] / "assistant" / "help"


def test_the_pages_are_topics() -> None:
    assert {"screen", "paper"} <= set(topics())


@pytest.mark.parametrize("page", sorted(HELP.glob("*.md")), ids=lambda page: page.stem)
def test_every_picture_is_there(page: Path) -> None:
    for name in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", page.read_text(encoding="utf-8")):
        assert (page.parent / name).is_file(), name


def test_every_kind_of_moment_has_its_picture() -> None:
    text = (HELP / "screen.md").read_text(encoding="utf-8")
    shown = {GLANCES[name].moment for name in re.findall(r"pictures/([\w-]+)\.png", text)}
    assert shown == set(Moment)


@pytest.mark.parametrize("name", ["move", "cut", "keys"])
def test_pictures_are_what_the_program_draws(name: str) -> None:
    """Drawn anew they look the same: `scripts/record_screens` makes them."""
    kept = load(HELP / "pictures" / f"{name}.png").astype(int)
    now = halved(drawn(GLANCES[name], (800, 480))[1]).astype(int)
    assert kept.shape == now.shape
    assert abs(kept - now).mean() < 3
