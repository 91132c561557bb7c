"""Chooses the devices: the only place that knows which stands behind a port."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.app import ears
from assistant.app.asking import Asker
from assistant.app.assistant import Devices
from assistant.app.attention import check_attention
from assistant.app.listening import Listening, Mode
from assistant.app.own_voice import load_voice
from assistant.app.paths import model_folders, own_models
from assistant.app.settings import Settings
from assistant.app.shared_screen import SharedScreen
from assistant.app.steady import SteadyScreen
from assistant.devices.clock import SystemClock
from assistant.devices.journal import open_journal
from assistant.devices.opinion import WAIT_SECONDS, with_second_opinion
from assistant.devices.screen import (
    PngScreen,
    WindowProcess,
    display_answers,
    find_screen,
    find_window,
    viewing_here,
)
from assistant.devices.speaker import Mode as SpeakerMode
from assistant.devices.speaker import PrintedSpeaker, QueuedSpeaker, find_speaker
from assistant.devices.viewers import Viewers, Where
from assistant.errors import BadFile, BadInput, DeviceFailed, DeviceMissing
from assistant.phrases.book import PhraseBook, load_book
from assistant.ports import Recogniser, Screen, Speaker
from assistant.present.glance import READING

if TYPE_CHECKING:
    from assistant.devices.moonshine import Tuning
    from assistant.devices.vosk import ModelFolder


@dataclass(frozen=True)
class Found:
    """The devices, and one plain line for each that is missing or stands in for another."""

    devices: Devices
    notices: tuple[str, ...]
    card: bool
    """Whether sentences are really spoken."""


def find_devices(
    settings: Settings,
    out: Path,
    *,
    full: bool = False,
    show: Where | None = None,
    tell: Callable[[str], None] = print,
) -> Found:
    """Journal, speaker and screen; `out` takes sound and pictures where there is no card or
    display. `show` is where second screens are served.

    Raises `JournalError` where nothing can be kept, `DeviceMissing` where no second screen can be
    served.
    """
    viewers = _viewers(show, settings.leads, wait=True) if show is not None else None
    journal = open_journal(settings.journal)
    notices = list(journal.notices)
    speaker = speaker_of(settings, out / "spoken", tell=lambda _line: None)
    notices += speaker.notices
    view, _ = viewing_here(settings.distance, settings.screen_width)
    find = partial(find_screen, out / "screens", full=full, view=view, leads=settings.leads)
    screen, missing = find()
    if missing:
        notices.append(missing)
    steady: Screen = _steady(screen, find, out / "screens", settings.leads)
    if show is not None and viewers is not None:
        again = partial(_viewers, show, settings.leads, wait=False)
        steady = SharedScreen(steady, viewers, again, keys=not missing, tell=tell)
    devices = Devices(journal, speaker, steady, SystemClock())
    card = isinstance(speaker, QueuedSpeaker) and speaker.aloud
    return Found(devices, tuple(notices), card)


def speaker_of(
    settings: Settings,
    folder: Path = Path(),
    *,
    mode: SpeakerMode = "auto",
    tell: Callable[[str], None] = print,
) -> QueuedSpeaker | PrintedSpeaker:
    """The voice as it is set. `folder`, `mode` and `tell` are as for `find_speaker`, which says
    what it raises."""
    return find_speaker(
        folder, mode=mode, card=settings.speaker, voice=settings.voice,
        network=settings.voice_model, rate=settings.rate,
        volume=settings.volume, shape=settings.shaping, tell=tell,
    )  # fmt: skip


def _viewers(where: Where, leads: str, *, wait: bool) -> Viewers:
    from assistant.devices.screen.remote import RemoteView

    return Viewers(where, partial(RemoteView, leads), wait=wait)


def find_asker(settings: Settings, tell: Callable[[str], None]) -> Asker:
    """What asks for phrases: aloud where there is a speaker, large where there is a display. Tells
    what is missing; the phrases are printed in any case."""
    speaker: Speaker | None = None
    try:
        speaker = speaker_of(settings, mode="card")
    except DeviceMissing as missing:
        tell(f"No {missing.device}: {missing.why}. The phrases are only written.")
    view, _ = viewing_here(settings.distance, settings.screen_width)
    screen, why = find_window(view)
    if screen is None:
        tell(f"No window: {why}.")
    return Asker(tell, speaker, screen)


def _steady(
    first: Screen,
    find: Callable[..., tuple[Screen, str]],
    pictures: Path,
    leads: str = READING,
) -> SteadyScreen:
    """`first`, held up by pictures while it fails. A window is opened again in the background:
    the job doesn't wait for it."""
    opening: list[Screen] = []

    def again() -> Screen | None:
        if not opening:
            screen, missing = find(wait=False)
            if type(screen) is not type(first):
                screen.close()
                raise DeviceFailed("display", missing)
            opening.append(screen)
        screen = opening.pop()
        if isinstance(screen, WindowProcess) and not screen.is_open():
            opening.append(screen)
            return None
        return screen

    def stand_in() -> Screen | None:
        return None if isinstance(first, PngScreen) else PngScreen(pictures, leads=leads)

    # now there is one: what doesn't see it (from inside a container, say) can't tell later, either
    there = display_answers if display_answers() else lambda: True
    return SteadyScreen(first, again, stand_in, there=there)


