"""The Vosk ear: official models, or the shop's own, from a folder."""

from assistant.devices.vosk.ear import VoskEar
from assistant.devices.vosk.folder import (
    Hold,
    ModelFolder,
    find_models,
    read_model_folder,
    unusable_models,
)

__all__ = ["Hold", "ModelFolder", "VoskEar", "find_models", "read_model_folder", "unusable_models"]
