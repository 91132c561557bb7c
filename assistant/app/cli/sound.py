"""What is heard and by whom, for every command that listens: microphone, ears, what is missing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from assistant.app.assistant import Devices, Troubled
from assistant.app.cli.questions import Listener
from assistant.app.listening import Listening, Mode
from assistant.app.settings import Settings
from assistant.app.wiring import choose_ear, ear_notices, find_ear, with_second
from assistant.devices.microphone import Microphone, find_microphone
from assistant.devices.screen import display_missing
from assistant.errors import DeviceMissing
from assistant.log import get_log
from assistant.ports import Recogniser

NEVER = "It never moves a machine, and can't see one. The machine's manual and the shop's rules "
NEVER += "come first."
LISTENS = {
    Mode.OPEN: "It listens all the time.",
    Mode.CALLED: 'It listens after "{word}"; "stop" is heard without it.',
    Mode.PEDAL: 'It listens while {key} is held, or to one sentence after a tap; "stop" is heard '
    "without it.",
}

NO_PEDAL = "No window: the pedal can't be seen, so only stop and typed lines are heard."


def find_listener(
    settings: Settings, way: Listening, *, typed: bool, notices: tuple[str, ...] = ()
) -> Listener:
    """How what is no job is heard; says who hears, and what is missing, with `notices` first."""
    ear = find_ear(settings)
    print(ear.line)
    typed = typed or bool(ear.deaf)
    microphone, missing = (None, "") if typed else microphone_of(settings.microphone)
    lines = [*notices, *ear_notices(ear.settings)]
    if microphone is not None and way.mode is Mode.PEDAL and display_missing():
        lines.append(NO_PEDAL)
    if missing:
        lines.append(f"No microphone: {missing}; commands are typed.")
    make_ear = ear.make
    if microphone is not None:
        make_ear, second = with_second(ear.settings, make_ear)
        print(second)
    for line in lines:
        print(line)
    print()
    get_log("devices").info("%s %s", ear.line, " ".join(lines))
    if microphone is not None:
        print(LISTENS[way.mode].format(word=way.attention, key=way.pedal) + "\n")
    return listener_of(ear.settings, make_ear, microphone, way)


def listener_of(
    settings: Settings,
    make_ear: Callable[[], Recogniser],
    microphone: Microphone | None,
    way: Listening,
) -> Listener:
    """How the questions that begin a job are heard: a model of the words of the work, as the shop's
    own is, lacks theirs."""
    if settings.ear == "vosk":
        built_in = replace(settings, ear="moonshine")
        try:
            make_ear = with_second(built_in, choose_ear(built_in)[0])[0]
        except DeviceMissing:
            print("The questions are typed: the built-in ear alone knows their words.")
            microphone = None
        else:
            print("The questions are heard by the built-in ear, which knows any word.")
    return Listener(microphone, make_ear, way, settings.headset)


def microphone_of(name: str | None) -> tuple[Microphone | None, str]:
    """The microphone of that name, or the one there is; else why there is none."""
    try:
        return find_microphone(name), ""
    except DeviceMissing as missing:
        return None, missing.why


def hear_out(devices: Devices) -> None:
    """Let the voice come to its end, for 30 seconds at most; the screen goes on meanwhile."""
    until = devices.clock.monotonic() + 30
    while not devices.speaker.wait(0.1) and devices.clock.monotonic() < until:
        if isinstance(devices.speaker, Troubled) and devices.speaker.trouble:
            return  # a voice that is lost comes to no end
        devices.screen.keys()
