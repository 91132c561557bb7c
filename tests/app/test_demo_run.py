"""`wheelcall run --demo`: the recorded operator works through what a real run hears with."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.app.cli import run
from assistant.app.demo_ear import DemoEar
from assistant.spoken import Heard


def test_the_demo_has_its_numbers_checked_by_the_second_ear(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    all_heard: list[Heard] = []

    finish = DemoEar.finish

    def noted(ear: DemoEar) -> Heard:
        all_heard.append(finish(ear))
        return all_heard[-1]

    monkeypatch.setattr(DemoEar, "finish", noted)
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
