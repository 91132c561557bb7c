"""What makes each ear, for the process it lives in.

A module of its own, and empty at the start: a process unpickles these by name, and what else this
module imported it would load too.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from assistant.ports import Recogniser

if TYPE_CHECKING:
    from assistant.devices.moonshine import Tuning


def built_in(tuning: Tuning | None = None, folder: Path | None = None) -> Recogniser:
    """The built-in ear, with what was learned of the operator's voice; with the model's files in
    `folder`, where one is named."""
    from assistant.devices.moonshine import MoonshineEar

    if tuning is None:
        return MoonshineEar(folder=folder)
    return MoonshineEar(tuning=tuning, folder=folder)


def vosk(model: Path) -> Recogniser:
    """Vosk with the model of a folder."""
    from assistant.devices.vosk import VoskEar

    return VoskEar(model)
