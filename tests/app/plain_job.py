"""A demo job on its plain way, in words: what was typed, every sentence spoken, every page shown.

It knows words and pages alone: what a person at the machine hears and reads. What to type stands in
the transcript itself; only a transcript written anew asks what the plain way is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from assistant.drawing import Dimension, Text
from assistant.present.drawings import draw
from assistant.present.glance import Glance, Moment
from assistant.spoken import Understood
from tests.factories import Job, answer, expected_words

TYPED = "> "
MOST_TURNS = 600
PLACES = {"in": Decimal("0.0001"), "mm": Decimal("0.01")}


@dataclass(frozen=True)
class Transcript:
    """One job."""

    name: str
    lines: tuple[str, ...]
    typed: tuple[str, ...]
    """The operator's words, in order."""

    @property
    def text(self) -> str:
        """As it is kept."""
        return "\n".join(self.lines) + "\n"


def typed_in(text: str) -> list[str]:
    """What was typed, of a transcript that was kept."""
    return [line.removeprefix(TYPED) for line in text.splitlines() if line.startswith(TYPED)]


def replayed(name: str, words: Iterable[str]) -> Transcript:
    """The job worked by those words.

    AssertionError where one of them isn't understood, is asked back, or the job isn't finished by
    the last of them.
    """
    return _worked(name, Job(name), iter(words))


def anew(name: str) -> Transcript:
    """The job worked as it goes when all goes as planned."""
    job = Job(name)
    return _worked(name, job, _plain_words(job))


def _worked(name: str, job: Job, words: Iterator[str]) -> Transcript:
    heard = " ".join(sentence.text for sentence in job.opening)
    said, spoken, lines = [], [heard], ["", *_told(heard)]
    pages = Pages()
    lines += pages.lines(job.glance, heard)
    for one in words:
        outcome = job.try_saying(one)
        assert isinstance(outcome.said, Understood), f"{name}, {one!r}: {outcome.said}"
        heard, shown = answer(outcome), job.glance
        assert shown.moment is not Moment.ASK, f"{name}, {one!r} was asked back: {heard}"
        said.append(one)
        spoken.append(heard)
        lines += ["", f"{TYPED}{one}", *_told(heard), *pages.lines(shown, heard)]
    assert job.glance.moment is Moment.DONE, f"{name} isn't finished: {heard}"
    head = [
        f"{name}: {job.glance.job}",
        f"{len(said)} turns, {_count(said)} words typed",
        f"{sum(one.count('?') for one in spoken)} questions asked, {_count(spoken)} words spoken",
    ]
    return Transcript(name, (*head, *lines), tuple(said))


def _count(texts: Iterable[str]) -> int:
    return sum(len(text.split()) for text in texts)


def _told(spoken: str) -> list[str]:
    return [f'  "{spoken}"'] if spoken else ['  ""']


# -- what to type ---------------------------------------------------------------------------------


def _plain_words(job: Job) -> Iterator[str]:
    for _ in range(MOST_TURNS):
        if job.glance.moment is Moment.DONE:
            return
        words = expected_words(job.state)
        yield _as_foreseen(words, job.glance)
    raise AssertionError(f"never ended: {job.glance.instruction}")


def _as_foreseen(words: str, shown: Glance) -> str:
    """A size before the last cut as the page foresees it: what that cut takes is still there."""
    if words not in ("bang on", "ten over"):
        return words
    if shown.bar is None or "efore the finishing cut" not in shown.instruction:
        return "bang on"
    if shown.what.startswith("about now"):
        return "bang on"
    left = Decimal(repr(shown.bar.full)) - Decimal(repr(shown.bar.now))
    size = (Decimal(shown.number) + left).quantize(PLACES[shown.unit])
    return f"measured {size.normalize():f} {shown.unit}"


# -- the page in words ----------------------------------------------------------------------------


class Pages:
    """The pages of one job: what stays the same from one to the next is not written again."""

    def __init__(self) -> None:
        self._kept: dict[str, str] = {}
        self._place = (0, 0)

    def lines(self, shown: Glance, spoken: str) -> list[str]:
        """A page as a few lines."""
        head = [shown.moment.value, self._step(shown.place), shown.pass_place, shown.phase]
        figure = " ".join(part for part in (shown.number, shown.unit, shown.what) if part)
        lines = [_joined(*head, figure, _turns(shown), shown.dial, _limits(shown))]
        if shown.instruction not in spoken:
            lines.append(f"says: {shown.instruction}")
        lines += [f"detail: {line}" for line in shown.detail if line not in spoken]
        lines += [f"answer: {line}" for line in shown.answer]
        lines += [f"noted: {shown.noted}"] if shown.noted else []
        lines += [f"trouble: {line}" for line in shown.trouble]
        lines += [f"choices: {_joined(*shown.choices)}"] if shown.choices else []
        lines += self._changed("bar", _bar(shown))
        lines += self._changed("drawn", _labels(shown))
        return [f"  {line}" for line in lines]

    def _step(self, place: str) -> str:
        """The place, where it isn't the same or the next one: a step more in a job changes the
        number of each that follows."""
        if not place:
            return ""
        _, at, _, of = place.split()
        before, self._place = self._place, (int(at), int(of))
        same_job = before[1] == int(of) and int(at) in (before[0], before[0] + 1)
        return "" if same_job else place

    def _changed(self, name: str, text: str) -> list[str]:
        if self._kept.get(name, "") == text:
            return []
        self._kept[name] = text
        return [f"{name}: {text or 'nothing'}"]


def _joined(*parts: str) -> str:
    return " | ".join(part for part in parts if part)


def _turns(shown: Glance) -> str:
    """Direction and turns, as arrow and discs show them."""
    move = shown.move
    if move is None:
        return ""
    back = f", back off {move.back_off:f~P} first" if move.back_off is not None else ""
    return f"{move.direction} {move.turns} turns and {_short(float(move.part))}{back}"


def _limits(shown: Glance) -> str:
    limits = shown.limits
    if limits is None:
        return ""
    texts = (
        f"low {limits.low_text}" if limits.low_text else "",
        f"high {limits.high_text}" if limits.high_text else "",
        f"measured {limits.measured_text}" if limits.measured_text else "",
        limits.verdict,
        limits.gauge if limits.gauge != shown.phase else "",
    )
    return ", ".join(text for text in texts if text)


def _bar(shown: Glance) -> str:
    bar = shown.bar
    if bar is None:
        return ""
    marks = " ".join(_short(mark) for mark in bar.marks)
    return f"{_short(bar.now)} to {_short(bar.after)} of {_short(bar.full)}, marks {marks}"


def _labels(shown: Glance) -> str:
    """The drawing's title and labels."""
    if not shown.drawing_kind:
        return ""
    drawing = draw(shown.drawing_kind, shown.drawing)
    if drawing is None:
        return ""
    labels = [item.text for item in drawing.items if isinstance(item, Text | Dimension)]
    return _joined(drawing.title, *labels)


def _short(number: float) -> str:
    return f"{number:.4f}".rstrip("0").rstrip(".")
