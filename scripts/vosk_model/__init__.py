"""How the shop model in voice_models/ is made: synthesis, features, training, export, graph."""

import os

os.environ["ORT_DISABLE_TELEMETRY"] = "1"  # as in the assistant: nothing of ours reports home