def vosk_models(settings: Settings) -> list[ModelFolder]:
    """Vosk model folders, the one named in the settings first; `BadFile` where that is none."""
    from assistant.devices.vosk import find_models, read_model_folder

    found = find_models(*model_folders())
    if settings.model is None:
        return found
    named = read_model_folder(settings.model)
    others = [model for model in found if model.path.resolve() != named.path.resolve()]
    return [named, *others]


def choose_ear(settings: Settings) -> tuple[Callable[[], Recogniser], str]:
    """What makes the ear (importable, for its process), and a line that says which it is.

    Raises `DeviceMissing` where the ear that was asked for isn't there.
    """
    if settings.ear == "vosk":
        models = vosk_models(settings)
        if not models:
            raise DeviceMissing(
                "Vosk model",
                "none is there and none is named in the settings",
                f"unpack one in {own_models()}; or use the built-in ear",
            )
        return partial(ears.vosk, models[0].path), f"Ear: Vosk, model {models[0].path.name}."
    from assistant.devices.moonshine.assets import model_folder

    model_folder(settings.built_in_model)
    known = "" if own_tuning(settings) is None else " It knows your voice."
    return (
        _built_in(settings),
        f"Ear: built in (Moonshine tiny, held to the phrases of the step).{known}",
    )


def _built_in(settings: Settings) -> Callable[[], Recogniser]:
    return partial(ears.built_in, own_tuning(settings), settings.built_in_model)


@dataclass(frozen=True)
class FoundEar:
    """The ear that can be used: the one that is set, else the other."""

    settings: Settings
    """With that ear in them."""
    make: Callable[[], Recogniser]
    line: str
    """Which it is, and why not the other."""
    deaf: str = ""
    """Why there is none; then `make` raises `DeviceMissing`."""


def find_ear(settings: Settings) -> FoundEar:
    """The ear that is set, or the other where that one can't be used."""
    try:
        return FoundEar(settings, *choose_ear(settings))
    except DeviceMissing as missing:
        gone = f"No {missing.device}: {missing.why}."
    other = _other_ear(settings)
    try:
        make, line = choose_ear(other)
        return FoundEar(other, make, f"{gone} The other ear listens instead.\n{line}")
    except DeviceMissing as missing:
        both = f"{gone} No {missing.device}: {missing.why}."
        return FoundEar(settings, _built_in(settings), f"{both} Commands are typed.", both)


def _other_ear(settings: Settings) -> Settings:
    return replace(settings, ear="moonshine" if settings.ear == "vosk" else "vosk")


def stand_in_ear(settings: Settings, way: Listening) -> Callable[[], Recogniser] | None:
    """What makes the ear that takes over where the one in use can't be started: a native library
    may die on a machine that nobody tried. None where there is no other."""
    other = _other_ear(settings)
    try:
        listening_of(replace(other, listening=way.mode, attention=way.attention), load_book())
        return choose_ear(other)[0]
    except (BadInput, DeviceMissing):  # it isn't there, or doesn't know the word to call it by
        return None


