"""The voice: sentences to sound (pyttsx3 in a child process) and sound to a card or to files."""

from assistant.devices.speaker.card import CardPlayer
from assistant.devices.speaker.find import Mode, find_speaker
from assistant.devices.speaker.players import FolderPlayer, Player
from assistant.devices.speaker.queued import QueuedSpeaker, Report
from assistant.devices.speaker.silent import PrintedSpeaker, SilentSpeaker
from assistant.devices.speaker.voice import Sound, Voice

__all__ = [
    "CardPlayer",
    "FolderPlayer",
    "Mode",
    "Player",
    "PrintedSpeaker",
    "QueuedSpeaker",
    "Report",
    "SilentSpeaker",
    "Sound",
    "Voice",
    "find_speaker",
]
