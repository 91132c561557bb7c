"""Who may look: one code at a time, each good for one device, and a limit to wrong tries.

Used from one thread. Nothing of it is ever written down.
"""

from __future__ import annotations

import secrets
import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass

SIGNS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""What is not mistaken for another when it is read off a screen: no 0 and O, no 1, I and L."""
LENGTH = 8
"""31 signs, 8 of them: 850 thousand million codes."""
MOST = 10
"""Devices that may look."""
GONE_SECONDS = 10.0
"""A device that was given nothing for so long makes room for another, where there are `MOST`."""
TRIES, TRIES_OF_ALL = 5, 20
"""Wrong codes that are looked at in `TRIES_SECONDS`: from one address, and from all together."""
TRIES_SECONDS = 60.0

WRONG = "That code is wrong, or was used already. Each is for one device."
TOO_MANY = "Too many wrong codes. Wait a minute."
FULL = f"{MOST} devices look already. Close one of them."


class Refused(Exception):  # noqa: N818  (as a person is)
    """Somebody isn't let in: `status` as HTTP has it, and why in words."""

    def __init__(self, status: int, why: str) -> None:
        self.status, self.why = status, why
        super().__init__(why)


@dataclass(slots=True)
class Device:
    """One that was let in."""

    seen: float
    """When something was last sent to it."""
    view: object = None
    """Its newest view: an older one ends."""


class Gate:
    """Gives codes and lets in. Times are by `clock`, in seconds."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self.code = ""
        """The one that holds now; '' while none does."""
        self.devices: dict[str, Device] = {}
        """Those that were let in, by what their cookie holds."""
        self._clock = clock
        self._wrong: deque[tuple[float, str]] = deque()

    def offer(self) -> str:
        """A new code, in place of the last one."""
        self.code = "".join(secrets.choice(SIGNS) for _ in range(LENGTH))
        return self.code

    def withdraw(self) -> None:
        """No code holds."""
        self.code = ""

    def enter(self, told: str, address: str) -> str:
        """Let the device in that tells the code: what its cookie is to hold. The code is used up.

        Raises `Refused`.
        """
        now = self._clock()
        while self._wrong and now - self._wrong[0][0] > TRIES_SECONDS:
            self._wrong.popleft()
        from_there = sum(one == address for _, one in self._wrong)
        if from_there >= TRIES or len(self._wrong) >= TRIES_OF_ALL:
            raise Refused(429, TOO_MANY)
        plain = "".join(sign for sign in told.upper() if sign.isalnum())
        right = secrets.compare_digest(plain.encode(), self.code.encode())
        if not self.code or not right:
            self._wrong.append((now, address))
            raise Refused(403, WRONG)
        self._make_room(now)
        self.code = ""
        token = secrets.token_urlsafe(32)
        self.devices[token] = Device(now)
        return token

    def device(self, token: str) -> Device | None:
        """The device of that cookie."""
        return self.devices.get(token)

    def looking(self) -> int:
        """How many devices were given something lately."""
        now = self._clock()
        return sum(now - device.seen < GONE_SECONDS and device.view is not None
                   for device in self.devices.values())  # fmt: skip

    def _make_room(self, now: float) -> None:
        if len(self.devices) < MOST:
            return
        token, longest = min(self.devices.items(), key=lambda item: item[1].seen)
        if now - longest.seen < GONE_SECONDS:
            raise Refused(409, FULL)
        del self.devices[token]


def shown(code: str) -> str:
    """A code in two halves, as it is read: `7KQ4-2MXP`."""
    return f"{code[: LENGTH // 2]}-{code[LENGTH // 2 :]}" if code else ""
