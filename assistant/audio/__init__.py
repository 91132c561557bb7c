"""Sound before it is words: levels, voice activity, where an utterance begins and ends."""
