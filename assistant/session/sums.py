"""Quick sums: what may be asked after the opening word, in any step, without losing the place."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from assistant.spoken import Slot

SUMS: Mapping[str, Callable[[str], tuple[Slot, ...]]] = MappingProxyType({})
"""Intent of each sum -> its slots, for the job's unit."""

SUM_SECONDS = 10.0
"""How long a quick sum stays open without an answer."""
