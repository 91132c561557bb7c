"""The network of the built-in ear, stepped by hand."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.moonshine.assets import TOKENIZER, model_folder
from assistant.devices.moonshine.free import decode_free
from assistant.devices.moonshine.model import Encoded, Model, together
from assistant.devices.moonshine.tokenizer import BEGIN, SPACE, Tokenizer
from assistant.ports import RATE, Samples

CLIPS = Path(__file__).parents[1] / "audio" / "clips"


@pytest.fixture(scope="module")
def model() -> Iterator[Model]:
    return Model(model_folder(), threads=1)


@pytest.fixture(scope="module")
def tokenizer() -> Tokenizer:
    return Tokenizer(model_folder() / TOKENIZER)


def clip(name: str) -> Samples:
    samples, _ = soundfile.read(CLIPS / f"{name}.flac", dtype="float32")
    return samples


@pytest.fixture(scope="module")
def encoded(model: Model) -> Encoded:
    return model.encode(clip("cut_forty_thou_this_pass"))


def test_the_package_with_the_files_is_not_imported() -> None:
    """Its native library would be loaded with it, for nothing."""
    import subprocess
    import sys

    code = (
        "import sys; from assistant.devices.moonshine import MoonshineEar; MoonshineEar();"
        "sys.exit('moonshine_voice' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_pieces_join_as_the_model_joins_them(model: Model, tokenizer: Tokenizer) -> None:
    """What it writes unheld must encode to the very pieces that it wrote."""
    for name in ("touched", "oov_the_weather_will_be_fine", "oov_we_are_out_of_coffee"):
        free = decode_free(model, model.encode(clip(name)))
        text = tokenizer.decode(free.pieces)
        assert text
        assert tokenizer.encode(SPACE + text.replace(" ", SPACE)) == tuple(free.pieces)


def test_one_step_at_a_time_is_the_same_as_all_at_once(
    model: Model, tokenizer: Tokenizer, encoded: Encoded
) -> None:
    ids = tokenizer.encode("▁Cut▁forty▁now▁this▁pass")
    whole, _ = model.begin(encoded, [[BEGIN, *ids]])
    row, cache = model.begin(encoded, [[BEGIN]])
    steps = [row[0, -1]] + [model.step(cache, [0], [piece])[0] for piece in ids]
    # Activations are rounded to 8 bits by the largest of the batch (see Model): alike, not equal.
    assert np.abs(np.array(steps) - whole[0]).mean() < 1
    stepped = sum(float(step[piece]) for step, piece in zip(steps, ids, strict=False))
    at_once = sum(float(whole[0, at, piece]) for at, piece in enumerate(ids))
    assert stepped == pytest.approx(at_once, abs=1.5)
    assert [int(step.argmax()) for step in steps] == list(whole[0].argmax(axis=-1))


def test_hypotheses_of_a_batch_do_not_disturb_each_other(
    model: Model, tokenizer: Tokenizer, encoded: Encoded
) -> None:
    one, two = tokenizer.encode("▁Cut")[0], tokenizer.encode("▁That")[0]
    _, cache = model.begin(encoded, [[BEGIN]])
    both = model.step(cache, [0, 0], [one, two])
    crossed = model.step(cache, [1, 0], [two, one])
    alone, cache = model.begin(encoded, [[BEGIN]])
    first = model.step(cache, [0], [one])
    assert np.argmax(both[0]) == np.argmax(first[0])
    _, cache = model.begin(encoded, [[BEGIN]])
    model.step(cache, [0], [two])
    second = model.step(cache, [0], [two])
    assert crossed[0] == pytest.approx(second[0], abs=1.5)
    assert alone.shape == (1, 1, 32768)


@pytest.mark.parametrize("seconds", [0.2, 9.2])
def test_the_shortest_and_the_longest_sound_are_taken(model: Model, seconds: float) -> None:
    encoded = model.encode(np.zeros(round(seconds * RATE), np.float32))
    logs, cache = model.begin(encoded, [[BEGIN]])
    assert np.exp(logs).sum() == pytest.approx(1, abs=1e-3)
    assert model.step(cache, [0], [300]).shape == (1, 32768)


def test_versions_of_a_sound_are_heard_side_by_side(
    model: Model, tokenizer: Tokenizer, encoded: Encoded
) -> None:
    """Each row hears its own version, whatever stands beside it: weights of eight bits are scaled
    by all rows together, so that it is near what it is alone, not equal to it."""
    quiet = model.encode(clip("cut_forty_thou_this_pass") * np.float32(0.3))
    one, two = tokenizer.encode("▁Cut")[0], tokenizer.encode("▁That")[0]
    logs, cache = model.begin(together(encoded, quiet), [[BEGIN]])
    assert logs.shape == (2, 1, 32768)
    both = model.step(cache, [0, 1, 0, 1], [one, one, two, two])
    for version, sound in enumerate((encoded, quiet)):
        alone, cache = model.begin(sound, [[BEGIN]])
        assert logs[version, 0].argmax() == alone[0, 0].argmax()
        step = model.step(cache, [0, 0], [one, two])
        for row, of in ((version, 0), (2 + version, 1)):
            own, other = (np.abs(both[row] - step[each]).mean() for each in (of, 1 - of))
            assert own < other / 5
            assert both[row].argmax() == step[of].argmax()
