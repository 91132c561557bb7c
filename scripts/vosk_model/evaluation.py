"""What the model hears of people and voices that no training knows.

The recordings of the split `test` and the voices of `voices.TEST` are looked at for the report
alone; `tuning.py` has its own.
"""

from __future__ import annotations

import json
import random
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from earbench.score import right as same_meaning
from earbench.score import wilson

from assistant.devices.vosk.graph import COSTS, UNKNOWN, Costs, grammar_folder
from assistant.phrases.book import FREE_NUMBER, PhraseBook, load_book
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.words import ONES, TEENS, TENS, ZEROS
from assistant.spoken import WordAutomaton
from vosk_model import sentences
from vosk_model.corpus import read_recordings
from vosk_model.synthesis import Clip, read_shards, synthesise
from vosk_model.voices import RATE, TEST, TUNE

STEPS: dict[str, tuple[str, ...]] = {
    "touch": ("touched", "paper", "bare", "dial_reads"),
    "move": ("ready_set", "dial_reads", "went_past", "lost_count", "cut_this_pass"),
    "cut": ("through", "chatter", "speed_is", "feed_is", "new_cutter"),
    "measure": ("measured", "over_under", "skip"),
}
"""Commands of four usual steps, the asked-for one first; the common ones are added to each."""
COMMON = (
    "say_again", "stop", "help", "what_now", "where", "how_much_left", "how_deep", "how_many_turns",
    "which_way", "dial_should", "what_speed", "what_feed", "what_size", "why", "undo", "inch",
    "metric", "louder", "softer", "slower", "faster", "stop_listening", "yes", "no", "quick_sum",
)  # fmt: skip
NUMBER_WORDS = {*ONES, *TEENS, *TENS, *ZEROS, "hundred", "thousand", "and", "point"}
EACH = 200
"""Test sentences of each voice."""


@dataclass
class Score:
    """Right, wrong and unheard sentences of one test."""

    right: int = 0
    wrong: int = 0
    """Other words than were said came back."""
    meant: int = 0
    """Of the wrong ones, those of the same meaning: "oh" for "zero", "say again" for "say it
    again"."""
    unheard: int = 0
    """Nothing, or `[unk]`, came back."""
    sound: float = 0.0
    time: float = 0.0

    def add(self, said: Sequence[str], heard: str, sound: float, took: float) -> None:
        self.sound, self.time = self.sound + sound, self.time + took
        if heard.split() == list(said):
            self.right += 1
        elif not heard or UNKNOWN in heard.split():
            self.unheard += 1
        else:
            self.wrong += 1
            self.meant += same_meaning(heard, " ".join(said))

    def plus(self, other: Score) -> Score:
        """Both together."""
        return Score(
            self.right + other.right, self.wrong + other.wrong, self.meant + other.meant,
            self.unheard + other.unheard, self.sound + other.sound, self.time + other.time,
        )  # fmt: skip

    @property
    def count(self) -> int:
        return self.right + self.wrong + self.unheard

    def __str__(self) -> str:
        share = self.right / max(1, self.count)
        low, high = wilson(self.right, self.count)
        speed = self.time / max(1e-9, self.sound)
        return (
            f"{self.right}/{self.count} = {share:.3f} right ({low:.3f}-{high:.3f}), {self.wrong} "
            f"wrong ({self.meant} of the same meaning), {self.unheard} unheard, "
            f"real-time factor {speed:.4f}"
        )


class Ear:
    """Vosk with the model held to one grammar."""

    def __init__(self, folder: Path) -> None:
        import vosk

        vosk.SetLogLevel(-1)
        self._vosk = vosk
        self._model = vosk.Model(str(folder))

    def hear(self, samples: np.ndarray) -> tuple[str, float]:  # type: ignore[type-arg]
        """Words and their lowest confidence."""
        recogniser = self._vosk.KaldiRecognizer(self._model, RATE)
        recogniser.SetWords(True)
        results = []
        data = samples.astype("<i2").tobytes()
        for at in range(0, len(data), 8000):
            if recogniser.AcceptWaveform(data[at : at + 8000]):
                results.append(json.loads(recogniser.Result()))
        results.append(json.loads(recogniser.FinalResult()))
        words = " ".join(result["text"] for result in results if result.get("text"))
        sure = [word["conf"] for result in results for word in result.get("result", ())]
        return words, min(sure, default=1.0)


def number_loop() -> WordAutomaton:
    """Any string of up to 14 number words, as in AN4: wider than any grammar of the program."""
    words = sorted(NUMBER_WORDS)
    length = 14
    arcs = tuple(
        dict.fromkeys(words, state + 1) if state < length else {} for state in range(length + 1)
    )
    return WordAutomaton("number-loop-14", arcs, frozenset(range(1, length + 1)))


