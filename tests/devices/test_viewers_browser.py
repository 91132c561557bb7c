"""The second screen in a real browser: what it shows, and when it says that it isn't live.

Pictures of it are kept in out/second-screens/.
"""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from assistant.devices.viewers import Viewers
from tests.devices.browser import Browser, Window, needs_a_browser
from tests.devices.glances import GLANCES
from tests.devices.viewing import serving, until

pytestmark = needs_a_browser

PICTURES = Path(__file__).resolve().parents[2] / "out" / "second-screens"
MOVE, CUT = GLANCES["move"], GLANCES["cut"]
SIZES = [(360, 640, 3.0), (414, 896, 2.0), (1280, 800, 1.0)]
LIMIT = 2.0
"""Seconds in which it has to say that it lost touch."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with Browser() as opened:
        yield opened


@pytest.fixture
def viewers() -> Iterator[Viewers]:
    with serving(MOVE) as begun:
        yield begun


def opened(browser: Browser, viewers: Viewers, size: tuple[int, int, float]) -> Window:
    """A window that scanned the code, and shows the page."""
    if viewers.report.invite is None:
        viewers.invite(True)
        until(viewers, lambda: viewers.report.invite is not None)
    invite = viewers.report.invite
    assert invite is not None
    window = browser.window(*size)
    window.go(f"{invite.address}/#{invite.code.replace('-', '')}")
    window.until(lambda: window.word == "live", viewers.look)
    until(viewers, lambda: viewers.report.invite is None)
    return window


@contextmanager
def going_on(viewers: Viewers) -> Iterator[threading.Event]:
    """The loop of a job, in a thread, while the browser is asked; set, it stops."""
    stop = threading.Event()

    def go() -> None:
        while not stop.is_set():
            viewers.look()
            time.sleep(0.02)

    thread = threading.Thread(target=go)
    thread.start()
    try:
        yield stop
    finally:
        stop.set()
        thread.join()


WATCHED = """
window.lastBeat = Date.now();
window.deadAt = 0;
source.addEventListener("beat", (event) => {
  if (JSON.parse(event.data).live && !deadAt) lastBeat = Date.now();
});
new MutationObserver(() => {
  if (word.textContent !== "live" && !deadAt) deadAt = Date.now();
}).observe(word, { childList: true });
"""
"""From the last sign of life, which came before anything was lost, to the words "not live"."""


def seconds_until_dead(window: Window) -> float:
    """By the page's own clock: a busy machine answers this side late."""
    window.until(lambda: bool(window.tell("deadAt")), int)
    return float(window.tell("deadAt - lastBeat")) / 1000


def is_grey(window: Window) -> bool:
    shade = window.tell('getComputedStyle(document.getElementById("page")).opacity')
    hidden = window.tell('document.getElementById("page").getAttribute("aria-hidden")')
    return float(shade) < 0.2 and hidden == "true" and window.word == "NOT LIVE"


def test_it_shows_the_page_whole_at_every_size(browser: Browser, viewers: Viewers) -> None:
    for size in SIZES:
        viewers.show(MOVE)
        window = opened(browser, viewers, size)
        for name in ("move", "cut", "measure", "ask", "trouble", "touch"):
            looks_whole(window, viewers, name, size)
        window.close()
        viewers.invite(True)
        until(viewers, lambda: viewers.report.invite is not None)


def looks_whole(window: Window, viewers: Viewers, name: str, size: tuple[int, int, float]) -> None:
    """The picture fills the window, in its own pixels, with nothing cut off."""
    viewers.show(GLANCES[name])
    window.until(
        lambda: GLANCES[name].instruction in window.text and window.word == "live", viewers.look
    )
    path = PICTURES / f"{name}-{size[0]}x{size[1]}.png"
    window.picture(path)
    shown = window.tell(
        "(({x, y, width, height}) => [x, y, width, height])"
        '(document.getElementById("page").getBoundingClientRect())'
    )
    assert shown == [0, 26, size[0], size[1] - 26]
    natural = window.tell("[page.naturalWidth, page.naturalHeight]")
    assert natural[0] / natural[1] == pytest.approx(size[0] / (size[1] - 26), rel=0.01)
    assert natural[0] >= size[0]
    with Image.open(path) as picture:
        pixels = np.asarray(picture.convert("RGB"), dtype=int)
    assert (pixels.min(axis=2) > 200).mean() > 0.005  # there is type on it


def test_ten_devices_show_the_same_and_no_address_but_its_own(browser: Browser) -> None:
    with serving(MOVE) as viewers:
        windows = [opened(browser, viewers, SIZES[number % 3]) for number in range(10)]
        with going_on(viewers):
            for glance in (CUT, GLANCES["measure"], MOVE):
                viewers.show(glance)
                for window in windows:
                    window.until(lambda w=window, g=glance: g.instruction in w.text, int)  # type: ignore[misc]
            assert [window.word for window in windows] == ["live"] * 10
            assert [window.tell("document.title") for window in windows] == ["Wheelcall"] * 10
        asked = [url for window in windows for url in window.asked]
        origins = {"/".join(url.split("/")[:3]) for url in asked if not url.startswith("data:")}
        assert origins <= {viewers.where.url, "about:blank"}
        assert viewers.where.url in origins
        assert [window.said for window in windows] == [[]] * 10


