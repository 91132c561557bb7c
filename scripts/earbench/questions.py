"""What is heard as an answer: `python -m earbench.questions [--most N] [--only PART]`.

    yes     phrases of the book, everyday talk, and recordings of people, said into each kind of
            open question through both ears: how often a yes is taken that nobody said (false),
            and how often one that was said
    pairs   numbers whose twin in sound is another number, said where a number is asked for:
            how often the twin is taken

Synthetic voices are those of flite and hibari; people are AN4's and the Free Spoken Digit
Dataset's, where WHEELCALL_SPEECH is set, and the recorded demo operators. Nothing is tuned here.
Clips are made once, under data/questions. Needs flite (Debian), and the extra `record`.
"""

from __future__ import annotations

import argparse
import itertools
import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cache

from assistant.app.assistant import Assistant, Devices
from assistant.app.forward import forward_words
from assistant.app.paths import find_job
from assistant.app.transcript import Transcript
from assistant.app.turn import Outcome, turn, ways
from assistant.devices.clock import SystemClock
from assistant.devices.ear import hear
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.speaker import SilentSpeaker
from assistant.devices.vosk import VoskEar
from assistant.session.state import State
from assistant.spoken import Heard, Opinion, Refused, Understood
from assistant.spoken.gist import load_gist
from assistant.spoken.written import TEENS, TENS
from earbench import corpora
from earbench.corpora import Utterance
from earbench.second import MODEL
from earbench.sentences import book_phrases, talk_sentences
from recording.clips import clip_path, is_made, record
from recording.voices import VOICES

SPEAKERS = ("rms", "slt", "awb", "kal16", "heart")
NOW = datetime(2026, 1, 5, 9, 0, tzinfo=UTC)
HALF_HEARD = 0.45
"""Confidence at which anything is asked back."""
YES, NO = ("yes", "yeah", "that's correct"), ("no", "nope", "negative")
ANSWERS = (*YES, *NO, "correct", "affirmative")
NEAR_YES = (
    "bare", "clear", "why", "there", "where", "here", "year", "yet", "yesterday", "ears",
    "gear", "eight", "okay", "yard", "jeez", "guess", "chess", "dress", "less", "mess",
)  # fmt: skip
"""Words nearer to a yes than any that are usual at a machine; counted by themselves."""
TO = {
    "paper": ("keyseat-inch", ("touched",), "three thou"),
    "stock, can't be": ("keyseat-inch", (), "measured three seventy five"),
    "depth of cut": ("keyseat-inch", (), "cut fifty thou this pass"),
    "dial": ("keyseat-inch", (), "dial reads forty"),
    "over or under": ("keyseat-inch", (), "two over"),
    "metric size": ("keyseat-metric", (), "measured thirty point oh two"),
    "a cut, no number": ("keyseat-inch", (), "that's through"),
}
STEPS = {
    "paper": "touch-knee", "stock, can't be": "measure-shaft", "depth of cut": "roughing-3-set",
    "dial": "roughing-3-set", "over or under": "measure-size-1", "metric size": "measure-size-1",
    "a cut, no number": "roughing-3-cut",
}  # fmt: skip
"""Each kind of question: a demo's step, what leads up to it there, and what is half heard."""
ALIKE = (*TEENS[3:], *TENS[1:])
"""Thirteen to nineteen, and thirty to ninety."""
ONES = ("one", "two", "three", "five", "six", "eight", "nine")
ASKED_AT = {
    "paper is {}": "paper", "cut {}": "depth of cut", "measured {}": "stock, can't be",
    "dial reads {}": "dial",
}  # fmt: skip
PAIRS = {
    "ten, tenth": (*(f"{one} ten" for one in ONES), *(f"{one} tenth" for one in ONES), "a tenth"),
    "thou, thousand": (*(f"{one} thou" for one in ONES), *(f"{one} thousand" for one in ONES)),
    "thousandth, thousand": ("one thousandth", "two thousandths", "five thousandths"),
    "teen, ty": tuple(f"{one} thou" for one in ALIKE),
    "one teen, one ty": tuple(f"one {one}" for one in ALIKE),
}


