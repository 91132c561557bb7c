"""`wheelcall free`: moves without a job, at any axis of a machine."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from assistant.app.assistant import Devices
from assistant.app.cli.exits import EXIT_INTERRUPTED, EXIT_UNFINISHED
from assistant.app.cli.questions import Listener, listen
from assistant.app.cli.sound import NEVER, find_listener, hear_out
from assistant.app.cli.terminal import is_a_terminal
from assistant.app.conversation import Edge
from assistant.app.free_file import FreeFile
from assistant.app.free_moves import FreeMoves, free_book
from assistant.app.manner import Manner
from assistant.app.new_jobs import machines_here
from assistant.app.paths import writable_folder
from assistant.app.run_typed import HINT
from assistant.app.settings import Settings, load_settings, with_options
from assistant.app.wiring import find_devices, listening_of
from assistant.errors import BadFile, BadInput
from assistant.free.places import nowhere
from assistant.free.talk import Talk
from assistant.machine import Machine, load_machine
from assistant.phrases.book import load_book
from assistant.textfile import visible


@dataclass(frozen=True)
class Wanted:
    """What was asked for on the command line."""

    machine: str
    ear: str = "auto"
    typed: bool = False
    fresh: bool = False
    out: Path = Path("out")
    full: bool = False
    settings: Path | None = None
    listening: str = ""
    attention: str = ""
    pedal: str = ""


def find_machine(name: str) -> tuple[str, Machine]:
    """A machine by its name, or by the path of its file, and the name it is kept under.

    Raises `BadInput` that lists the machines there are, and for one without a handwheel.
    """
    machines, bad = machines_here()
    path = Path(name.replace("\0", ""))
    if name in machines:
        stem, machine = name, machines[name]
    elif path.suffix == ".toml" and path.is_file():
        stem, machine = path.stem, load_machine(path)
    else:
        near = get_close_matches(name, machines, n=3, cutoff=0.5)
        hint = f"did you mean {' or '.join(near)}? " if near else ""
        with_wheels = [one for one, machine in machines.items() if machine.axes]
        for line in bad:
            print(line)
        raise BadInput("machine", name, f"no such machine; {hint}known: {', '.join(with_wheels)}")
    if not machine.axes:
        raise BadInput("machine", name, "it has no handwheels, so there is nothing to move by them")
    return stem, machine


def free_moves(wanted: Wanted) -> int:
    """Free moves until they are left or the operator closes them; the exit status."""
    name, machine = find_machine(wanted.machine)
    chosen = with_options(
        load_settings(wanted.settings), ear=wanted.ear, journal=None, listening=wanted.listening,
        attention=wanted.attention, pedal=wanted.pedal,
    )  # fmt: skip
    book = load_book()
    way = listening_of(chosen, book)
    print("Wheelcall. " + NEVER)
    found = find_devices(chosen, writable_folder(wanted.out), full=wanted.full)
    listener = find_listener(chosen, way, typed=wanted.typed, notices=found.notices)
    try:
        return moves(name, machine, found.devices, listener, chosen, fresh=wanted.fresh)
    finally:
        found.devices.speaker.close()
        found.devices.screen.close()
        found.devices.journal.close()


def moves(
    name: str,
    machine: Machine,
    devices: Devices,
    listener: Listener,
    settings: Settings,
    *,
    fresh: bool = False,
) -> int:
    """The conversation with devices that are open; the exit status."""
    file = FreeFile(name)
    talk = Talk(machine, nowhere(machine))
    if not fresh:
        try:
            talk = file.load(machine) or talk
        except BadFile as bad:
            print(f"What was kept is left out: {bad}")
    manner = Manner(
        settings.rate, settings.volume, settings.shaping, settings.say_digits,
        settings.repeat_numbers,
    )  # fmt: skip
    edge = Edge(devices.speaker, devices.screen, devices.clock)
    free = FreeMoves(free_book(), edge, talk, file, manner=manner)
    if listener.microphone is None or is_a_terminal():
        print(f"{HINT}\n")
    free.begin()
    kept = f"wheelcall free {visible(name)} goes on with them (--fresh begins anew)"
    try:
        over = listen(free, listener, patient=True)
        hear_out(devices)
    except KeyboardInterrupt:
        print(f"\ninterrupted; zeros and marks are kept: {kept}")
        return EXIT_INTERRUPTED
    if over:
        return 0
    if free.talk.history:
        print(f"Zeros and marks are kept: {kept}.")
    return EXIT_UNFINISHED
