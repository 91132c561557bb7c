"""Wheelcall: the hands-free assistant for manual mills, lathes and drill presses."""

import os

__version__ = "0.1.0"

# onnxruntime 1.32 writes down a number for this computer and sends reports of its use, unless it
# finds this when it is imported. Here, since every process of ours imports the package first.
os.environ["ORT_DISABLE_TELEMETRY"] = "1"
