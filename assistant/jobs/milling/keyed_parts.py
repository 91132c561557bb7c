"""Shaft and key as they should measure, for every kind of keyseat: the depth goes by them."""

from __future__ import annotations

from decimal import Decimal

from assistant.jobs.common.off_size import Expected, around

NEAR = {"inch": Decimal("0.006"), "mm": Decimal("0.15")}
"""How far from its size a shaft or a key is another one: common practice, no source."""


def shaft_expected(nominal: Decimal, unit: str, places: int) -> Expected:
    """The shaft, told under `shaft.diameter`."""
    right = "The depth goes by that. Is it the right shaft?"
    return around("shaft.diameter", "the shaft", nominal, NEAR[unit], places, right, right)


def key_expected(nominal: Decimal, unit: str, places: int) -> Expected:
    """The key's height, told under `key.height`."""
    return around(
        "key.height", "the key", nominal, NEAR[unit], places,
        under="A low key sits loose in the hub. Is it the right key?",
        over="A tall key may not go into the hub. Is it the right key?",
    )  # fmt: skip
