"""A bar turned, and a bore."""

from __future__ import annotations

from assistant.drawing import Drawings
from assistant.jobs.lathe.drawing import bored, turned

NEEDS = ("stock", "finished", "length", "depth_full")
"""Diameter it is cut from and to, length that is cut, and the whole depth as the dial counts it
(of the diameter or of one side: only its share that is done is used)."""
DRAWINGS: Drawings = {"turned": (NEEDS, turned), "bored": (NEEDS, bored)}
