"""What differs by system, with another one pretended: what is tried here is that the branch is
taken and what it asks the system for, and nothing of that system itself."""

from __future__ import annotations

import sys
import threading
import time

import pytest

from assistant.app.cli import ear_check
from assistant.app.ear_trial import Trial, most_memory
from assistant.devices.ear.heart import processor_time


def test_memory_is_in_megabytes_on_each_system(monkeypatch: pytest.MonkeyPatch) -> None:
    here = most_memory()
    assert here is not None
    assert 20 < here < 4000
    monkeypatch.setattr(sys, "platform", "darwin")  # the same number is bytes there
    assert most_memory() == pytest.approx(here / 1024, rel=0.5)
    monkeypatch.setattr(sys, "platform", "win32")
    assert most_memory() is None


def test_memory_that_is_not_told_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    ear_check._print([Trial("moonshine", "", (), (), 0.5, None)], [])
    assert "not told" in capsys.readouterr().out


@pytest.mark.parametrize("system", ["linux", "darwin", "win32"])
def test_the_time_of_a_thread_goes_on_while_it_works(
    system: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", system)
    used = processor_time(threading.get_ident())
    told: list[float] = []
    asks = threading.Thread(target=lambda: told.append(used()))
    until = time.process_time() + 0.05
    before = used()
    while time.process_time() < until:
        pass
    asks.start()
    asks.join()
    assert told[0] - before > 0.03
