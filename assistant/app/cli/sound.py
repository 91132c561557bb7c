"""What is heard and by whom, for every command that listens: microphone, ears, what is missing."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from assistant.app.assistant import Devices
from assistant.app.listening import Listening, Mode
from assistant.app.settings import Settings
from assistant.app.wiring import choose_ear, ear_notices, with_second
from assistant.devices.microphone import Microphone, find_microphone
from assistant.devices.screen import display_missing
from assistant.errors import DeviceMissing
from assistant.log import get_log
from assistant.ports import Recogniser

NEVER = "It never moves a machine, and can't see one. The machine's manual and the shop's rules "
NEVER += "come first."
NO_PEDAL = "No window: the pedal can't be seen, so only stop and typed lines are heard."
LISTENS = {
    Mode.OPEN: "It listens all the time.",
    Mode.CALLED: 'It listens after "{word}"; "stop" is heard without it.',
    Mode.PEDAL: 'It listens while {key} is held, or to one sentence after a tap; "stop" is heard '
    "without it.",
}


def find_sound(
    settings: Settings, way: Listening, *, typed: bool
) -> tuple[Microphone | None, list[str]]:
    """The microphone, None where there is none or lines are typed; and what is missing."""
    microphone, missing = (None, "") if typed else microphone_of(settings.microphone)
    notices = [*ear_notices(settings)]
    if microphone is not None and way.mode is Mode.PEDAL and display_missing():
        notices.append(NO_PEDAL)
    if missing:
        notices.append(f"No microphone: {missing}; commands are typed.")
    return microphone, notices


def find_ears(settings: Settings) -> Callable[[], Recogniser]:
    """The ears of what is no job: both are said."""
    make_ear, line = choose_ear(settings)
    print(line)
    make_ear, second = with_second(settings, make_ear)
    print(second)
    return question_ear(settings, make_ear)


def printed(notices: Iterable[str]) -> None:
    """What is missing or stands in, on the terminal and in the log."""
    for notice in notices:
        print(notice)
    print()
    get_log("devices").info("%s", " ".join(notices))


def question_ear(
    settings: Settings, make_ear: Callable[[], Recogniser]
) -> Callable[[], Recogniser]:
    """The ear of the questions that begin a job: a model of the words of the work, as the shop's
    own is, lacks theirs."""
    if settings.ear != "vosk":
        return make_ear
    print("The questions are heard by the built-in ear, which knows any word.")
    built_in = replace(settings, ear="moonshine")
    return with_second(built_in, choose_ear(built_in)[0])[0]


def microphone_of(name: str | None) -> tuple[Microphone | None, str]:
    try:
        return find_microphone(name), ""
    except DeviceMissing as missing:
        return None, missing.why


def hear_out(devices: Devices) -> None:
    """Let the voice come to its end, for 30 seconds at most; the screen goes on meanwhile."""
    until = devices.clock.monotonic() + 30
    while not devices.speaker.wait(0.1) and devices.clock.monotonic() < until:
        devices.screen.keys()
