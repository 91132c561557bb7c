"""A short version of each part of `scripts/torture`."""

from __future__ import annotations

import pytest

from tests.torture.babble import babble
from tests.torture.confusions import NUMBER_WORDS, aligned, load_confusions
from tests.torture.files import spoil
from tests.torture.kills import kill_many
from tests.torture.lines import try_lines
from tests.torture.mishearing import mishear
from tests.torture.soak import by_words


def test_killed_at_any_moment_nothing_spoken_is_lost(tmp_path):
    killed = kill_many(tmp_path, 25)
    assert killed.kills == 25
    assert killed.answers > 50
    assert killed.ok, killed


def test_random_words_change_nothing():
    babbled = babble(2_000)
    assert babbled.strings == 2_000
    assert babbled.changed == 0


def test_a_wrong_number_is_asked_back_or_read_back_and_can_be_undone():
    misheard = mishear(40)
    assert misheard.jobs == 40
    assert misheard.wrong > 100
    assert misheard.asked_back > 20
    assert misheard.read_back > 20
    assert misheard.ok, misheard


def test_the_measured_confusions_are_of_number_words():
    table = load_confusions()
    assert len(table) > 10
    for said, others in table.items():
        assert said in NUMBER_WORDS
        assert all(other.heard != said and 0 < other.rate <= 1 for other in others)


@pytest.mark.parametrize(
    ("said", "heard", "pairs"),
    [
        ("one five", "one nine", [("one", "one"), ("five", "nine")]),
        ("point oh four", "oh four", [("point", ""), ("oh", "oh"), ("four", "four")]),
        ("one fifteen", "one fifty five", [("one", "one"), ("fifteen", "fifty five")]),
    ],
)
def test_words_are_aligned_with_what_was_heard(said, heard, pairs):
    assert list(aligned(said.split(), heard.split())) == pairs


def test_spoilt_files_are_refused_in_words(tmp_path):
    spoilt = spoil(300, tmp_path)
    assert spoilt.tried == 300
    assert spoilt.refused > 100
    assert spoilt.escaped == []


def test_no_command_line_ends_in_a_traceback(tmp_path):
    tried = try_lines(60, tmp_path)
    assert tried.tried == 60
    assert tried.refused > 20
    assert tried.escaped == []


def test_a_shift_leaves_no_thread_and_no_queue(tmp_path):
    soaked = by_words(tmp_path, 150, lambda: False)
    assert soaked.commands == 150
    assert soaked.jobs > 1
    assert soaked.taken_from_noise == 0
    assert soaked.threads[1] <= soaked.threads[0]
    assert soaked.looks[-1].queued == 0
