"""What can go wrong while recording, beyond a bad phrase list (`assistant.errors.BadFile`)."""

from __future__ import annotations


class VoiceMissing(Exception):
    """A synthesiser, or the data of its voice, that is not installed."""

    def __init__(self, voice: str, needs: str) -> None:
        self.voice = voice
        self.needs = needs
        super().__init__(f"voice {voice} can't speak: {needs}")
