"""`wheelcall run`: devices, job, and the loop that fits what is there."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from statistics import median

from assistant.app.assistant import Assistant
from assistant.app.beside import JobAndFreeMoves
from assistant.app.cli.exits import EXIT_INTERRUPTED, EXIT_UNFINISHED
from assistant.app.cli.free import find_machine, moves
from assistant.app.cli.hearing import PATIENT_SECONDS
from assistant.app.cli.program import only_where
from assistant.app.cli.questions import DEMO_JOB, Wish, ask
from assistant.app.cli.sound import LISTENS, NEVER, NO_PEDAL, hear_out, listener_of, microphone_of
from assistant.app.cli.terminal import is_a_terminal
from assistant.app.demo_ear import DemoEar
from assistant.app.first_words import FirstWords
from assistant.app.free_moves import free_book
from assistant.app.listening import Listening, Mode
from assistant.app.manner import Manner
from assistant.app.operator import DemoOperator, read_script
from assistant.app.paths import configs_folder, demo_script, find_job, writable_folder
from assistant.app.run_demo import run_demo
from assistant.app.run_typed import HINT, run_typed
from assistant.app.settings import Settings, load_settings, with_options
from assistant.app.wiring import (
    choose_ear,
    ear_notices,
    find_devices,
    find_ear,
    listening_of,
    stand_in_ear,
    with_second,
)
from assistant.devices.journal import open_journal
from assistant.devices.microphone import find_microphone
from assistant.devices.screen import display_missing
from assistant.devices.viewers import where_to_listen
from assistant.errors import BadInput, DeviceFailed, DeviceMissing
from assistant.log import get_log
from assistant.phrases.book import load_book
from assistant.ports import Journal, Recogniser
from assistant.spoken import Sentence
from assistant.textfile import visible

SHOWS = "The page is shown in this network, too, unencrypted, to each device that is given a code."
SHOWS += "{others}"
OTHERS = " (This computer also has {one}: --show-at {one}.)"


def run_job(
    job: str | None,
    *,
    pace: str,
    ear: str,
    new: bool,
    demo: bool,
    typed: bool,
    journal: Path | None,
    out: Path,
    full: bool,
    settings: Path | None,
    listening: str = "",
    attention: str = "",
    pedal: str = "",
    show: bool = False,
    show_at: str = "",
    wish: Wish | None = None,
) -> int:
    """Run a job to its end or until the operator closes it; the exit status.

    Without one it is asked what to begin, as `wish` has it; where nobody can answer, the demo is
    run.
    """
    if pace not in ("live", "fast"):
        raise BadInput("--pace", pace, "wanted live or fast")
    if ear not in ("auto", "moonshine", "vosk"):
        raise BadInput("--ear", ear, "wanted auto, moonshine or vosk")
    chosen = with_options(
        load_settings(settings), ear=ear, journal=journal,
        listening=listening, attention=attention, pedal=pedal,
    )  # fmt: skip
    only_where({"--show-at": bool(show_at) and not show}, "with --show")
    where = where_to_listen(show_at) if show else None
    book = load_book()
    ear_found = find_ear(chosen)
    if ear_found.deaf and demo:
        raise DeviceMissing("ear", ear_found.deaf, "nobody can hear the recorded operator")
    typed = typed or bool(ear_found.deaf)
    chosen, make_ear = ear_found.settings, ear_found.make
    way = listening_of(chosen, book)
    path = job_path(job or DEMO_JOB, chosen.journal, new=new)
    script = demo_script(path)
    if demo and script is None:
        recorded = ", ".join(sorted(one.stem for one in (configs_folder() / "demo").glob("*.toml")))
        raise BadInput("--demo", path.stem, f"no operator was recorded; recorded are: {recorded}")
    print("Wheelcall. " + NEVER)
    print(ear_found.line)
    found = find_devices(chosen, writable_folder(out), full=full, show=where)
    if where is not None:
        print(SHOWS.format(others="".join(OTHERS.format(one=one) for one in where.others)))
    microphone, no_microphone = (None, "") if demo or typed else microphone_of(chosen.microphone)
    asks = wish is not None or (
        job is None and not demo and pace == "live"
        and (microphone is not None or typed or is_a_terminal())
    )  # fmt: skip
    use_demo = demo or (microphone is None and not typed and not asks and script is not None)
    notices = [*found.notices, *ear_notices(chosen)]
    if microphone is not None and way.mode is Mode.PEDAL and display_missing():
        notices.append(NO_PEDAL)
    if no_microphone:
        stand_in = "a recorded demo operator works the job" if use_demo else "commands are typed"
        notices.append(f"No microphone: {no_microphone}; {stand_in}.")
    if use_demo or microphone is not None:
        called = microphone is not None and way.mode is Mode.CALLED
        make_ear, second_line = with_second(chosen, make_ear, way.attention if called else "")
        print(second_line)
    for notice in notices:
        print(notice)
    print()
    get_log("devices").info("%s %s", ear_found.line, " ".join(notices))
    assistant: Assistant | None = None
    try:
        if microphone is not None:
            print(LISTENS[way.mode].format(word=way.attention, key=way.pedal) + "\n")
        if asks:
            listener = listener_of(chosen, make_ear, microphone, way)
            begun = ask(wish or Wish(new=False), book, found.devices, listener)
            while begun.then is not None:  # a machine first, or a job on the new one
                if microphone is not None:
                    listener = replace(listener, microphone=find_microphone(chosen.microphone))
                begun = ask(begun.then, book, found.devices, listener)
            if begun.free:
                if listener.microphone is not None:
                    listener = replace(listener, microphone=find_microphone(chosen.microphone))
                return moves(*find_machine(begun.free), found.devices, listener, chosen)
            if not begun.job:
                return begun.status
            path = _file_or_name(begun.job) if begun.resumed else find_job(begun.job)
            new, use_demo = begun.anew, begun.demo
            script = demo_script(path)
            if listener.microphone is not None:  # it was given back with the last answer
                microphone = find_microphone(chosen.microphone)
        manner = Manner(
            chosen.rate, chosen.volume, chosen.shaping, chosen.say_digits, chosen.repeat_numbers
        )
        first_words = FirstWords.of_journal(chosen.say_words, found.devices.journal.jobs())
        assistant = Assistant(
            book, found.devices, trouble=_short(notices), manner=manner, first_words=first_words
        )
        opening = begin_or_resume(assistant, path, new=new or use_demo)
        if use_demo and script is not None:
            operator = DemoOperator(read_script(script))
            hears = DemoEar(_demo_ears(chosen), print)
            try:
                done = run_demo(assistant, operator, hears, opening,
                                fast=pace == "fast" or not found.card)  # fmt: skip
            except DeviceFailed as failed:
                print(f"The ear failed: {failed.why}. Commands are typed from here.")
                done = run_typed(assistant)
            finally:
                hears.close()
        elif microphone is not None:
            from assistant.app.run_live import run_live

            done = run_live(
                JobAndFreeMoves(assistant, free_book),
                microphone,
                make_ear,
                headset=chosen.headset,
                listening=way,
                typed=is_a_terminal(),
                instead=stand_in_ear(chosen, way),
            )
        else:
            print(f"{HINT}\n")
            done = run_typed(JobAndFreeMoves(assistant, free_book))
        hear_out(found.devices)
    except KeyboardInterrupt:
        if assistant is None:  # while it was asked what to begin: what is kept was told
            print("\ninterrupted")
        else:
            print(f"\ninterrupted; the job is kept: wheelcall run {path.stem} takes it up again")
        return EXIT_INTERRUPTED
    finally:
        if assistant is not None:
            _log_turns(assistant.turns)
        found.devices.speaker.close()
        found.devices.screen.close()
        found.devices.journal.close()
    print(assistant.closing_line())
    return 0 if done else EXIT_UNFINISHED


def _demo_ears(settings: Settings) -> list[Callable[[], Recogniser]]:
    """What makes the ear of the demo, and the one that goes on where that fails."""
    # its recordings are faster than any speech, so that the second ear is waited for
    both, _ = with_second(settings, choose_ear(settings)[0], wait=PATIENT_SECONDS)
    other = stand_in_ear(settings, Listening())
    return [both] if other is None else [both, other]


def _log_turns(seconds: list[float]) -> None:
    """How long it took from what was heard to what was kept of it."""
    if seconds:
        slow = sorted(seconds)[len(seconds) * 95 // 100]
        get_log("timings").info(
            "%d turns, median %.1f ms, 95 of 100 within %.1f ms, slowest %.1f ms",
            len(seconds), 1e3 * median(seconds), 1e3 * slow, 1e3 * max(seconds),
        )  # fmt: skip


def begin_or_resume(assistant: Assistant, job: Path, *, new: bool) -> tuple[Sentence, ...]:
    """Take up the newest open run of this job, or begin it."""
    open_id = "" if new else open_job(assistant.devices.journal, job)
    if open_id:
        print(f"{open_id} is open: taking it up where it was left (--new begins anew).")
        return assistant.resume(open_id, job)
    return assistant.begin(job)


def job_path(name: str, journal: Path | None, *, new: bool) -> Path:
    """The file of a job. An open one is taken up also where its file is gone: all that it needs
    is in the journal. Raises `BadInput` where there is neither."""
    try:
        return find_job(name)
    except BadInput:
        path = _file_or_name(name)
        with closing(open_journal(journal)) as kept:
            if new or not open_job(kept, path):
                raise
        return path


def _file_or_name(name: str) -> Path:
    """The file of a job, or what it would be called."""
    try:
        return find_job(name)
    except BadInput:
        return Path(name.replace("\0", "").removesuffix(".toml") + ".toml")


def open_job(journal: Journal, job: Path) -> str:
    """The newest unfinished run of a job, or the one of that very name; '' where there is none."""
    name = visible(job.stem)
    for entry in journal.jobs():
        if not entry.finished and name in (entry.id, entry.id.rsplit("-", 1)[0]):
            return entry.id
    return ""


def _short(notices: list[str]) -> tuple[str, ...]:
    """For the screen, what is missing in a few words; the whole lines were printed."""
    missing = [notice.split(":")[0].split("(")[0].strip() for notice in notices]
    return (". ".join(missing) + ".",) if missing else ()
