"""The voice: sentences to sound (engines in child processes) and sound to a card or to files."""

from assistant.devices.speaker.card import CardPlayer
from assistant.devices.speaker.find import CLEAR, SYSTEM, Mode, find_speaker, voice_of
from assistant.devices.speaker.players import FolderPlayer, Player
from assistant.devices.speaker.queued import QueuedSpeaker, Report
from assistant.devices.speaker.silent import PrintedSpeaker, SilentSpeaker
from assistant.devices.speaker.steady_voice import SteadyVoice
from assistant.devices.speaker.voice import Engine, Sound, TextRefused, Voice

__all__ = [
    "CLEAR",
    "SYSTEM",
    "CardPlayer",
    "Engine",
    "FolderPlayer",
    "Mode",
    "Player",
    "PrintedSpeaker",
    "QueuedSpeaker",
    "Report",
    "SilentSpeaker",
    "Sound",
    "SteadyVoice",
    "TextRefused",
    "Voice",
    "find_speaker",
    "voice_of",
]
