"""The program itself, and the arguments and options that several of its commands take."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any

import typer

from assistant import __version__
from assistant.app.cli import completing
from assistant.app.cli.whole_help import WholeGroup
from assistant.errors import BadInput

app = typer.Typer(
    name="wheelcall",
    help="Hands-free assistant for manual machine tools: hears short commands, keeps the place in "
    "the job, says and shows the next number. It never moves a machine.",
    cls=WholeGroup,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Exit status: 0 all right; 1 a job was not finished or a check failed; 2 wrong use or "
    "bad input; 3 journal or device can't be used; 4 an error of the program; 130 interrupted.",
)

JobArgument = Annotated[
    str,
    typer.Argument(
        help="A job file, or the name of a demo job or one of yours, without .toml.",
        autocompletion=completing.job_names,
    ),
]
KeptJob: Any = typer.Argument(
    help="A job of the journal, as `jobs` lists it.", autocompletion=completing.kept_jobs
)
EarOption = Annotated[
    str, typer.Option(help="Which ear: auto, moonshine, or vosk (its own model, or yours).")
]
TypedOption = Annotated[
    bool, typer.Option("--typed", help="Take typed lines instead of a microphone.")
]
OutOption = Annotated[
    Path, typer.Option(help="Where sound files and pictures go if there is no card or display.")
]
FullOption = Annotated[bool, typer.Option("--full", help="Full screen.")]
ListeningOption = Annotated[
    str, typer.Option(help="open: always; called: after a word; pedal: by a key.")
]
AttentionOption = Annotated[str, typer.Option(help="The word to call it by, for called.")]
PedalOption = Annotated[
    str, typer.Option(help="The key to hold or tap, for pedal: f9, space, b ...")
]
ShowOption = Annotated[
    bool,
    typer.Option("--show", help="Show the page on a phone or tablet, too, in the shop's network."),
]
ShowAtOption = Annotated[
    str,
    typer.Option(
        help="With --show: the address of this computer to show at, as 192.168.1.20:8733."
    ),
]
JournalOption = Annotated[Path | None, typer.Option(help="The shop's journal file.")]
SettingsOption = Annotated[Path | None, typer.Option(help="A settings file.")]
PaperOption = Annotated[
    str, typer.Option(help="a4, letter, or auto: letter for an inch job, A4 for a metric one.")
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print JSON for a program to read.")]


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"wheelcall {__version__}")
        raise typer.Exit


@app.callback()
def _root(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    pass


def only_where(given: Mapping[str, bool], where: str) -> None:
    """Raises `BadInput` for the first option that was given and can only be used `where`: one that
    changed nothing would be taken for one that did."""
    for option, used in given.items():
        if used:
            raise BadInput(option, "given", f"it can only be used {where}")
