"""Holes by coordinates from two edges: single ones, rows and grids, bolt circles.

`read` takes the job from its file, `plan` works the whole of it out from what is known now.
"""

from __future__ import annotations

from assistant.jobs.holes.job import HolesJob, read
from assistant.jobs.holes.work import plan

__all__ = ["HolesJob", "plan", "read"]
