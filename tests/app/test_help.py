"""Help pages: current, complete, and reachable."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from assistant import __version__
from assistant.app.cli.listing import topics
from assistant.app.cli.operations import page
from assistant.app.paths import configs_folder
from assistant.jobs.operations import OPERATIONS
from assistant.textfile import read_toml

HELP = Path(__file__).resolve().parents[2] / "assistant" / "help"


def command(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "assistant", *arguments], capture_output=True, text=True, check=False
    )


def test_the_page_of_operations_is_current():
    """`python -m assistant.app.cli.operations` writes it anew."""
    assert (HELP / "operations.md").read_text(encoding="utf-8") == page()


def test_the_page_of_settings_shows_the_whole_file():
    settings = (configs_folder() / "settings.toml").read_text(encoding="utf-8")
    assert f"```toml\n{settings}```\n" in (HELP / "settings.md").read_text(encoding="utf-8")


def test_the_page_of_changes_begins_with_this_version():
    text = (HELP / "changes.md").read_text(encoding="utf-8")
    versions = re.findall(r"^## (\d[\d.]*)$", text, re.MULTILINE)
    assert versions[0] == __version__
    assert versions == sorted(versions, key=lambda one: [*map(int, one.split("."))], reverse=True)


def test_every_operation_has_a_demo_job():
    made = {
        read_toml(path.read_text(encoding="utf-8"), path)["operation"]
        for path in (configs_folder() / "jobs").glob("*.toml")
    }
    assert set(OPERATIONS) == made


def test_every_topic_is_listed_and_printed():
    listed = command("help")
    assert listed.returncode == 0
    for topic in topics():
        assert topic in listed.stdout
    assert "Safety" in command("help", "safety").stdout


def test_an_unknown_topic_names_the_known_ones():
    wrong = command("help", "nonsense")
    assert wrong.returncode == 2
    assert "safety" in wrong.stderr
    assert "Traceback" not in wrong.stderr


@pytest.mark.parametrize(
    "name",
    [
        "run",
        "new",
        "free",
        "plan",
        "say",
        "hear",
        "calc",
        "check",
        "jobs",
        "help",
        "watch",
        "shortcut",
    ],
)
def test_every_command_has_help(name):
    shown = command(name, "--help")
    assert shown.returncode == 0
    assert name in shown.stdout


def test_every_command_is_in_the_readme():
    readme = (HELP.parents[1] / "README.md").read_text(encoding="utf-8")
    for name in (
        "run",
        "new",
        "free",
        "plan",
        "say",
        "hear",
        "calc",
        "check",
        "jobs",
        "help",
        "shortcut",
    ):
        assert f"wheelcall {name}" in readme


def test_bad_input_ends_in_one_line():
    wrong = command("plan", "no-such-job")
    assert wrong.returncode == 2
    assert wrong.stderr.count("\n") == 1
    assert "did you mean" in wrong.stderr or "known jobs" in wrong.stderr


def test_a_typed_session_as_json():
    import json

    said = command("say", "keyseat-inch", "checked", "nonsense words", "--json")
    assert said.returncode == 1  # not all was understood
    lines = [json.loads(line) for line in said.stdout.splitlines()]
    assert [line["understood"] for line in lines] == ["checked", None]


def test_calc_as_json():
    import json

    done = command("calc", "side-to-centre", "shaft=1-1/2in", "cutter=3/8in", "paper=0.003in",
                   "--json")  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "0.9405" in json.dumps(json.loads(done.stdout))
