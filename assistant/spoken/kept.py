"""What was made of grammars, kept while it is in use: making it takes longer than hearing."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Made = TypeVar("Made")


class Kept(Generic[Key, Made]):
    """The last used of what was made, by the id of its grammar. Used from one thread."""

    def __init__(self, most: int) -> None:
        """`most` are kept, 1 or more; what was used longest ago goes first."""
        self._most = most
        self._made: OrderedDict[Key, Made] = OrderedDict()

    def of(self, key: Key, make: Callable[[], Made]) -> Made:
        """What was made for `key`; made now where it isn't kept. Raises what `make` raises."""
        if key in self._made:
            self._made.move_to_end(key)
            return self._made[key]
        made = self._made[key] = make()
        while len(self._made) > self._most:
            self._made.popitem(last=False)
        return made

    def __getitem__(self, key: Key) -> Made:
        """What is kept for `key`; raises `KeyError` where it isn't."""
        return self._made[key]

    def __contains__(self, key: Key) -> bool:
        return key in self._made

    def __len__(self) -> int:
        return len(self._made)

    def clear(self) -> None:
        """Forget all."""
        self._made.clear()
