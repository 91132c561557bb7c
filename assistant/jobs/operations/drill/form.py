"""What a person is asked to begin such a job: drilled hole."""

from __future__ import annotations

from assistant.jobs.drilling.form import HELD, HOLE, depth_by

FIELDS = (*HOLE, depth_by("hole"), HELD)
