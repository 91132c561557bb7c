"""Whole jobs by sound files: each command heard, each sentence spoken, each big number.

The recordings are open synthetic voices; the ear is the built-in one, held to the full grammar of
each step. What it has to come to stands in `tests/reference/jobs/`, written by
`python -m tests.app.test_spoken_jobs` and read through by a person.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.devices.journal import open_journal
from assistant.devices.moonshine import MoonshineEar
from assistant.session.reduce import replay
from tests.app.spoken_job import work

JOBS = (
    "keyseat-inch", "keyseat-metric", "keyseat-two-in-line",
    "woodruff-inch", "turn-shaft", "taper-morse", "drill-press", "tap-through", "divide-ratchet",
)  # fmt: skip
REFERENCE = Path(__file__).resolve().parents[1] / "reference" / "jobs"


@pytest.fixture(scope="module")
def ear():
    made = MoonshineEar()
    yield made
    made.close()


def reference(name: str) -> list[str]:
    return (REFERENCE / f"{name}.txt").read_text(encoding="utf-8").splitlines()


@pytest.mark.parametrize("name", JOBS)
def test_a_whole_job_is_heard_said_and_shown(name, ear, tmp_path):
    worked = work(name, ear, tmp_path / "journal.sqlite")
    assert worked.finished, worked.operator.gave_up
    assert worked.lines == reference(name)
    assert worked.sentences > 1_000_000
    # the record is in the file, and is the state
    kept = open_journal(tmp_path / "journal.sqlite")
    records = kept.read(worked.assistant.job_id)
    kept.close()
    state = replay(records)
    assert state.finished
    assert state.told == worked.assistant.state.told
    if name.startswith("keyseat"):
        assert [told.name for told in state.told if told.name.endswith(("over the key", "side"))]


def test_two_files_swapped_are_noticed(ear, tmp_path):
    """The ear really hears: with two measurements swapped, the job comes to other numbers."""
    one, other = "measured one point six seven two", "measured one point six six oh"
    worked = work(
        "keyseat-inch", ear, tmp_path / "journal.sqlite", swapped={one: other, other: one}
    )
    assert worked.lines != reference("keyseat-inch")


def test_a_wrong_read_back_is_refused(ear, tmp_path):
    """A recording of another size than the operator means is asked back or taken as it sounds;
    the operator's read-back check then ends the job rather than going on with it."""
    worked = work(
        "keyseat-inch", ear, tmp_path / "journal.sqlite",
        swapped={"three thou": "measured three seventy five"},
    )  # fmt: skip
    assert not worked.finished


if __name__ == "__main__":
    import tempfile

    REFERENCE.mkdir(parents=True, exist_ok=True)
    real = MoonshineEar()
    for job in JOBS:
        with tempfile.TemporaryDirectory() as folder:
            done = work(job, real, Path(folder) / "journal.sqlite")
        (REFERENCE / f"{job}.txt").write_text("\n".join(done.lines) + "\n", encoding="utf-8")
        print(done.closing, f"asked back {done.asked_back}, {done.sentences:,} sentences")
