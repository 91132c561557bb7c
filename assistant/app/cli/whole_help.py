"""Help texts in whole: no summary cut to the width of the terminal, no type of the language."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import typer
from typer.core import TyperGroup

_TYPE = re.compile(r"\s*<([^<>]*)>$")
_WORDS = {"str": "TEXT", "path": "FILE", "float range": "SECONDS", "int": "NUMBER"}
"""What stands for a value of an option; an argument's own name says it already."""


def _formatter(made: Any) -> Any:
    """The formatter, with the types of the language said in words."""
    write = made.write_dl

    def write_dl(rows: Sequence[tuple[str, str]], *rest: Any, **named: Any) -> None:
        write([(_in_words(first), second) for first, second in rows], *rest, **named)

    made.write_dl = write_dl
    return made


def _in_words(name: str) -> str:
    """`--out <path>` is `--out FILE`; `words... <list[str]>` is `words...`."""
    found = _TYPE.search(name)
    if found is None:
        return name
    return f"{name[: found.start()]} {_WORDS.get(found[1], '') if name[:1] == '-' else ''}".rstrip()


class WholeContext(typer.Context):
    """A command's context, whose help is in whole."""

    def make_formatter(self) -> Any:
        """The formatter of help texts."""
        return _formatter(super().make_formatter())


class WholeGroup(TyperGroup):
    """The program with its commands."""

    context_class = WholeContext

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """The command of that name."""
        command = super().get_command(ctx, cmd_name)
        if command is not None:
            command.context_class = WholeContext
        return command

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """Every command with the whole first sentence of its help."""
        commands = ((name, self.get_command(ctx, name)) for name in self.list_commands(ctx))
        rows = [
            (name, command.get_short_help_str(limit=1000))
            for name, command in commands
            if command is not None and not command.hidden
        ]
        with formatter.section("Commands"):
            formatter.write_dl(rows)
