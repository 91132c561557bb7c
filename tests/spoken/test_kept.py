"""What is kept of grammars: made once, the last used kept."""

from __future__ import annotations

import pytest

from assistant.spoken.kept import Kept


class Maker:
    """Counts what it makes."""

    def __init__(self) -> None:
        self.made: list[str] = []

    def __call__(self, key: str) -> str:
        self.made.append(key)
        return key.upper()


def test_it_is_made_once_and_what_was_used_longest_ago_goes() -> None:
    make = Maker()
    kept: Kept[str, str] = Kept(2)
    for key in ("a", "b", "a", "c", "a", "b"):
        assert kept.of(key, lambda key=key: make(key)) == key.upper()  # type: ignore[misc]
    assert make.made == ["a", "b", "c", "b"], "b was used longest ago when c came"
    assert len(kept) == 2
    assert "c" not in kept
    assert kept["a"] == "A"


def test_nothing_is_kept_of_what_failed() -> None:
    kept: Kept[str, str] = Kept(2)

    def fail() -> str:
        raise ValueError("no such model")

    with pytest.raises(ValueError, match="no such model"):
        kept.of("a", fail)
    assert "a" not in kept
    assert kept.of("a", lambda: "made later") == "made later"


def test_what_was_forgotten_is_made_anew() -> None:
    kept: Kept[tuple[str, bool], int] = Kept(1)
    assert kept.of(("a", True), lambda: 1) == 1
    kept.clear()
    with pytest.raises(KeyError):
        kept["a", True]
    assert kept.of(("a", True), lambda: 2) == 2