@dataclass
class Ears:
    """Both ears, as they hear in use."""

    first: MoonshineEar
    second: VoskEar

    def hear(self, state: State, said: Utterance) -> Heard:
        grammar, sound = ways(corpora.book(), state, 0.0).grammar, said.sound()
        one = hear(self.first, sound, grammar)
        if not one.words:
            return one
        other = hear(self.second, sound, grammar)
        return replace(one, opinion=Opinion(other.words, other.confidence, other.engine))


def said_by(voice: str, phrase: str, kind: str) -> Utterance:
    """`phrase` said by a synthetic voice, made where it isn't there."""
    path = clip_path(corpora.DATA / "questions" / voice, phrase)
    if not is_made(VOICES[voice], path, pace=1.0, seed=1):
        record(VOICES[voice], phrase, path, pace=1.0, seed=1)
    return Utterance(path, phrase, voice, kind)


def at_step(demo: str, step: str) -> State:
    """A demo worked by what its steps expect, up to a step."""
    devices = Devices(MemoryJournal(), SilentSpeaker(), HiddenScreen(), SystemClock())
    assistant = Assistant(corpora.book(), devices, Transcript(lambda _line: None))
    assistant.begin(find_job(demo))
    while assistant.state.step_id != step:
        state = assistant.state
        own = {"walls": "it's even", "size": "bang on"}.get(getattr(state.step, "kind", ""))
        assistant.hear(Heard(own or forward_words(state) or "bare"))
    return assistant.state


def heard_in(state: State, heard: Heard) -> Outcome:
    """What becomes of one thing heard."""
    return turn(corpora.book(), state, heard, NOW)


def _before(name: str) -> State:
    """Where a question comes up, before it is asked."""
    demo, lead, _ = TO[name]
    state = at_step(demo, STEPS[name])
    for words in lead:
        state = heard_in(state, Heard(words)).state
    return state


def questions() -> Iterator[tuple[str, State]]:
    """Each kind of open question."""
    for name, (_, _, words) in TO.items():
        before = _before(name)
        state = heard_in(before, Heard(words, HALF_HEARD, engine="moonshine")).state
        assert state.question is not None, name
        yield name, state


