"""Makes recordings of spoken phrases from open synthetic voices, for the demos and for tests."""

import os

os.environ["ORT_DISABLE_TELEMETRY"] = "1"  # as in the assistant: nothing of ours reports home
