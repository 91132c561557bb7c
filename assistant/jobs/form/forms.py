"""The form of every operation."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.jobs.form import holes, keyseats, lining_up, milling, turning
from assistant.jobs.form.field import Form

FORMS: Mapping[str, Form] = MappingProxyType(
    {
        form.operation: form
        for module in (keyseats, milling, holes, turning, lining_up)
        for form in module.FORMS
    }
)
"""Operation, as a job file names it -> its form."""