def material(most: int, rng: random.Random) -> list[Utterance]:
    """What is no yes: half of it of the book, the rest of talk, recordings of people and of the
    demo operators."""
    book = book_phrases(corpora.book(), corpora.whole_book())
    texts = {
        "book": [each for each in book if each not in ANSWERS],
        "talk": sorted(set(talk_sentences(1000, 12, tuning=False))),
    }
    shares = {"book": most // 2, "talk": most // 4}
    made = [
        said_by(rng.choice(SPEAKERS), text, kind)
        for kind, share in shares.items()
        for text in rng.sample(texts[kind], min(share, len(texts[kind])))
    ]
    others = [each for each in recorded() if each.text not in ANSWERS]
    return [*made, *rng.sample(others, most - len(made))]


def answers(texts: Sequence[str], most: int, rng: random.Random) -> list[Utterance]:
    """Yes, or no: by synthetic voices, by the demo operators, and by people."""
    made = [said_by(voice, text, "answer") for voice in SPEAKERS for text in texts]
    all_ = [*made, *(each for each in recorded() if each.text in texts)]
    return rng.sample(all_, min(most, len(all_)))


@cache
def recorded() -> tuple[Utterance, ...]:
    """People, and the demo operators, by the names of their files."""
    people = [each for split in ("train", "test") for each in corpora.real(split, "")]
    demos = [
        Utterance(path, path.stem.replace("_", " "), "demo", "demo")
        for path in sorted((corpora.ROOT / "assistant" / "demo").rglob("*.flac"))
    ]
    return (*people, *demos)


def fate(outcome: Outcome) -> str:
    """What was made of it: the intent that was taken, asked, or nothing."""
    said = outcome.said
    if isinstance(said, Understood):
        return said.intent.name
    return "asked" if said.candidate is not None else "nothing"


def yes(ears: Ears, most: int, seed: int, show: bool) -> None:
    """The table of answers."""
    print(f"{'question':20}{'no yes said':>12}{'false yes':>10}{'false no':>9}"
          f"{'near yes':>9}{'false':>6}{'yes said':>9}"
          f"{'taken':>6}{'again':>6}{'no said':>8}{'taken':>6}{'as yes':>7}")  # fmt: skip
    total: Counter[str] = Counter()
    for name, state in questions():
        rng = random.Random(f"{seed} {name}")
        said = {
            "other": material(most, rng),
            "near": answers(NEAR_YES, most // 4, rng),
            "yes": answers(YES, most // 4, rng),
            "no": answers(NO, most // 6, rng),
        }
        count: Counter[str] = Counter()
        for kind, utterances in said.items():
            for each in utterances:
                heard = ears.hear(state, each)
                became = fate(heard_in(state, heard))
                count[f"{kind} {became}"] += 1
                count[kind] += 1
                if show and kind != became and {kind, became} & {"yes", "no"}:
                    print(f"    {name}: {each.text!r} ({each.speaker}) was {became}: "
                          f"{heard.words!r} {heard.confidence:.2f}, {heard.opinion}")  # fmt: skip
        total += count
        print(_answers_row(name, count), flush=True)
    print(_answers_row("all", total))


def _answers_row(name: str, count: Counter[str]) -> str:
    return (
        f"{name:20}{count['other']:>12}{count['other yes']:>10}{count['other no']:>9}"
        f"{count['near']:>9}{count['near yes']:>6}"
        f"{count['yes']:>9}{count['yes yes']:>6}{count['yes asked']:>6}"
        f"{count['no']:>8}{count['no no']:>6}{count['no yes']:>7}"
    )


def pairs(ears: Ears, voices: int, show: bool) -> None:
    """The table of pairs; each number by so many of the voices, by turns."""
    gist = load_gist()
    before = {name: _before(name) for name in ASKED_AT.values()}
    turns = itertools.cycle(SPEAKERS)
    print(f"{'pair':24}{'said':>6}{'right':>7}{'wrong':>7}{'asked':>7}{'nothing':>9}")
    for name, numbers in PAIRS.items():
        count: Counter[str] = Counter()
        for form, place in ASKED_AT.items():
            for number in numbers:
                phrase, state = form.format(number), before[place]
                for voice in [next(turns) for _ in range(voices)]:
                    heard = ears.hear(state, said_by(voice, phrase, "pair"))
                    said = heard_in(state, heard).said
                    became = "asked" if isinstance(said, Refused) and said.candidate else "nothing"
                    if isinstance(said, Understood):
                        same = gist(heard.words) == gist(phrase)
                        became = "right" if same else "wrong"
                    count[became] += 1
                    if show and became == "wrong":
                        print(f"    {phrase!r} ({voice}) was taken as {heard.words!r} "
                              f"{heard.confidence:.2f}, {heard.opinion}")  # fmt: skip
        print(f"{name:24}{count.total():>6}{count['right']:>7}{count['wrong']:>7}"
              f"{count['asked']:>7}{count['nothing']:>9}", flush=True)  # fmt: skip


def main() -> None:
    parser = argparse.ArgumentParser(description="What is heard as an answer.")
    parser.add_argument(
        "--most", type=int, default=120, help="sentences that are no answer, a question"
    )
    parser.add_argument("--seed", type=int, default=12)
    parser.add_argument("--voices", type=int, default=len(SPEAKERS), help="that say a number")
    parser.add_argument("--only", choices=("yes", "pairs"), help="only this part")
    parser.add_argument("--wrong", action="store_true", help="list what was taken wrong")
    options = parser.parse_args()
    ears = Ears(MoonshineEar(threads=1), VoskEar(MODEL))
    if options.only != "pairs":
        yes(ears, options.most, options.seed, options.wrong)
    if options.only != "yes":
        pairs(ears, options.voices, options.wrong)


if __name__ == "__main__":
    main()
