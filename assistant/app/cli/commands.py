"""The commands about jobs, and what can be read of them; each loads what it needs when it is
run, so that help and lists are quick."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from assistant.app.cli import completing
from assistant.app.cli.program import (
    AttentionOption,
    EarOption,
    FullOption,
    JobArgument,
    JournalOption,
    JsonOption,
    KeptJob,
    ListeningOption,
    OutOption,
    PaperOption,
    PedalOption,
    SettingsOption,
    ShowAtOption,
    ShowOption,
    TypedOption,
    app,
    only_where,
)
from assistant.errors import BadInput


@app.command()
def run(
    job: Annotated[
        str | None,
        typer.Argument(
            help="A job file, or the name of a job, without .toml; without one it is asked what to "
            "begin. Where nobody can answer, a recorded operator works keyseat-inch.",
            autocompletion=completing.job_names,
        ),
    ] = None,
    pace: Annotated[
        str, typer.Option(help="Of the demo operator: live, or fast (waits for no sentence).")
    ] = "live",
    ear: EarOption = "auto",
    new: Annotated[
        bool, typer.Option("--new", help="Begin anew, also where the job is open.")
    ] = False,
    demo: Annotated[
        bool, typer.Option("--demo", help="Use the recorded demo operator even with a microphone.")
    ] = False,
    typed: TypedOption = False,
    journal: JournalOption = None,
    out: OutOption = Path("out"),
    full: FullOption = False,
    settings: SettingsOption = None,
    listening: ListeningOption = "",
    attention: AttentionOption = "",
    pedal: PedalOption = "",
    show: ShowOption = False,
    show_at: ShowAtOption = "",
) -> None:
    """Work a job: listen, speak and show. Takes an open job up where it was left. With none named
    it says what can be begun, and takes the answer."""
    from assistant.app.cli.run import run_job

    raise typer.Exit(
        run_job(
            job, pace=pace, ear=ear, new=new, demo=demo, typed=typed, journal=journal, out=out,
            full=full, settings=settings, listening=listening, attention=attention, pedal=pedal,
            show=show, show_at=show_at,
        )
    )  # fmt: skip


@app.command(name="new")
def new_(
    what: Annotated[
        str,
        typer.Argument(
            help="job, or machine: handwheels, dials and speeds of a machine of yours, as you "
            "measure and read them.",
            autocompletion=completing.new_things,
        ),
    ] = "job",
    like: Annotated[
        str,
        typer.Option(
            help="Begin as this job, and change what is other.",
            autocompletion=completing.job_names,
        ),
    ] = "",
    fresh: Annotated[
        bool, typer.Option("--fresh", help="Leave out what was answered before.")
    ] = False,
    ear: EarOption = "auto",
    typed: TypedOption = False,
    journal: JournalOption = None,
    out: OutOption = Path("out"),
    full: FullOption = False,
    settings: SettingsOption = None,
    listening: ListeningOption = "",
    attention: AttentionOption = "",
    pedal: PedalOption = "",
    show: ShowOption = False,
    show_at: ShowAtOption = "",
) -> None:
    """Begin a job, or tell a machine, by questions, spoken or typed; the file is kept, and a job
    run at once if wanted. Every answer is kept as it is given: what is interrupted goes on where
    it was. Have the spindle off and the machine isolated while you turn its handles."""
    from assistant.app.cli.questions import Wish
    from assistant.app.cli.run import run_job

    if what not in ("job", "machine"):
        raise BadInput("what is new", what, "wanted job or machine")
    if what == "machine":
        only_where({"--like": bool(like)}, "with a job")

    raise typer.Exit(
        run_job(
            None, pace="live", ear=ear, new=False, demo=False, typed=typed, journal=journal,
            out=out, full=full, settings=settings, listening=listening, attention=attention,
            pedal=pedal, show=show, show_at=show_at,
            wish=Wish(new=True, fresh=fresh, like=like, machine=what == "machine"),
        )
    )  # fmt: skip


@app.command(name="free")
def free_(
    machine: Annotated[
        str,
        typer.Argument(
            help="A machine of yours or of the program's, by the name of its file, or its path.",
            autocompletion=completing.machine_names,
        ),
    ],
    fresh: Annotated[
        bool, typer.Option("--fresh", help="Leave out the zeros and marks that are kept.")
    ] = False,
    ear: EarOption = "auto",
    typed: TypedOption = False,
    out: OutOption = Path("out"),
    full: FullOption = False,
    settings: SettingsOption = None,
    listening: ListeningOption = "",
    attention: AttentionOption = "",
    pedal: PedalOption = "",
) -> None:
    """Moves without a job, at any axis of a machine: zeros, distances, marked points, middles, rows
    and circles, each told as turns and the reading to stop at. It never moves a machine."""
    from assistant.app.cli.free import Wanted, free_moves

    raise typer.Exit(
        free_moves(
            Wanted(machine, ear=ear, typed=typed, fresh=fresh, out=out, full=full,
                   settings=settings, listening=listening, attention=attention, pedal=pedal)
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
    journal: JournalOption = None,
    json: JsonOption = False,
    copy: Annotated[
        str,
        typer.Option(
            help="Instead: copy this demo job, and its machine, to your own folder to start from.",
            autocompletion=completing.demo_jobs,
        ),
    ] = "",
    as_: Annotated[str, typer.Option("--as", help="The copy's name; else my-DEMO.")] = "",
) -> None:
    """List the jobs of the journal, open and finished; `run` takes an open one up again."""
    if copy:
        from assistant.app.cli.copying import copy_demo

        only_where({"--journal": journal is not None, "--json": json}, "without --copy")
        copy_demo(copy, as_)
        return
    only_where({"--as": bool(as_)}, "with --copy")
    from assistant.app.cli.listing import print_jobs

    print_jobs(journal, as_json=json)


@app.command()
def report(
    job: Annotated[str, KeptJob],
    pdf: Annotated[Path | None, typer.Option(help="Write it as PDF.")] = None,
    html: Annotated[Path | None, typer.Option(help="Write it as one HTML page.")] = None,
    journal: JournalOption = None,
    paper: PaperOption = "auto",
    json: JsonOption = False,
) -> None:
    """The record of a job: what was planned, done, measured, corrected, and who decided what."""
    from assistant.app.cli.kept_jobs import want_jobs
    from assistant.app.cli.listing import print_record

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
    distance: Annotated[
        str, typer.Option(help="From eye to screen, as '4 m'; else that of the settings.")
    ] = "",
    width: Annotated[
        str, typer.Option(help="Of the lit area, as '531 mm'; else as set, or of 24 inches.")
    ] = "",
    leads: Annotated[
        str, typer.Option(help="Large at a move: reading or travel; else as set.")
    ] = "",
) -> None:
    """Write every screen of a job, walked start to end, as pictures."""
    from assistant.app.cli.screens import write_screens

    write_screens(job, size, out, theme, distance, width, leads)


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
        str | None,
        typer.Argument(
            help="A topic; without one they are listed.", autocompletion=completing.topics
        ),
    ] = None,
) -> None:
    """Read a help page: they are part of the program and need no network."""
    from assistant.app.cli.listing import print_help

    print_help(topic)


@app.command()
def calc(
    name: Annotated[
        str | None,
        typer.Argument(
            help="A calculation; --list names them.", autocompletion=completing.calculations
        ),
    ] = None,
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
def watch(
    job: Annotated[str | None, KeptJob] = None,
    journal: JournalOption = None,
    once: Annotated[
        bool, typer.Option("--once", help="Show where the job is now, and end.")
    ] = False,
    json: Annotated[bool, typer.Option("--json", help="Print a line of JSON a change.")] = False,
) -> None:
    """Follow a job that another copy of the program works, the last touched if none is named;
    writes nothing, hears nothing."""
    from assistant.app.cli.watching import watch_job

    raise typer.Exit(watch_job(job, journal, once=once, as_json=json))