def test_a_wrong_or_used_code_is_told_and_typed_anew(browser: Browser, viewers: Viewers) -> None:
    assert viewers.report.invite is not None
    code = viewers.report.invite.code
    window = browser.window(*SIZES[0])
    window.go(f"{viewers.where.url}/#2222222")
    window.until(lambda: "wrong, or was used" in window.why, viewers.look)
    assert window.tell("location.href") == f"{viewers.where.url}/"  # no code stays in it
    window.picture(PICTURES / "wrong-code.png")
    window.tell(f'code.value = "{code.lower()}"; form.requestSubmit()')
    window.until(lambda: window.word == "live", viewers.look)
    other = browser.window(*SIZES[0])
    other.go(f"{viewers.where.url}/#{code}")
    other.until(lambda: "wrong, or was used" in other.why, viewers.look)
    assert other.word == ""
    assert not window.tell("document.cookie")  # no script gets at it


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGSTOP])
def test_a_server_that_is_gone_or_stops_is_not_live_in_two_seconds(
    browser: Browser, viewers: Viewers, how: signal.Signals
) -> None:
    window = opened(browser, viewers, SIZES[0])
    with going_on(viewers):
        window.tell(WATCHED)
        time.sleep(1.0)
        assert window.word == "live"
        os.kill(viewers.pid, how)
        took = seconds_until_dead(window)
        assert is_grey(window)
        window.picture(PICTURES / f"not-live-{how.name}.png")
    assert took < LIMIT, took


def test_nor_is_one_whose_program_stops(browser: Browser, viewers: Viewers) -> None:
    window = opened(browser, viewers, SIZES[2])
    with going_on(viewers) as stop:
        window.tell(WATCHED)
        time.sleep(1.0)
        assert window.word == "live"
        stop.set()
        took = seconds_until_dead(window)
        assert is_grey(window)
        assert "program doesn't answer" in window.why
        window.picture(PICTURES / "not-live-program.png")
    assert took < LIMIT, took
    viewers.show(CUT)
    with going_on(viewers):  # and comes back with the page of now
        window.until(lambda: window.word == "live", int)
        assert CUT.instruction in window.text


def test_a_server_that_goes_on_after_a_stop_shows_no_old_page(
    browser: Browser, viewers: Viewers
) -> None:
    """What was in its pipe comes at once, and late: the page of then isn't live before it is that
    of now."""
    window = opened(browser, viewers, SIZES[0])
    window.tell(
        "window.observed = [];"
        "new MutationObserver(() => observed.push([word.textContent, page.alt]))"
        ".observe(document.body, {attributes: true, childList: true, subtree: true})"
    )
    with going_on(viewers):
        os.kill(viewers.pid, signal.SIGSTOP)
        time.sleep(2.5)
        viewers.show(CUT)
        time.sleep(0.5)
        os.kill(viewers.pid, signal.SIGCONT)
        window.until(lambda: window.word == "live" and CUT.instruction in window.text, int)
        seen = window.tell("observed")
    dead = next(place for place, (word, _) in enumerate(seen) if word == "NOT LIVE")
    assert [alt for word, alt in seen[dead:] if word == "live" and CUT.instruction not in alt] == []


def test_a_device_that_slept_asks_anew_before_it_is_live(
    browser: Browser, viewers: Viewers
) -> None:
    """Its clock has gone on, and nothing else: as after sleep."""
    window = opened(browser, viewers, SIZES[0])
    with going_on(viewers):
        window.tell("window.words = []; new MutationObserver(() => words.push(word.textContent))"
                    ".observe(word, {childList: true})")  # fmt: skip
        window.tell("(() => { const real = Date.now; Date.now = () => real() + 600000; })()")
        window.until(lambda: "NOT LIVE" in window.tell("words"), int)
        window.until(lambda: window.word == "live", int)
        # out of sight it greys at once, before the browser may stop it
        window.tell(
            'Object.defineProperty(document, "visibilityState", {value: "hidden", '
            "configurable: true}); document.dispatchEvent(new Event('visibilitychange'))"
        )
        assert is_grey(window)
        time.sleep(1.0)
        assert is_grey(window), "what comes while nobody looks doesn't make it live"
        window.tell("delete document.visibilityState;"
                    "document.dispatchEvent(new Event('visibilitychange'))")  # fmt: skip
        window.until(lambda: window.word == "live", int)


def test_turned_it_has_a_page_of_its_new_size(browser: Browser, viewers: Viewers) -> None:
    window = opened(browser, viewers, (360, 640, 1.0))
    with going_on(viewers):
        window.resize(640, 360)
        window.until(lambda: window.tell("[page.naturalWidth, page.naturalHeight]") == [640, 334],
                     int)  # fmt: skip
        window.until(lambda: window.word == "live", int)


def test_the_end_is_told(browser: Browser, viewers: Viewers) -> None:
    window = opened(browser, viewers, SIZES[0])
    viewers.close()
    window.until(lambda: "has ended" in window.why, int)
    assert is_grey(window)


def test_a_long_page_turns_its_leaves(browser: Browser, viewers: Viewers) -> None:
    lines = tuple(f"line {number} of what there is to know" for number in range(34))
    viewers.show(replace(GLANCES["quiet"], detail=lines))
    window = opened(browser, viewers, (360, 640, 1.0))
    with going_on(viewers):
        first = window.tell("page.src")
        window.until(lambda: window.tell("page.src") != first, int)
        assert window.word == "live"
        assert "line 33" in window.text
