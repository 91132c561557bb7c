"""A real browser for tests: Debian's chromium, driven over a pipe by its DevTools protocol."""

from __future__ import annotations

import base64
import json
import os
import shutil
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import pytest

CHROMIUM = shutil.which("chromium")
PATIENCE = 60.0

needs_a_browser = pytest.mark.skipif(
    CHROMIUM is None,
    reason="no chromium here to look with: apt-get install chromium (64 s and 409 MB)",
)

ALONE = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-dev-shm-usage", "--hide-scrollbars", "--remote-debugging-pipe",
)  # fmt: skip


class Browser:
    """One browser; each `window` is a device of its own, with its own cookies."""

    def __enter__(self) -> Self:
        assert CHROMIUM is not None
        self._profile = tempfile.TemporaryDirectory(prefix="browser-", ignore_cleanup_errors=True)
        to_read, self._write = os.pipe()
        self._read, to_write = os.pipe()

        def as_three_and_four() -> None:
            # both above 4 first, or one would take the other's place
            inner, outer = os.dup2(to_read, 103), os.dup2(to_write, 104)
            os.dup2(inner, 3)
            os.dup2(outer, 4)

        self._process = subprocess.Popen(
            [CHROMIUM, *ALONE, f"--user-data-dir={self._profile.name}", "about:blank"],
            close_fds=False, preexec_fn=as_three_and_four, start_new_session=True,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        os.close(to_read)
        os.close(to_write)
        self._held = b""
        self._number = 0
        self.windows: dict[str, Window] = {}
        """By the name of their session."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:  # fmt: skip
        self._process.kill()
        self._process.wait()
        os.close(self._write)
        os.close(self._read)
        self._profile.cleanup()

    def call(self, method: str, session: str = "", **what: Any) -> dict[str, Any]:
        """One command, and its result."""
        self._number += 1
        told: dict[str, Any] = {"id": self._number, "method": method, "params": what}
        if session:
            told["sessionId"] = session
        os.write(self._write, json.dumps(told).encode() + b"\0")
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            answer = self._next()
            if answer.get("id") == self._number:
                if "navigated" in answer.get("error", {}).get("message", ""):
                    return {"result": {}}  # the page went on to another: it has nothing to tell
                assert "error" not in answer, answer
                result: dict[str, Any] = answer["result"]
                return result
            self._note(answer)
        raise AssertionError(f"{method}: no answer")

    def window(self, width: int, height: int, scale: float = 1.0) -> Window:
        """A window of a device with a screen of so many CSS pixels."""
        context = self.call("Target.createBrowserContext")["browserContextId"]
        target = self.call("Target.createTarget", url="about:blank", browserContextId=context)
        attached = self.call("Target.attachToTarget", targetId=target["targetId"], flatten=True)
        return Window(self, attached["sessionId"], target["targetId"], width, height, scale)

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self._held:
            part = os.read(self._read, 1 << 20)
            assert part, "the browser has ended"
            self._held += part
        told, _, self._held = self._held.partition(b"\0")
        found: dict[str, Any] = json.loads(told)
        return found

    def _note(self, told: dict[str, Any]) -> None:
        what, window = told.get("params", {}), self.windows.get(told.get("sessionId", ""))
        if window is None:
            return
        if told.get("method") == "Network.requestWillBeSent":
            window.asked.append(what["request"]["url"])
        elif told.get("method") == "Log.entryAdded":
            window.said.append(what["entry"]["text"])
        elif told.get("method") == "Runtime.exceptionThrown":
            window.said.append(str(what["exceptionDetails"]))


class Window:
    """One window."""

    def __init__(
        self,
        browser: Browser,
        session: str,
        target: str,
        width: int,
        height: int,
        scale: float,
    ) -> None:
        self._browser, self._session, self._target = browser, session, target
        self.asked: list[str] = []
        """Every address that its pages asked for."""
        self.said: list[str] = []
        """What they wrote to the console: errors and breaches of policy above all."""
        browser.windows[session] = self
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(f"{domain}.enable")
        self.resize(width, height, scale)

    def call(self, method: str, **what: Any) -> dict[str, Any]:
        """A command to it."""
        return self._browser.call(method, self._session, **what)

    def resize(self, width: int, height: int, scale: float = 1.0) -> None:
        """As a device that is turned."""
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height,
                  deviceScaleFactor=scale, mobile=True)  # fmt: skip

    def close(self) -> None:
        """Close it."""
        self._browser.windows.pop(self._session)
        self._browser.call("Target.closeTarget", targetId=self._target)

    def go(self, url: str) -> None:
        """Open an address."""
        self.call("Page.navigate", url=url)

    def tell(self, script: str) -> Any:
        """What a script comes to."""
        result = self.call("Runtime.evaluate", expression=script, returnByValue=True)
        return result["result"].get("value")

    @property
    def word(self) -> str:
        """What it says of itself: `live` or `NOT LIVE`."""
        return str(self.tell('document.getElementById("word")?.textContent ?? ""'))

    @property
    def why(self) -> str:
        """What stands behind that."""
        return str(self.tell('document.getElementById("why")?.textContent ?? ""'))

    @property
    def text(self) -> str:
        """The page as text."""
        return str(self.tell('document.getElementById("page")?.alt ?? ""'))

    def until(self, holds: Callable[[], bool], meanwhile: Callable[[], None]) -> float:
        """Wait until something holds; the seconds that it took."""
        begun = time.monotonic()
        while not holds():
            assert time.monotonic() - begun < PATIENCE, (self.word, self.why, self.text)
            meanwhile()
            time.sleep(0.02)
        return time.monotonic() - begun

    def picture(self, path: Path) -> None:
        """What it shows, as PNG."""
        path.parent.mkdir(parents=True, exist_ok=True)
        taken = self.call("Page.captureScreenshot", format="png")
        path.write_bytes(base64.b64decode(taken["data"]))
