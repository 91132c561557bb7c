"""Settings of the shop: which devices, which voice, how far the operator stands from the screen."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path

from assistant.app.first_words import When
from assistant.app.listening import PEDAL_WANT, PEDALS, Mode
from assistant.app.paths import configs_folder, user_configs
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.ports import FASTEST, MOST_SHAPED, SLOWEST, USUAL_RATE
from assistant.present.glance import LEADS, READING
from assistant.textfile import read_file, read_toml
from assistant.units import Quantity, quantity


@dataclass(frozen=True)
class Settings:
    """What `settings.toml` may say; each has a default."""

    ear: str = "auto"
    """`auto`, `moonshine` or `vosk`."""
    model: Path | None = None
    """A Vosk model folder; else the best held that is found."""
    built_in_model: Path | None = None
    """A folder with the built-in ear's files, in place of those of their package."""
    microphone: str | None = None
    speaker: str | None = None
    voice: str | None = None
    """`clear` (or None), `system`, or the name of one of the system's voices."""
    voice_model: Path | None = None
    """A file with the clear voice's network, in place of its package's."""
    rate: int = USUAL_RATE
    volume: float = 1.0
    shaping: float = 1.0
    """How much the clear voice is shaped for noise, 0 to 1.5."""
    say_digits: bool = False
    """Say numbers figure by figure."""
    repeat_numbers: bool = False
    """Say each value again, figure by figure."""
    say_words: When = When.FIRST
    """When the word that a step wants is said aloud."""
    distance: Quantity = field(default_factory=lambda: quantity(3, "m"))
    """From the operator's eyes to the screen."""
    screen_width: Quantity | None = None
    """Of the lit area, where the display doesn't tell."""
    leads: str = READING
    """What of a move is the large number: the reading to stop at, or the travel."""
    headset: bool = False
    """The microphone doesn't hear the speaker: listen while speaking."""
    second_opinion: bool = True
    """Have numbers checked by another ear, where there is one."""
    own_voice: bool = True
    """Use what `wheelcall learn` learned of the operator's voice."""
    listening: Mode = Mode.OPEN
    attention: str = ""
    """For `called`: the word that comes first."""
    pedal: str = "f9"
    """For `pedal`: the key that is held, or tapped for one sentence."""
    journal: Path | None = None


def settings_path() -> Path:
    """The operator's own settings file, else the project's."""
    own = user_configs() / "settings.toml"
    return own if own.is_file() else configs_folder() / "settings.toml"


def load_settings(path: Path | None = None) -> Settings:
    """Settings from `path`, the operator's file or the project's; defaults where there is none.

    Raises `BadFile` that names file, key and value.
    """
    chosen = path or settings_path()
    if path is None and not chosen.is_file():
        return Settings()
    fields = Fields(str(chosen), read_toml(read_file(chosen), chosen))
    usual = Settings()
    settings = Settings(
        ear=fields.choice("ear", ("auto", "moonshine", "vosk"), usual.ear),
        model=_path(fields, "model", "wanted a folder"),
        built_in_model=_path(fields, "built_in_model", "wanted a folder"),
        microphone=fields.text("microphone", "wanted the name of a card", "") or None,
        speaker=fields.text("speaker", "wanted the name of a card", "") or None,
        voice=fields.text("voice", "wanted the name of a voice", "") or None,
        voice_model=_path(fields, "voice_model", "wanted a file"),
        rate=fields.whole("rate", SLOWEST, FASTEST, usual.rate),
        volume=fields.whole("volume", 5, 100, 100) / 100,
        shaping=fields.whole("shaping", 0, int(100 * MOST_SHAPED), 100) / 100,
        say_digits=fields.flag("say_digits", usual.say_digits),
        repeat_numbers=fields.flag("repeat_numbers", usual.repeat_numbers),
        say_words=When(fields.choice("say_words", tuple(When), usual.say_words)),
        distance=fields.length("distance", "m", usual.distance),
        screen_width=(
            fields.length("screen_width", "mm") if "screen_width" in fields.table else None
        ),
        leads=fields.choice("leads", LEADS, usual.leads),
        headset=fields.flag("headset", usual.headset),
        second_opinion=fields.flag("second_opinion", usual.second_opinion),
        own_voice=fields.flag("own_voice", usual.own_voice),
        listening=Mode(fields.choice("listening", tuple(Mode), usual.listening)),
        attention=fields.text("attention", "wanted a word", ""),
        pedal=fields.text("pedal", PEDAL_WANT, usual.pedal),
        journal=_path(fields, "journal", "wanted a file"),
    )
    if settings.pedal not in PEDALS:
        fields.refuse("pedal", settings.pedal, PEDAL_WANT)
    if settings.listening is Mode.CALLED and not settings.attention:
        fields.fail("attention", "empty", "wanted a word, since listening is called")
    fields.done()
    return settings


def _path(fields: Fields, key: str, want: str) -> Path | None:
    named = fields.text(key, want, "")
    return Path(named).expanduser() if named else None


def with_options(
    settings: Settings,
    *,
    ear: str = "auto",
    journal: Path | None = None,
    listening: str = "",
    attention: str = "",
    pedal: str = "",
) -> Settings:
    """Settings with what was given on the command line. Raises `BadInput` for what can't be."""
    mode = listening or (Mode.CALLED if attention else Mode.PEDAL if pedal else settings.listening)
    if mode not in tuple(Mode):
        raise BadInput("--listening", mode, f"wanted {', '.join(Mode)}")
    if pedal and pedal not in PEDALS:
        raise BadInput("--pedal", pedal, PEDAL_WANT)
    found = replace(
        settings,
        ear=settings.ear if ear == "auto" else ear,
        journal=journal or settings.journal,
        listening=Mode(mode),
        attention=attention or settings.attention,
        pedal=pedal or settings.pedal,
    )
    if found.listening is Mode.CALLED and not found.attention:
        raise BadInput("--attention", "none", "wanted a word to call it by")
    return found
