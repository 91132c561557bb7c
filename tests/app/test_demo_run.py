"""`wheelcall run --demo`: the recorded operator works through what a real run hears with."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.app import wiring
from assistant.app.cli import run
from assistant.app.settings import Settings
from assistant.ports import Recogniser
from assistant.spoken import Heard


def test_the_demo_has_its_numbers_checked_by_the_second_ear(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    all_heard: list[Heard] = []

    def noted(make: Callable[[], Recogniser]) -> Recogniser:
        ear = make()
        finish = ear.finish
        ear.finish = lambda: all_heard.append(finish()) or all_heard[-1]  # type: ignore[func-returns-value,method-assign]
        return ear

    def with_noted_second(
        settings: Settings, make: Callable[[], Recogniser], attention: str = ""
    ) -> tuple[Callable[[], Recogniser], str]:
        both, line = wiring.with_second(settings, make, attention)
        return lambda: noted(both), line

    monkeypatch.setattr(run, "with_second", with_noted_second)
    settings = tmp_path / "settings.toml"
    settings.write_text("own_voice = false\n", encoding="utf-8")
    done = run.run_job(
        "drill-press", pace="fast", ear="auto", new=True, demo=True, typed=False,
        journal=tmp_path / "journal.sqlite", out=tmp_path, full=False, settings=settings,
    )  # fmt: skip
    printed = capsys.readouterr().out
    assert done == 0, printed[-2000:]
    assert "Numbers are checked by a second ear" in printed
    assert len(all_heard) > 30
    without = [heard.words for heard in all_heard if heard.words and heard.opinion is None]
    assert without == [], "each was waited for"
    agreed = [one for one in all_heard if one.opinion and one.opinion.words == one.words]
    assert len(agreed) > len(all_heard) / 2
