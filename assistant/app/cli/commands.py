"""The commands; each loads what it needs when it is run, so that help and lists are quick."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from assistant import __version__
from assistant.app.cli import only_where

app = typer.Typer(
    name="wheelcall",
    help="Hands-free assistant for manual machine tools: hears short commands, keeps the place in "
    "the job, says and shows the next number. It never moves a machine.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Exit status: 0 all right; 1 a job was not finished or a check failed; 2 wrong use or "
    "bad input; 3 journal or device can't be used; 130 interrupted.",
)

JobArgument = Annotated[
    str, typer.Argument(help="A job file, or the name of one in configs/jobs, without .toml.")
]
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


@app.command()
def run(
    job: Annotated[str, typer.Argument(help="A job file, or the name of one in configs/jobs.")] = (
        "keyseat-inch"
    ),
    pace: Annotated[
        str, typer.Option(help="Of the demo operator: live, or fast (waits for no sentence).")
    ] = "live",
    ear: Annotated[
        str, typer.Option(help="Which ear: auto, moonshine, or vosk (a model in voice_models/).")
    ] = "auto",
    new: Annotated[bool, typer.Option(help="Begin anew, also where the job is open.")] = False,
    demo: Annotated[
        bool, typer.Option(help="Use the recorded demo operator even with a microphone.")
    ] = False,
    typed: Annotated[bool, typer.Option(help="Take typed lines instead of a microphone.")] = False,
    journal: Annotated[Path | None, typer.Option(help="The shop's journal file.")] = None,
    out: Annotated[
        Path, typer.Option(help="Where sound files and pictures go if there is no card or display.")
    ] = Path("out"),
    full: Annotated[bool, typer.Option(help="Full screen.")] = False,
    settings: Annotated[Path | None, typer.Option(help="A settings file.")] = None,
    listening: Annotated[
        str, typer.Option(help="open: always; called: after a word; pedal: by a key.")
    ] = "",
    attention: Annotated[str, typer.Option(help="The word to call it by, for called.")] = "",
    pedal: Annotated[
        str, typer.Option(help="The key to hold or tap, for pedal: f9, space, b ...")
    ] = "",
) -> None:
    """Work a job: listen, speak and show. Takes an open job up where it was left."""
    from assistant.app.cli.run import run_job

    raise typer.Exit(
        run_job(
            job, pace=pace, ear=ear, new=new, demo=demo, typed=typed, journal=journal, out=out,
            full=full, settings=settings, listening=listening, attention=attention, pedal=pedal,
        )
    )  # fmt: skip


@app.command()
def plan(
    job: JobArgument,
    json: JsonOption = False,
    pdf: Annotated[Path | None, typer.Option(help="Write a set-up sheet as PDF instead.")] = None,
    paper: PaperOption = "auto",
) -> None:
    """Print the whole step sheet: every move, dial reading, depth, speed, derivation, source."""
    if pdf is not None:
        from assistant.app.cli.paper import write_plan

        write_plan(job, pdf, paper)
        return
    from assistant.app.cli.sheet import print_plan

    print_plan(job, as_json=json)


@app.command()
def say(
    job: JobArgument,
    words: Annotated[list[str] | None, typer.Argument(help="Typed commands, in order.")] = None,
    json: JsonOption = False,
) -> None:
    """Work a job by typed commands; without any, lines are read from the keyboard or a pipe."""
    from assistant.app.cli.typing import say_words

    raise typer.Exit(say_words(job, words or [], as_json=json))


@app.command()
def jobs(
    journal: Annotated[Path | None, typer.Option(help="The shop's journal file.")] = None,
    json: JsonOption = False,
) -> None:
    """List the jobs of the journal, open and finished; `run` takes an open one up again."""
    from assistant.app.cli.listing import print_jobs

    print_jobs(journal, as_json=json)


@app.command()
def report(
    job: Annotated[str, typer.Argument(help="A job of the journal, as `jobs` lists it.")],
    pdf: Annotated[Path | None, typer.Option(help="Write it as PDF.")] = None,
    html: Annotated[Path | None, typer.Option(help="Write it as one HTML page.")] = None,
    journal: Annotated[Path | None, typer.Option(help="The shop's journal file.")] = None,
    paper: PaperOption = "auto",
    json: JsonOption = False,
) -> None:
    """The record of a job: what was planned, done, measured, corrected, and who decided what."""
    from assistant.app.cli.listing import print_record, want_jobs

    kept = want_jobs(journal)
    if json:
        print_record(job, kept)
        return
    from assistant.app.cli.paper import write_report

    write_report(job, pdf, html, kept, paper)


@app.command()
def screens(
    job: JobArgument,
    size: Annotated[str, typer.Option(help="Width and height in pixels.")] = "1280x720",
    out: Annotated[Path, typer.Option(help="The folder for the pictures.")] = Path("out/screens"),
    theme: Annotated[str, typer.Option(help="dark or light.")] = "dark",
) -> None:
    """Write every screen of a job, walked start to end, as pictures."""
    from assistant.app.cli.screens import write_screens

    write_screens(job, size, out, theme)


@app.command()
def phrases(
    pdf: Annotated[Path | None, typer.Option(help="Write the card for the wall as PDF.")] = None,
    book: Annotated[Path | None, typer.Option(help="Another phrase book.")] = None,
    paper: PaperOption = "auto",
    json: JsonOption = False,
) -> None:
    """What may be said, and what comes of it."""
    from assistant.app.cli.phrases import write_phrases

    write_phrases(pdf, book, paper, as_json=json)


@app.command(name="help")
def help_(
    topic: Annotated[
        str | None, typer.Argument(help="A topic; without one they are listed.")
    ] = None,
) -> None:
    """Read a help page: they are part of the program and need no network."""
    from assistant.app.cli.listing import print_help

    print_help(topic)


@app.command()
def calc(
    name: Annotated[str | None, typer.Argument(help="A calculation; --list names them.")] = None,
    values: Annotated[
        list[str] | None, typer.Argument(help="Inputs, as shaft=1-1/2in width=3/8in.")
    ] = None,
    list_: Annotated[bool, typer.Option("--list", help="List every calculation.")] = False,
    check: Annotated[
        Path | None, typer.Option(help="Run a file of check values and print each difference.")
    ] = None,
    json: JsonOption = False,
) -> None:
    """Run one calculation of the catalogue, list them, or check them against a file."""
    from assistant.app.cli.sums import run_calc

    raise typer.Exit(run_calc(name, values or [], list_all=list_, check=check, as_json=json))


@app.command()
def hear(
    files: Annotated[list[Path], typer.Argument(help="Sound files (WAV, FLAC ...).")],
    job: Annotated[
        str | None, typer.Option(help="Hold the ear to the first step of this job.")
    ] = None,
    phrases: Annotated[Path | None, typer.Option(help="Another phrase book.")] = None,
    numbers: Annotated[bool, typer.Option(help="Listen for a free number alone.")] = False,
    engine: Annotated[str, typer.Option(help="auto, moonshine or vosk.")] = "auto",
    second: Annotated[bool, typer.Option(help="Have numbers checked by the other ear.")] = False,
    json: JsonOption = False,
) -> None:
    """Print what the ear hears in sound files."""
    from assistant.app.cli.hearing import hear_files

    raise typer.Exit(
        hear_files(
            files, job=job, phrases=phrases, numbers=numbers, engine=engine, second=second,
            as_json=json,
        )
    )  # fmt: skip


@app.command()
def check(
    seconds: Annotated[
        float, typer.Option(min=0.1, max=60, help="How long to listen to the microphone.")
    ] = 3.0,
    journal: Annotated[Path | None, typer.Option(help="The shop's journal file.")] = None,
    json: JsonOption = False,
    ear: Annotated[
        bool, typer.Option("--ear", help="Try every ear on a dozen phrases; keep the best.")
    ] = False,
    from_: Annotated[
        Path | None,
        typer.Option(
            "--from",
            help="With --ear: read the phrases from sound files in this folder, "
            "named as what is said (im_set.wav), not from the microphone.",
        ),
    ] = None,
    voice: Annotated[
        bool, typer.Option("--voice", help="Hear both voices where you stand; keep one of them.")
    ] = False,
    yes: Annotated[bool, typer.Option("--yes", help="With --ear: keep without asking.")] = False,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="With --ear or --voice: change no settings.")
    ] = False,
    settings: Annotated[Path | None, typer.Option(help="A settings file.")] = None,
) -> None:
    """Try microphone, ear, voice, screen and journal; a verdict and what to do for each."""
    if not ear:
        only_where({"--from": from_ is not None, "--yes": yes}, "with --ear")
        only_where({"--dry-run": dry_run and not voice}, "with --ear or --voice")
    only_where({"--voice": voice and (ear or json)}, "without --ear and --json")
    if voice:
        from assistant.app.cli.voice_check import check_voices

        raise typer.Exit(check_voices(dry_run=dry_run, settings=settings))
    if ear:
        from assistant.app.cli.ear_check import check_ears

        raise typer.Exit(
            check_ears(from_, as_json=json, dry_run=dry_run, yes=yes, settings=settings)
        )
    from assistant.app.cli.checking import check_devices

    raise typer.Exit(check_devices(seconds, journal, as_json=json, settings=settings))


@app.command()
def learn(
    from_: Annotated[
        Path | None,
        typer.Option(
            "--from",
            help="Read the phrases from sound files in this folder, named as "
            "what is said (im_set.wav), not from the microphone.",
        ),
    ] = None,
    show: Annotated[bool, typer.Option("--show", help="Show what is known of it.")] = False,
    delete: Annotated[bool, typer.Option("--delete", help="Forget it.")] = False,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Learn, but keep nothing.")] = False,
    file: Annotated[
        Path | None, typer.Option(help="Where it is kept; else in the data folder.")
    ] = None,
    json: JsonOption = False,
) -> None:
    """Say twenty phrases once, so that the built-in ear knows your voice. No sound is kept."""
    from assistant.app.cli import learn as own

    if not show:
        only_where({"--json": json}, "with --show")
    else:
        only_where({"--delete": delete}, "without --show")
    if show or delete:
        given = {"--from": from_ is not None, "--dry-run": dry_run}
        only_where(given, "without --show and --delete")
    if show:
        raise typer.Exit(own.show_voice(file, as_json=json))
    if delete:
        raise typer.Exit(own.forget_voice(file))
    raise typer.Exit(own.learn_voice(from_, dry_run=dry_run, file=file))


@app.command()
def watch(
    job: Annotated[str | None, typer.Argument(help="A job's id; the last touched if none.")] = None,
    journal: Annotated[Path | None, typer.Option(help="The shop's journal file.")] = None,
    once: Annotated[bool, typer.Option(help="Show where the job is now, and end.")] = False,
    json: Annotated[bool, typer.Option("--json", help="Print a line of JSON a change.")] = False,
) -> None:
    """Follow a job that another copy of the program works; writes nothing, hears nothing."""
    from assistant.app.cli.watching import watch_job

    raise typer.Exit(watch_job(job, journal, once=once, as_json=json))
