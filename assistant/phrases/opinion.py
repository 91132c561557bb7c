"""What follows where two ears, or two readings of one ear, don't come to the same number.

A wrong number taken spoils the part; a right one asked back costs a second. So a number that the
second ear understood otherwise is asked back, one of which the first was not sure is taken where
both understood the same, and of a number that can't be the question names the likeliest one that
can.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from assistant.phrases.book import PhraseBook
from assistant.phrases.matcher import TYPED, match
from assistant.phrases.pairs import twins
from assistant.phrases.words import normal
from assistant.spoken import Expected, Heard, Intent, Reason, Refused, Understood
from assistant.spoken.gist import load_gist

DOUBTFUL, CLEAR, SURE = 0.8, 0.97, 0.7
"""Where the second ear heard another number, or none, it is asked back below the first
confidence; below the second one where the second ear is at least so sure as the third. Chosen on
804 sentences of a model before; by `scripts/earbench/second.py` the tuning voices would have one
wrong number fewer taken with a second of 0.99 and a third of 0.3, which ask back twice as many
right ones of the voices kept back. Of 3,000 sentences with a size by six of those, above 5 dB,
objections had 11 of 14 wrong ones asked back, and 84 right ones (`wheelcall help hearing`)."""
AGREED, AGREED_SURE = 0.4, 0.5
"""A number that the first ear would have asked back is taken from the first confidence on where the
second ear understood the same, and is at least so sure as the second. By the hearings of
`scripts/earbench/second.py`: of 678 sentences of the tuning voices 72 were so, all of them right;
between 0.35 and 0.4 one of 18 was wrong. Of the 3,000 above 159 were so, one of them wrong."""
NEAR = 0.05
"""A runner-up counts where it is at least so likely as the first, as a share of it: 3 nats."""


def weigh_opinions(
    book: PhraseBook, allowed: Sequence[Expected], said: Understood | Refused
) -> Understood | Refused:
    """`said`, or the question that a second ear or a runner-up makes of it; or what a question
    becomes where both ears understood the same."""
    if isinstance(said, Understood):
        said = _objection(book, allowed, said)
    elif said.reason is Reason.UNSURE and said.candidate is not None:
        said = _agreement(book, allowed, said, said.candidate)
    elif said.reason is Reason.IMPLAUSIBLE and said.candidate is not None:
        said = _plausible(book, allowed, said)
    return said if said.heard.engine == TYPED else _of_a_pair(book, allowed, said)


def _of_a_pair(
    book: PhraseBook, allowed: Sequence[Expected], said: Understood | Refused
) -> Understood | Refused:
    """Asked back where a word of it may be its twin in sound: always where no ear is sure of the
    two, else where one heard the other, or only the other can be."""
    heard, meant = said.heard, meaning(said)
    if meant is None or not meant.has_number or (isinstance(said, Refused) and said.otherwise):
        return said
    for words, alike in _twins(book, allowed, heard, meant):
        other = _read(book, allowed, heard, words)
        twin = meaning(other)
        if twin is None or twin.name != meant.name or twin == meant:
            continue
        cannot_be = isinstance(said, Refused) and said.reason is Reason.IMPLAUSIBLE
        only_twin = cannot_be and isinstance(other, Understood)
        if alike or only_twin:
            first, second = (twin, meant) if only_twin else (meant, twin)
            detail = f"it may have been {words}"
            return Refused(Reason.SCALE, heard, first, detail, second)
        if isinstance(said, Understood) and _heard_by_another(heard, words):
            return Refused(Reason.UNSURE, heard, meant, f"it may have been {words}")
    return said


def _twins(
    book: PhraseBook, allowed: Sequence[Expected], heard: Heard, meant: Intent
) -> Iterator[tuple[str, bool]]:
    """The twins of what the first ear heard; and of the second's words, where it understood the
    same, those that no ear is sure of."""
    yield from twins(heard.words)
    opinion = heard.opinion
    if opinion is None or not opinion.words or opinion.words == heard.words:
        return
    if meaning(_read(book, allowed, heard, opinion.words)) == meant:
        yield from (each for each in twins(opinion.words) if each[1])


def _heard_by_another(heard: Heard, words: str) -> bool:
    """Whether the second ear heard `words`; or the first all but did, and the second isn't sure of
    what it heard itself."""
    gist, opinion = load_gist().as_said, heard.opinion
    second = "" if opinion is None else gist(opinion.words)
    if opinion is not None and opinion.confidence >= SURE and second == gist(heard.words):
        return False
    return gist(words) in (second, *map(gist, _runners_up(heard)))


def _runners_up(heard: Heard) -> list[str]:
    """What the first ear all but heard."""
    return [words for words, sure in heard.others if sure >= NEAR * heard.confidence]


def meaning(said: Understood | Refused) -> Intent | None:
    """What was understood, or would be asked back."""
    return said.intent if isinstance(said, Understood) else said.candidate


def _objection(
    book: PhraseBook, allowed: Sequence[Expected], said: Understood
) -> Understood | Refused:
    """Asked back where the second ear understood another number; and a yes that a question hangs
    on, where the first would have written something else."""
    opinion = said.heard.opinion
    if _only_drawn_to_it(book, allowed, said):
        return Refused(Reason.UNSURE, said.heard, said.intent, f"it sounded like {said.heard.free}")
    if opinion is None or not _weighs(allowed, said.intent):
        return said
    if not objects(said.heard):
        return said
    if meaning(_read(book, allowed, said.heard, opinion.words)) == said.intent:
        return said
    detail = f"the other ear heard {opinion.words or 'nothing'}"
    return Refused(Reason.UNSURE, said.heard, said.intent, detail)


def _only_drawn_to_it(book: PhraseBook, allowed: Sequence[Expected], said: Understood) -> bool:
    """Whether a yes is only the nearest that the grammar has. Of 22 words near to yes that it took
    for one, the first ear wrote 16 as something else where it wasn't held to the grammar; of 32
    times yes two, which are asked again (clips of `scripts/earbench/questions.py`)."""
    heard = said.heard
    if not heard.free or said.intent.has_number or not _weighs(allowed, said.intent):
        return False
    return meaning(_read(book, allowed, heard, normal(heard.free))) != said.intent


def _agreement(
    book: PhraseBook, allowed: Sequence[Expected], said: Refused, candidate: Intent
) -> Understood | Refused:
    """Understood where the second ear understood the same number."""
    opinion = said.heard.opinion
    if opinion is None or not _weighs(allowed, candidate) or not agrees(said.heard):
        return said
    other = _read(book, allowed, said.heard, opinion.words)
    if not isinstance(other, Understood) or other.intent != candidate:
        return said
    agreed = Understood(candidate, said.heard)
    return said if _only_drawn_to_it(book, allowed, agreed) else agreed


def _weighs(allowed: Sequence[Expected], intent: Intent) -> bool:
    """Whether a number hangs on it: its own, or what is asked back and a yes takes. Such a yes has
    to be heard more surely than another."""
    if intent.has_number:
        return True
    return intent.name == "yes" and any(
        one.intent == "yes" and one.floor > Expected("yes").floor for one in allowed
    )


def agrees(heard: Heard) -> bool:
    """Whether both ears are sure enough for their agreement to count, if they agree."""
    opinion = heard.opinion
    if opinion is None or not opinion.words:
        return False
    return heard.confidence >= AGREED and opinion.confidence >= AGREED_SURE


def objects(heard: Heard) -> bool:
    """Whether the second ear's opinion has weight enough to ask back, if it differs."""
    opinion = heard.opinion
    if opinion is None:
        return False
    if opinion.better or heard.confidence < DOUBTFUL:
        return True
    return heard.confidence < CLEAR and bool(opinion.words) and opinion.confidence >= SURE


def _plausible(book: PhraseBook, allowed: Sequence[Expected], said: Refused) -> Refused:
    """The same question with the likeliest value that can be, where one was nearly heard."""
    assert said.candidate is not None
    heard = said.heard
    others = _runners_up(heard)
    if heard.opinion is not None and heard.opinion.words:
        others.insert(0, heard.opinion.words)
    for words in others:
        other = _read(book, allowed, heard, words)
        if isinstance(other, Understood) and other.intent.name == said.candidate.name:
            detail = f"{said.detail}; it may have been {words}"
            return replace(said, candidate=other.intent, detail=detail)
    return said


def _read(
    book: PhraseBook, allowed: Sequence[Expected], heard: Heard, words: str
) -> Understood | Refused:
    return match(book, allowed, replace(heard, words=words, confidence=1.0))
