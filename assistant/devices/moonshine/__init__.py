"""The built-in ear: Moonshine tiny (MIT) on ONNX Runtime, held to a closed grammar."""

from assistant.devices.moonshine.recogniser import MoonshineEar
from assistant.devices.moonshine.tuning import Tuning

__all__ = ["MoonshineEar", "Tuning"]
