"""A short version of each part of `scripts/torture`."""

from __future__ import annotations

from tests.torture.babble import babble
from tests.torture.files import spoil
from tests.torture.kills import kill_many
from tests.torture.mishearing import mishear


def test_killed_at_any_moment_nothing_spoken_is_lost(tmp_path):
    killed = kill_many(tmp_path, 25)
    assert killed.kills == 25
    assert killed.answers > 50
    assert killed.ok, killed


def test_random_words_change_nothing():
    babbled = babble(2_000)
    assert babbled.strings == 2_000
    assert babbled.changed == 0


def test_a_wrong_number_is_asked_back_or_read_back():
    misheard = mishear(12)
    assert misheard.wrong > 10
    assert misheard.outside == 0, misheard
    assert misheard.unread == 0, misheard


def test_spoilt_files_are_refused_in_words(tmp_path):
    spoilt = spoil(300, tmp_path)
    assert spoilt.tried == 300
    assert spoilt.refused > 100
    assert spoilt.escaped == []
