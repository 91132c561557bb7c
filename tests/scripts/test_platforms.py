"""scripts/platforms: what it asks for, and what it says of a package without a wheel. The network
and the resolver are stood in for."""

from __future__ import annotations

import subprocess
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture
def platforms(root: Path) -> ModuleType:
    """The script as a module."""
    loader = SourceFileLoader("platforms", str(root / "scripts" / "platforms"))
    spec = spec_from_loader("platforms", loader)
    assert spec is not None
    module = module_from_spec(spec)
    loader.exec_module(module)
    return module


def test_what_the_program_needs_is_asked_for_and_no_tool_of_ours(platforms: ModuleType) -> None:
    pins = platforms.for_the_program("requirements.lock").splitlines()
    assert any(pin.startswith("numpy==") for pin in pins)
    assert not [pin for pin in pins if pin.startswith(("pytest==", "mypy=="))]
    elsewhere = platforms.for_the_program("locks/windows-x86-64.lock").splitlines()
    assert any(pin.startswith("pywin32==") for pin in elsewhere)


def test_each_package_without_a_wheel_is_named(
    platforms: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    def resolve(_uv: Path, _into: Path, inputs: list[Path], *_options: str) -> str:
        for name in ("beta", "gamma"):
            if f"{name}==" in inputs[0].read_text(encoding="utf-8"):
                said = f"cause: Because {name}==1 has no wheels with a matching platform tag"
                raise subprocess.CalledProcessError(1, "uv", stderr=said)
        return ""

    monkeypatch.setattr(platforms, "resolve", resolve)
    pins = "alpha==1\nbeta==1\ngamma==1"
    assert platforms.lacking(Path("uv"), pins, "windows", "3.12") == "beta, gamma"
    assert platforms.lacking(Path("uv"), "alpha==1", "windows", "3.12") == ""


def test_another_failure_is_not_taken_for_a_missing_wheel(
    platforms: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    def resolve(*_arguments: object) -> str:
        raise subprocess.CalledProcessError(2, "uv", stderr="no route to host")

    monkeypatch.setattr(platforms, "resolve", resolve)
    with pytest.raises(subprocess.CalledProcessError):
        platforms.lacking(Path("uv"), "alpha==1", "windows", "3.12")


def test_the_help_page_has_a_line_for_each_platform(platforms: ModuleType, root: Path) -> None:
    page = (root / "assistant" / "help" / "install.md").read_text(encoding="utf-8")
    for words, _, lock in platforms.PLATFORMS:
        assert f"\n| {words} | " in page
        assert lock == "requirements.lock" or f"wheelcall-VERSION-{Path(lock).name}" in page
