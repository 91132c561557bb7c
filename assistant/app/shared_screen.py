"""The screen of a job that second screens look at as well."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from assistant.devices.viewers import Viewers
from assistant.ports import Screen
from assistant.present.glance import Glance

KEY = "f2"
"""Shows a code for another device, and hides it again; begins the second screen anew once it is
gone."""
AGAIN = "F2 begins it again."


class SharedScreen:
    """Shows on `screen`, and the same page to `viewers`.

    Beside the page stands an invitation until the first device is in, and again by a key. What the
    second screen suffers is told on the page, and nothing else comes of it. Used from the main
    thread.
    """

    def __init__(
        self,
        screen: Screen,
        viewers: Viewers,
        again: Callable[[], Viewers],
        *,
        keys: bool,
        tell: Callable[[str], None] = print,
    ) -> None:
        """`again` makes other viewers, once these are gone, and waits for nothing. `keys` is
        whether the screen can be asked for a code by a key: else there is always one, and it is
        told."""
        self.name = screen.name
        self._screen, self._viewers, self._again = screen, viewers, again
        self._keys, self._tell = keys, tell
        self._glance: Glance | None = None
        self._shown: Glance | None = None
        self._seen: tuple[object, ...] = ()
        self._told_code, self._let_in, self._refused = "", 0, 0
        viewers.invite(True)

    @property
    def trouble(self) -> str:
        """What is wrong with the screen itself; '' where nothing is."""
        return str(getattr(self._screen, "trouble", ""))

    def show(self, glance: Glance) -> None:
        """Show it here, and have it shown there."""
        if glance != self._glance:
            self._glance, self._shown = glance, None
            self._viewers.show(glance)
        self._look()
        if self._shown is not None:
            self._screen.show(self._shown)

    def keys(self) -> Sequence[str]:
        """Keys since the last call, without the one that is for this."""
        pressed = self._screen.keys()
        mine = [key for key in pressed if key == KEY]
        if len(mine) % 2:
            self._ask()
        was = self._shown
        self._look()
        if self._shown is not None and self._shown is not was:
            self._screen.show(self._shown)
        return [key for key in pressed if key.removesuffix(" released") != KEY]

    def close(self) -> None:
        """End both."""
        self._viewers.close()
        self._screen.close()

    def _look(self) -> None:
        """Take what the viewers report, and dress the page with it."""
        viewers = self._viewers
        viewers.look()
        report, trouble = viewers.report, viewers.trouble
        if report.let_in > self._let_in:
            self._tell(f"A second screen is let in ({report.last_from}).")
            if not self._keys:
                viewers.invite(True)
        if report.refused > self._refused:
            self._tell(f"Second screen: a wrong code was told ({report.last_from}).")
        self._let_in, self._refused = report.let_in, report.refused
        code = report.invite.code if report.invite is not None else ""
        if code != self._told_code:
            self._told_code = code
            if report.invite is not None:
                self._tell(f"Second screen: {report.invite.address} with the code {code}.")
        seen = (report.invite, trouble)
        if seen != self._seen:
            if trouble and trouble not in self._seen:
                self._tell(f"Second screen: {trouble}.")
            self._seen, self._shown = seen, None
        if self._shown is None and self._glance is not None:
            line = (f"Second screen: {trouble}. {AGAIN if self._keys else ''}".strip(),)
            self._shown = replace(
                self._glance,
                invite=report.invite,
                trouble=(*self._glance.trouble, *(line if trouble else ())),
            )

    def _ask(self) -> None:
        """A code is wanted, or wanted no more; or all of it anew."""
        if not self._viewers.trouble:
            self._viewers.invite(self._viewers.report.invite is None)
            return
        self._viewers.close()
        self._viewers = self._again()
        self._let_in = self._refused = 0
        self._viewers.invite(True)
        if self._glance is not None:
            self._viewers.show(self._glance)
