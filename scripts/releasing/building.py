"""What setuptools doesn't do by itself: folders from beside the package go into it.

Named in pyproject.toml, and imported by setuptools alone: it must import nothing else of ours.
"""

from __future__ import annotations

from pathlib import Path

from setuptools.command.build_py import build_py

PACKAGE = "assistant"
SHIPPED = ("configs", "voice_models/wheelcall-en-small")
"""What `assistant.shipped` finds beside the package in a clone, and in it once installed. Other
models in `voice_models/` were fetched, and are nobody's to pass on."""
HERE = "scripts/releasing/building.py"
"""This module, without which a source archive couldn't be built."""


def shipped_files() -> list[Path]:
    """Every file of `SHIPPED`, by its path from the top of the repository."""
    found = sorted(path for name in SHIPPED for path in Path(name).rglob("*") if path.is_file())
    return [path for path in found if not path.name.startswith(".")]


class BuildWithShipped(build_py):  # type: ignore[misc]  # setuptools has no types
    """Puts the shipped folders into the package. An editable installation finds them beside it."""

    def run(self) -> None:
        """Build the modules, and copy the shipped files."""
        super().run()
        if self.editable_mode:
            return
        for source, target in self._shipped().items():
            self.mkpath(str(Path(target).parent))
            self.copy_file(source, target, preserve_mode=False)

    def _shipped(self) -> dict[str, str]:
        folder = Path(self.build_lib, PACKAGE)
        return {str(source): str(folder / source) for source in shipped_files()}

    def get_outputs(self, include_bytecode: bool = True) -> list[str]:
        """All files that are written."""
        copied = [] if self.editable_mode else list(self._shipped().values())
        return [*super().get_outputs(include_bytecode), *copied]

    def get_source_files(self) -> list[str]:
        """All files that a source archive must have."""
        return [*super().get_source_files(), *map(str, shipped_files()), HERE]
