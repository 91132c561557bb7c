"""The words that the step at hand wants to hear, for the foot of the page: `I'm set`."""

from assistant.session.wanted import WORDS, wanted_words

__all__ = ["WORDS", "wanted_words"]
