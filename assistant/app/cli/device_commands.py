"""The commands about ears, voices, devices and the desktop; each loads what it needs when it is
run."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from assistant.app.cli import completing
from assistant.app.cli.exits import EXIT_UNFINISHED
from assistant.app.cli.program import JournalOption, JsonOption, SettingsOption, app, only_where


@app.command()
def hear(
    files: Annotated[list[Path], typer.Argument(help="Sound files (WAV, FLAC ...).")],
    job: Annotated[
        str | None, typer.Option(help="Hold the ear to the first step of this job.")
    ] = None,
    phrases: Annotated[Path | None, typer.Option(help="Another phrase book.")] = None,
    numbers: Annotated[
        bool, typer.Option("--numbers", help="Listen for a free number alone.")
    ] = False,
    engine: Annotated[str, typer.Option(help="auto, moonshine or vosk.")] = "auto",
    second: Annotated[
        bool, typer.Option("--second", help="Have numbers checked by the other ear.")
    ] = False,
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
    journal: JournalOption = None,
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
    yes: Annotated[
        bool, typer.Option("--yes", help="With --ear or --bundle: without asking.")
    ] = False,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="With --ear or --voice: change no settings.")
    ] = False,
    settings: SettingsOption = None,
    bundle: Annotated[
        Path | None,
        typer.Option(
            help="Pack what a report of a fault needs (versions, settings, log, what was found "
            "here) into this file; it is shown first, and holds no sound and no words."
        ),
    ] = None,
) -> None:
    """Try microphone, ear, voice, screen and journal; a verdict and what to do for each."""
    if not ear:
        only_where({"--from": from_ is not None}, "with --ear")
        only_where({"--dry-run": dry_run and not voice}, "with --ear or --voice")
        only_where({"--yes": yes and bundle is None}, "with --ear or --bundle")
    else:
        only_where({"--bundle": bundle is not None}, "without --ear")
    only_where({"--voice": voice and (ear or json or bundle is not None)},
               "without --ear, --bundle and --json")  # fmt: skip
    if voice:
        from assistant.app.cli.voice_check import check_voices

        raise typer.Exit(check_voices(dry_run=dry_run, settings=settings))
    if ear:
        from assistant.app.cli.ear_check import check_ears

        raise typer.Exit(
            check_ears(from_, as_json=json, dry_run=dry_run, yes=yes, settings=settings)
        )
    if bundle is not None:
        from assistant.app.cli.bundle import write_bundle
        from assistant.app.settings import load_settings, with_options

        only_where({"--json": json}, "without --bundle")
        chosen = with_options(load_settings(settings), journal=journal)
        packed = write_bundle(bundle, chosen, settings, seconds=seconds, yes=yes)
        raise typer.Exit(0 if packed else EXIT_UNFINISHED)
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
def shortcut(
    job: Annotated[
        str | None,
        typer.Argument(
            help="A job to begin or take up; left out, what `wheelcall run` does by itself.",
            autocompletion=completing.job_names,
        ),
    ] = None,
    autostart: Annotated[
        bool, typer.Option("--autostart", help="Start it with the desktop as well.")
    ] = False,
    full: Annotated[bool, typer.Option("--full", help="Full screen.")] = False,
    remove: Annotated[bool, typer.Option("--remove", help="Take the shortcut away again.")] = False,
) -> None:
    """Put Wheelcall into the desktop's menu, with its icon."""
    from assistant.app.cli.shortcut import make_shortcut

    if remove:
        only_where({"--autostart": autostart, "--full": full}, "without --remove")
    make_shortcut(job, autostart=autostart, full=full, remove=remove)