def steps(book: PhraseBook) -> dict[str, WordAutomaton]:
    """Grammars of four usual steps."""
    known = {expected.intent: expected for expected in book.expected()}
    return {
        step: compile_grammar(
            book, [known[name] for name in dict.fromkeys((*names, *COMMON)) if name in known]
        )
        for step, names in STEPS.items()
    }


def test_sentences(book: PhraseBook, seed: int) -> list[tuple[str, tuple[str, ...]]]:
    """(step, sentence): half fixed commands, half sizes that are kept back from training."""
    rng = random.Random(seed)
    found: list[tuple[str, tuple[str, ...]]] = []
    for step, grammar in steps(book).items():
        fixed = [s for s in sentences.wordings(book) if grammar.accepts(s)]
        sizes: list[tuple[str, ...]] = []
        while len(sizes) < EACH // 8:
            sentence = sentences.walk(grammar, rng)
            if sentence and sentences.kept_back(sentence) and len(sentence) <= 7:
                sizes.append(sentence)
        found += [(step, s) for s in (*rng.sample(fixed, min(len(fixed), EACH // 8)), *sizes)]
    return found


def synthetic(work: Path, kinds: Iterable[str]) -> dict[str, list[tuple[str, Clip]]]:
    """(step, clip) of each voice kept for tests, made where they are missing.

    What is said stays the same when the phrase book grows, so that figures can be compared; a
    sentence that its step no longer takes is left out.
    """
    book = load_book()
    listed = work / "tests" / "sentences.json"
    if not listed.exists():
        listed.parent.mkdir(parents=True, exist_ok=True)
        listed.write_text(json.dumps(test_sentences(book, 7)))
    said = [(step, tuple(words)) for step, words in json.loads(listed.read_text())]
    grammars = steps(book)
    found = {}
    for kind in kinds:
        synthesise(work / "tests", kind, [words for _, words in said], 7, 1)
        clips = list(read_shards(work / "tests", [kind]))
        if [clip.words for clip in clips] != [words for _, words in said]:
            raise ValueError(f"{listed} says other sentences than the clips of {kind}")
        found[kind] = [
            (step, clip)
            for (step, words), clip in zip(said, clips, strict=True)
            if grammars[step].accepts(words)
        ]
    return found


def at_ratio(samples: np.ndarray, decibels: float | None, seed: int) -> np.ndarray:  # type: ignore[type-arg]
    """Samples with pauses around them, in machine-like noise: pink, with harmonics of 29 Hz.

    The ratio is of mean powers over the whole clip.
    """
    rng = np.random.default_rng(seed)
    x = np.concatenate([np.zeros(6400), samples / 32768, np.zeros(9600)])
    if decibels is not None:
        spectrum = np.fft.rfft(rng.standard_normal(x.size))
        hertz = np.maximum(np.fft.rfftfreq(x.size, 1 / RATE), 20)
        pink = np.fft.irfft(spectrum / np.sqrt(hertz), x.size)
        t = np.arange(x.size) / RATE
        hum = sum(np.sin(2 * np.pi * 29 * k * t + rng.uniform(0, 6)) / k for k in range(1, 30))
        noise = pink / pink.std() + 0.7 * hum / np.std(hum)
        x = x + noise * np.sqrt(np.mean(x**2) / np.mean(noise**2) / 10 ** (decibels / 10))
    return np.clip(np.round(x * 32767), -32768, 32767).astype(np.int16)


Change = Callable[[np.ndarray], np.ndarray]  # type: ignore[type-arg]


def listen(
    ear: Ear, clips: Iterable[Clip], change: Change, failures: list[str] | None = None
) -> Score:
    """Let `ear` hear every clip after `change`."""
    score = Score()
    for clip in clips:
        sound = change(clip.samples)
        begun = time.process_time()
        heard, _ = ear.hear(sound)
        score.add(clip.words, heard, sound.size / RATE, time.process_time() - begun)
        if failures is not None and heard.split() != list(clip.words):
            failures.append(f"{' '.join(clip.words)} -> {heard or '-'}")
    return score


def voices_scores(
    model: Path, work: Path, kinds: Iterable[str], ratios: Sequence[float | None],
    costs: Costs = COSTS, failures: list[str] | None = None,
) -> dict[tuple[str, float | None], Score]:  # fmt: skip
    """Scores of synthetic voices, each sentence under the grammar of its step."""
    grammars = steps(load_book())
    ears = {
        step: Ear(grammar_folder(model, grammar, work / "graphs", costs))
        for step, grammar in grammars.items()
    }
    found: dict[tuple[str, float | None], Score] = {}
    for kind, clips in synthetic(work, kinds).items():
        for ratio in ratios:
            total = Score()
            for number, (step, clip) in enumerate(clips):
                sound = at_ratio(clip.samples, ratio, number)
                begun = time.process_time()
                heard, _ = ears[step].hear(sound)
                total.add(clip.words, heard, sound.size / RATE, time.process_time() - begun)
                if failures is not None and heard.split() != list(clip.words):
                    failures.append(f"{kind} {ratio}: {' '.join(clip.words)} -> {heard or '-'}")
            found[kind, ratio] = total
    return found


def people_scores(
    model: Path, recordings: Path, work: Path, costs: Costs = COSTS,
    failures: list[str] | None = None,
) -> dict[str, Score]:  # fmt: skip
    """Scores of people: AN4's numbers as any string of number words, FSDD's single digits."""
    loop = Ear(grammar_folder(model, number_loop(), work / "graphs", costs))
    book = load_book()
    free = compile_grammar(book, FREE_NUMBER)
    held = Ear(grammar_folder(model, free, work / "graphs", costs))
    said = [
        clip
        for clip in read_recordings(recordings, "test", "AN4")
        if set(clip.words) <= NUMBER_WORDS
    ]
    digits = read_recordings(recordings, "test", "Free Spoken Digit")
    ten = WordAutomaton("digits", (dict.fromkeys((*ONES, "zero"), 1), {}), frozenset((1,)))
    digit = Ear(grammar_folder(model, ten, work / "graphs", costs))
    return {
        "AN4 test, numbers, any number words": listen(loop, said, lambda x: x, failures),
        "AN4 test, numbers, the grammar of free numbers": listen(held, said, lambda x: x),
        "AN4 test, numbers, 10 dB": listen(loop, said, lambda x: at_ratio(x, 10, 1)),
        "FSDD test, single digits": listen(digit, digits, lambda x: at_ratio(x, None, 1)),
    }


def outside_scores(model: Path, work: Path, kinds: Iterable[str]) -> dict[str, tuple[int, ...]]:
    """Sentences of other steps: (how many, how many were taken, taken with confidence over .9).

    Every one of them should come back as `[unk]` or nothing.
    """
    grammars = steps(load_book())
    names = list(grammars)
    ears = {step: Ear(grammar_folder(model, grammars[step], work / "graphs")) for step in names}
    found = {}
    for kind, clips in synthetic(work, kinds).items():
        count = taken = surely = 0
        for step, clip in clips:
            other = names[(names.index(step) + 1) % len(names)]
            if grammars[other].accepts(clip.words):
                continue
            heard, sure = ears[other].hear(at_ratio(clip.samples, None, 1))
            count += 1
            if heard and UNKNOWN not in heard.split():
                taken += 1
                surely += sure > 0.9
        found[kind] = (count, taken, surely)
    return found


def noise_words(model: Path, work: Path) -> list[str]:
    """What is heard in 30 s of noise without speech, at four levels, in a measuring step."""
    ear = Ear(grammar_folder(model, steps(load_book())["measure"], work / "graphs"))
    rng = np.random.default_rng(5)
    heard = []
    for level in (0, 100, 1000, 5000):
        spectrum = np.fft.rfft(rng.standard_normal(30 * RATE))
        hertz = np.maximum(np.fft.rfftfreq(30 * RATE, 1 / RATE), 20)
        noise = np.fft.irfft(spectrum / np.sqrt(hertz))
        words, _ = ear.hear(np.round(noise / noise.std() * level).clip(-32768, 32767))
        heard.append(words)
    return heard


def report(model: Path, recordings: Path, work: Path) -> None:
    """Print the figures of the model card."""
    failures: list[str] = []
    for name, score in people_scores(model, recordings, work, failures=failures).items():
        print(f"{name}: {score}", flush=True)
    for (kind, ratio), score in voices_scores(
        model, work, (*TEST, *TUNE), (None, 10), failures=failures
    ).items():
        print(f"{kind}, {'clean' if ratio is None else f'{ratio} dB'}: {score}", flush=True)
    for kind, counts in outside_scores(model, work, TEST).items():
        print(f"{kind}, outside the step: {counts[1]} of {counts[0]} taken, {counts[2]} surely")
    print("noise alone:", noise_words(model, work))
    (work / "failures.txt").write_text("\n".join(failures) + "\n")