def own_tuning(settings: Settings) -> Tuning | None:
    """What `wheelcall learn` learned; None where that is nothing, or not wanted."""
    try:
        voice = load_voice() if settings.own_voice else None
    except BadFile:  # `ear_notices` tells
        voice = None
    if voice is None:
        return None
    from assistant.devices.moonshine import Tuning

    return Tuning(voice.sounds, voice.lean)


def every_ear(settings: Settings) -> list[tuple[str, str, Callable[[], Recogniser]]]:
    """Name, model folder and maker of every ear that may be chosen."""
    paths = [model.path for model in vosk_models(settings)]
    return [
        ("moonshine", "", _built_in(settings)),
        *(("vosk", str(path), partial(ears.vosk, path)) for path in paths),
    ]


def with_second(
    settings: Settings,
    make: Callable[[], Recogniser],
    attention: str = "",
    wait: float = WAIT_SECONDS,
) -> tuple[Callable[[], Recogniser], str]:
    """`make`, with the other ear to check its numbers where the settings want it and there is one;
    and a line that says so, or why not. `attention` is the word that comes before each command;
    `wait` for how many seconds an opinion is waited for."""
    if not settings.second_opinion:
        return make, "Numbers are checked by one ear alone (second_opinion = false)."
    if settings.ear == "vosk":
        try:
            second, _ = choose_ear(_other_ear(settings))
        except DeviceMissing:  # told of where the ears are chosen
            return make, "Numbers are checked by one ear alone: the built-in one can't be used."
        return (
            partial(with_second_opinion, make, second, better=True, wait=wait),
            "Numbers are checked by the built-in ear.",
        )
    models = vosk_models(settings)
    if not models:
        return make, "Numbers are checked by one ear alone: there is no Vosk model."
    model = models[0]
    return (
        partial(
            with_second_opinion,
            make,
            partial(ears.vosk, model.path),
            strange=_strange(model, attention),
            wait=wait,
        ),
        f"Numbers are checked by a second ear: Vosk, model {model.name}.",
    )


def _strange(model: ModelFolder, attention: str) -> tuple[str, str] | None:
    """The attention word and what stands for it, where a model doesn't know it."""
    from assistant.devices.vosk.graph import UNKNOWN

    known = _words_of(model)
    if not attention or not known or known.issuperset(attention.split()):
        return None
    return (attention, UNKNOWN) if UNKNOWN in known else None


def _words_of(model: ModelFolder) -> frozenset[str]:
    """The words that a model knows; empty where its folder doesn't tell."""
    from assistant.devices.vosk.graph import model_words

    try:
        return frozenset(model_words(model.path))
    except OSError:
        return frozenset()


def ear_notices(settings: Settings) -> tuple[str, ...]:
    """What the operator must be told of the models: those that are none, and how the one in use
    is held to the phrases."""
    from assistant.devices.vosk import unusable_models

    lines = [f"Not usable: {line}" for line in unusable_models(*model_folders())]
    if settings.built_in_model is not None:
        from assistant.devices.moonshine.assets import other_files

        lines += [f"built_in_model: {line}." for line in other_files(settings.built_in_model)]
    models = vosk_models(settings)
    if settings.ear == "vosk" and models and models[0].notice:
        lines.append(models[0].notice)
    try:
        load_voice()
    except BadFile as bad:
        lines.append(f"What was learned of your voice can't be used: {bad}")
    return tuple(lines)


def listening_of(settings: Settings, book: PhraseBook) -> Listening:
    """The way to listen. Raises `BadInput` for an attention word that would be mistaken, or that
    the ear doesn't know."""
    word = settings.attention
    if settings.listening is Mode.CALLED:
        word = check_attention(word, book)
        models = vosk_models(settings) if settings.ear == "vosk" else []
        known = _words_of(models[0]) if models else frozenset()
        if known and not known.issuperset(word.split()):
            want = f"the model {models[0].name} doesn't know it; the built-in ear hears any word"
            raise BadInput("attention word", word, want)
    return Listening(settings.listening, word, settings.pedal)
