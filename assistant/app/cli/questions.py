"""A job or a machine told by questions: `wheelcall new`, and `run` where no job is named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from assistant.app.assistant import Devices
from assistant.app.cli.exits import EXIT_UNFINISHED
from assistant.app.cli.terminal import is_a_terminal
from assistant.app.conversation import Edge
from assistant.app.drafts import OF_A_JOB, OF_A_MACHINE, Draft
from assistant.app.filling_in import FillingIn
from assistant.app.listening import Listening
from assistant.app.new_files import JobFile, MachineFile
from assistant.app.new_jobs import known_in, machines_here, shop_here, stem_of
from assistant.app.paths import configs_folder, find_job
from assistant.app.run_typed import HINT, run_typed
from assistant.app.talker import Talker
from assistant.devices.microphone import Microphone
from assistant.errors import BadFile, BadInput
from assistant.filling.book import load_question_book
from assistant.filling.hear import hear
from assistant.filling.shop import DEMO, FREE, LAST, NEW, NEW_MACHINE, OPEN, Earlier, Shop
from assistant.filling.talk import Talk, of_a_machine
from assistant.phrases.book import PhraseBook
from assistant.ports import Recogniser
from assistant.spoken import Heard, Intent, Understood
from assistant.textfile import read_file, read_toml, visible

PATIENCE = 30.0
"""Seconds in which something is typed by who is there; then the demo is shown."""
DEMO_JOB = "keyseat-inch"


@dataclass(frozen=True)
class Wish:
    """What is asked for on the command line."""

    new: bool
    """A new job; else it is asked what to begin."""
    fresh: bool = False
    """Without what was answered before."""
    like: str = ""
    """A job that the new one is like."""
    machine: bool = False
    """A machine of the operator's instead of a job."""


@dataclass(frozen=True)
class Begun:
    """What the questions came to: a job to be run, or the end with an exit status."""

    job: str = ""
    resumed: bool = False
    """Whether it is one that is open: its file need not be there any more."""
    anew: bool = False
    """Whether it is begun anew, also where it is open."""
    demo: bool = False
    then: Wish | None = None
    """What is asked for next instead."""
    free: str = ""
    """A machine for free moves."""
    status: int = 0


@dataclass(frozen=True)
class Listener:
    """How the answers are heard; without a microphone they are typed."""

    microphone: Microphone | None
    make_ear: Callable[[], Recogniser]
    way: Listening
    headset: bool


def ask(wish: Wish, book: PhraseBook, devices: Devices, listener: Listener) -> Begun:
    """Ask until a job can be begun, or nobody goes on.

    Raises `BadInput` for a job to be like that there isn't, `KeyboardInterrupt` as it comes.
    """
    machines, bad = machines_here()
    for line in bad:
        print(line)
    known = known_in(devices.journal)
    shop = shop_here(machines, known, choose=not wish.new, like=_like(wish.like))
    draft = Draft(of=OF_A_MACHINE if wish.machine else OF_A_JOB)
    file: JobFile | MachineFile = MachineFile() if wish.machine else JobFile()
    questions = load_question_book(configs_folder() / "questions.toml", book)
    talk = _first(wish, draft, shop, questions)
    for name, about in shop.begin.items():
        print(f"  {name:12} {about}")
    edge = Edge(devices.speaker, devices.screen, devices.clock)
    filling = FillingIn(questions, edge, talk, draft, file.keep)
    if listener.microphone is None or is_a_terminal():
        print(f"{HINT}\n")
    filling.begin()
    try:
        came_to_an_end = listen(filling, listener, patient=wish.new)
    finally:
        _left_off(filling, file)
    if not came_to_an_end and shop.begin and not filling.talk.order:
        return _nobody(listener)
    return _begun(filling.talk, shop, stem_of(known.open) if known.open else "",
                  stem_of(known.last) if known.last else "")  # fmt: skip


def listen(talker: Talker, listener: Listener, *, patient: bool) -> bool:
    """Listen for a conversation until it is over; True where it came to its end. Without a
    microphone lines are typed; where it isn't `patient`, nobody at the keyboard ends it."""
    if listener.microphone is None:
        return run_typed(
            talker, until_finished=True,
            patience=None if patient or not is_a_terminal() else PATIENCE,
        )  # fmt: skip
    from assistant.app.run_live import run_live

    return run_live(
        talker, listener.microphone, listener.make_ear, headset=listener.headset,
        listening=listener.way, typed=is_a_terminal(), until_finished=True,
    )  # fmt: skip


def _like(job: str) -> Earlier | None:
    if not job:
        return None
    path = find_job(job)
    table = read_toml(read_file(path), path)
    return Earlier(str(table.get("title", path.stem)), table)


def _first(wish: Wish, draft: Draft, shop: Shop, questions: PhraseBook) -> Talk:
    """Where the questions begin: at what was answered before, where there is something."""
    fresh = of_a_machine(shop) if wish.machine else Talk(shop)
    if wish.like:
        said = Understood(Intent("same"), Heard("same as last time"))
        talk = hear(questions, fresh, said)
        if not talk.work:
            want = f"not a job that can be changed by questions: {' '.join(talk.answer)}"
            raise BadInput("--like", wish.like, want)
        return talk
    if wish.fresh or not wish.new:
        return fresh
    try:
        return draft.load(shop) or fresh
    except BadFile as bad:
        print(f"What was answered before is left out: {bad}")
        return fresh


def _left_off(filling: FillingIn, file: JobFile | MachineFile) -> None:
    """What there is of it now, however it ended."""
    talk = filling.talk
    if talk.kept and file.path is not None:
        print(f"{file.path}:\n")
        print(talk.sheet.text)
    elif talk.work and talk.answers:
        many = talk.answers > 1
        count = f"{talk.answers} answers" if many else "1 answer"
        if filling.unkept:
            print(f"\n{count} could not be kept. So far it is:\n\n{talk.sheet.text}")
            return
        new = "wheelcall new machine" if talk.work == NEW_MACHINE else "wheelcall new"
        print(f"\n{count} {'are' if many else 'is'} kept: {new} goes on with "
              f"{'them' if many else 'it'} (--fresh begins anew).")  # fmt: skip


def _nobody(listener: Listener) -> Begun:
    """Nothing was said or typed where it was asked what to begin."""
    if listener.microphone is not None or not is_a_terminal():
        return Begun(status=EXIT_UNFINISHED)
    print(f"Nothing was typed for {PATIENCE:.0f} seconds: the recorded operator shows a job.\n")
    return Begun(DEMO_JOB, demo=True)


def _begun(talk: Talk, shop: Shop, still_open: str, last: str) -> Begun:
    match talk.end:
        case "run" if talk.work == NEW_MACHINE:
            return Begun(then=Wish(new=True))
        case "kept" if talk.work == NEW_MACHINE:
            print("A job on it: wheelcall new")
            return Begun()
        case word if word == NEW_MACHINE:
            return Begun(then=Wish(new=True, machine=True))
        case "run":
            return Begun(talk.kept, anew=True)
        case "kept":
            print(f"Run it: wheelcall run {visible(talk.kept)}")
            return Begun()
        case word if word == FREE:
            return Begun(free=talk.machine)
        case word if word in shop.begin and word != NEW:
            job = {OPEN: still_open, LAST: last, DEMO: DEMO_JOB}.get(word, word)
            return Begun(job, resumed=word == OPEN, anew=word == LAST, demo=word == DEMO)
    if not talk.order:
        print("Nothing was begun.")
    return Begun(status=0 if talk.kept else EXIT_UNFINISHED)
