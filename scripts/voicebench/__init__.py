"""How well the voice is understood: machine listeners, noise, a room, an index."""

import os

os.environ["ORT_DISABLE_TELEMETRY"] = "1"  # as in the assistant: nothing of ours reports home
os.environ["HF_HUB_OFFLINE"] = os.environ["HF_HUB_DISABLE_TELEMETRY"] = "1"
