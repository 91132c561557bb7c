"""How well the ear hears: corpora, noise, scores."""

import os

os.environ["ORT_DISABLE_TELEMETRY"] = "1"  # as in the assistant: nothing of ours reports home
