"""What the ways to listen are worth where people talk: `python -m earbench.modes [--most N]`.

Everyday talk (synthetic voices that nothing was tuned on) is heard open and called: counted is
what would be acted upon, what would be asked back, and how often the attention word was heard
where nobody said it. Then the phrases of the book are called in one breath, by voices of flite:
counted is how many are right. Needs flite.
"""

from __future__ import annotations

import argparse
import random
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

from assistant.app.listening import Listening, Mode
from assistant.app.prompts import PLAIN
from assistant.app.turn import NO_COMMAND
from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.wav import SoundFile
from assistant.phrases.words import normal
from assistant.ports import Samples
from earbench import corpora
from earbench.score import right, wilson
from earbench.second import step_grammar

VOICES = ("rms", "awb", "slt", "kal16")
WORDS = ("clipboard", "teapot", "lantern", "coffee cup")


def talk(ear: MoonshineEar, most: int) -> None:
    """Everyday talk, open and called."""
    said = corpora.drawn(corpora.synthetic("talk", False), most)
    grammar = step_grammar()
    for name, listening in (
        ("open", Listening()),
        *((f"called by {word}", Listening(Mode.CALLED, word)) for word in WORDS[:2]),
    ):
        held = listening.held(grammar, 0)
        taken = asked = woken = 0
        for each in said:
            heard = hear(ear, each.sound(), held)
            bare = listening.take(heard, 0)
            if not heard.words or heard.confidence < NO_COMMAND:
                continue
            if bare is None:
                woken += 1
            elif heard.confidence >= PLAIN:
                taken += 1
            else:
                asked += 1
        low, high = wilson(taken, len(said))
        print(f"talk, {name}: of {len(said)} sentences {taken} taken ({low:.3f}-{high:.3f}), "
              f"{asked} asked back, {woken} woke it", flush=True)  # fmt: skip


def calls(ear: MoonshineEar, most: int) -> None:
    """Phrases of the book after each word, in one breath."""
    grammar = step_grammar()
    book = corpora.book()
    examples = [
        normal(example)
        for name, phrases in book.intents.items()
        if not name.startswith("sum_") and name not in ("number", "note")
        for example in phrases.examples
    ]
    phrases = [text for text in dict.fromkeys(examples) if grammar.accepts(text.split())]
    rng = random.Random(7)
    for word in WORDS:
        held = Listening(Mode.CALLED, word).held(grammar, 0)
        good = sure = of = 0
        for phrase in rng.sample(phrases, most // 4):
            heard = hear(ear, spoken(f"{word}, {phrase}", rng.choice(VOICES)), held)
            of += 1
            is_right = heard.words.startswith(f"{word} ") and right(
                heard.words.removeprefix(f"{word} "), phrase
            )
            good += is_right
            sure += is_right and heard.confidence >= PLAIN
        print(f"called by {word}: {good} of {of} right, {sure} taken at once", flush=True)


def spoken(text: str, voice: str) -> Samples:
    """`text` as flite says it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "said.wav"
        subprocess.run(["flite", "-voice", voice, "-t", text, "-o", str(path)], check=True)
        return np.pad(np.concatenate(list(SoundFile(path).chunks())), 8000)


def main() -> None:
    parser = argparse.ArgumentParser(description="What the ways to listen are worth.")
    parser.add_argument("--most", type=int, default=120, help="sentences a row")
    options = parser.parse_args()
    if shutil.which("flite") is None:
        sys.exit("flite is not installed (Debian: flite)")
    ear = MoonshineEar(threads=1)
    talk(ear, options.most)
    calls(ear, options.most)


if __name__ == "__main__":
    main()
