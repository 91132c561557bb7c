"""Log odds against values worked by hand: ln(p / (1 - p))."""

from __future__ import annotations

from math import log

import pytest

from assistant.spoken.odds import FARTHEST, log_odds, share_of


def test_by_hand() -> None:
    assert log_odds(0.5) == 0
    assert log_odds(0.9) == pytest.approx(log(9))
    assert log_odds(0.2) == pytest.approx(-log(4))


@pytest.mark.parametrize("share", [0.001, 0.2, 0.5, 0.93, 0.999])
def test_there_and_back(share: float) -> None:
    assert share_of(log_odds(share)) == pytest.approx(share)


def test_a_bound_keeps_it_off_the_ends() -> None:
    assert log_odds(0.0, 0.01) == log_odds(0.01)
    assert log_odds(1.0, 0.01) == pytest.approx(log(99))
    assert log_odds(0.3, 0.01) == log_odds(0.3)


@pytest.mark.parametrize("share", [0.0, 1.0, -0.1, 1.1])
def test_certainty_has_no_odds(share: float) -> None:
    with pytest.raises(ValueError, match="log odds"):
        log_odds(share)


def test_any_odds_are_a_share() -> None:
    assert share_of(1e6) == share_of(FARTHEST) < 1
    assert 0 < share_of(-1e6) < 1e-12
