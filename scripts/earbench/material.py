"""Makes what the bench listens to: synthetic speech, under data/, from seeds.

    scripts/bench_ear --make

Clips that are there are kept. Voices are those of scripts/record_demo, and four of eSpeak NG,
whose speech is put together by rule: hard for every recogniser, and accents that nobody else has.
"""

from __future__ import annotations

import csv
import itertools
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import soundfile

from earbench import corpora
from earbench.sentences import book_phrases, number_sentences, talk_sentences
from recording.clips import clip_path, is_made, record
from recording.errors import VoiceMissing
from recording.voices import VOICES, Sound, Speak, Voice
from recording.words import sentence

ENGLISH = ("af_bella", "am_michael", "bf_emma", "bm_george")
SLOW = frozenset({
    "jm_kumo", "jf_alpha", "jf_gongitsune", "jf_nezumi", "jf_tebukuro", *ENGLISH,
})  # fmt: skip
"""Up to a second a phrase: they say what data/clips has of the book."""

WIDER = 1000
"""Number sentences that the slow English voices take part in; the others are said by two."""

TALK_SENTENCES = 3400
"""Drawn; of them some 1,250 differ, which is a little over an hour with pauses."""


def _by_rule(name: str) -> Speak:
    def speak(phrase: str, *, pace: float, seed: int) -> Sound:
        # eSpeak NG has no chance in it; "thou" is written in its own signs for sounds.
        text = sentence(phrase).replace("thou", "[[T'aU]]").replace("Thou", "[[T'aU]]")
        with tempfile.TemporaryDirectory() as folder:
            wav = Path(folder, "said.wav")
            command = ["espeak-ng", "-v", name, "-s", str(round(150 * pace)), "-w", str(wav), text]
            try:
                subprocess.run(command, check=True, capture_output=True, timeout=60)
            except FileNotFoundError:
                raise VoiceMissing(name, "install the Debian package espeak-ng") from None
            samples, rate = soundfile.read(wav, dtype="float32")
        return samples, rate

    return speak


def _espeak(name: str, variant: str, speaker: str) -> Voice:
    return Voice(
        name, f"{speaker}, by rule", "espeak-ng (Debian)", "GPL-3.0-or-later; its speech is free",
        _by_rule(variant),
    )  # fmt: skip


BY_RULE = {
    voice.name: voice
    for voice in (
        _espeak("rule_british", "en-gb", "man, British"),
        _espeak("rule_american", "en-us+f3", "woman, American"),
        _espeak("rule_scottish", "en-gb-scotland+m3", "man, Scottish"),
        _espeak("rule_caribbean", "en-029", "man, Caribbean"),
    )
}
ALL = VOICES | BY_RULE


@dataclass(frozen=True)
class Said:
    """One sentence of the corpora, by one voice in one manner."""

    voice: str
    phrase: str
    pace: float = 1.0

    @property
    def folder(self) -> str:
        return self.voice if self.pace == 1 else f"{self.voice}_{self.pace:g}"


def _in_turn(phrases: Sequence[str], manners: Sequence[tuple[str, float]]) -> Iterator[Said]:
    for phrase, (voice, pace) in zip(phrases, itertools.cycle(manners), strict=False):
        yield Said(voice, phrase, pace)


def wanted() -> dict[str, list[Said]]:
    """Every folder of data/ that is made here, and what is in it."""
    grammar = corpora.whole_book()
    book = book_phrases(corpora.book(), grammar)
    recorded = {each.text for each in corpora.synthetic("clips", True)}
    final = number_sentences(3000, 20, grammar)
    kept_back = [(voice, pace) for pace in (1.0, 0.87, 1.15) for voice in ("heart", "rms")]
    wider = [*kept_back, *((voice, 1.0) for voice in ENGLISH)]
    tuning = [(voice, pace) for pace in (1.0, 1.15) for voice in ("slt", "awb", "kal16")]
    known = set(final)
    trial = [each for each in number_sentences(900, 21, grammar) if each not in known]
    known |= set(trial)
    more = [each for each in number_sentences(420, 22, grammar) if each not in known]
    return {
        "book": [
            Said(voice, phrase)
            for voice in ALL
            for phrase in book
            if phrase not in recorded or voice in BY_RULE
            if voice not in SLOW
        ],
        "numbers": [*_in_turn(final[:WIDER], wider), *_in_turn(final[WIDER:], kept_back)],
        "numbers_tuning": list(_in_turn(trial, tuning)),
        "numbers_joe": list(_in_turn(more, [("joe", 1.0), ("joe", 1.15)])),
        "talk_hour": list(_in_turn(_different(8, tuning=False), kept_back)),
        "talk_tuning": list(_in_turn(_different(9, tuning=True), tuning)),
    }


def _different(seed: int, tuning: bool) -> list[str]:
    return list(dict.fromkeys(talk_sentences(TALK_SENTENCES, seed, tuning)))


def make(only: Sequence[str] = ()) -> None:
    """Record what is missing. Raises `VoiceMissing`."""
    for folder, said in wanted().items():
        if only and folder not in only:
            continue
        path = corpora.DATA / folder
        made, rows = 0, []
        for each in said:
            clip = clip_path(path / each.folder, each.phrase)
            if not is_made(ALL[each.voice], clip, pace=each.pace, seed=1):
                record(ALL[each.voice], each.phrase, clip, pace=each.pace, seed=1)
                made += 1
            package = ALL[each.voice].package
            rows.append((clip.relative_to(path), each.voice, each.phrase, "synthetic", package))
        with (path / "manifest.csv").open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows([("file", "speaker", "text", "split", "source"), *rows])
        print(f"data/{folder}: {len(rows)} clips, {made} made now", file=sys.stderr, flush=True)
