"""What a person is asked to begin such a job: tapped hole."""

from __future__ import annotations

from assistant.jobs.drilling.form import HELD, THREAD, depth_by

FIELDS = (*THREAD, depth_by("thread"), HELD)
