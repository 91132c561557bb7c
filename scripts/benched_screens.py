"""What the screens cost, the one here and those in the network: for scripts/bench."""

from __future__ import annotations

import statistics
import threading
import time
from dataclasses import replace

from benched import spread


def bench_shown(job: str, rounds: int) -> dict[str, float]:
    """Milliseconds of the main thread a command, and a look of its loop in which nothing happens,
    without second screens and with a server of them that three devices look at; by turns, so that
    a busy machine is busy for both."""
    from functools import partial

    from assistant.app.shared_screen import SharedScreen
    from assistant.devices.hidden import HiddenScreen
    from assistant.devices.screen.remote import RemoteView
    from assistant.devices.viewers import Viewers, Where
    from tests.devices.viewing import free_port, let_in, until
    from tests.factories import Job, expected_words

    where = Where("127.0.0.1", free_port())
    viewers = Viewers(where, partial(RemoteView, "reading"))
    viewers.invite(True)
    for size in ((720, 1228), (828, 1740), (1280, 774)):
        events = let_in(viewers).events(*size)
        threading.Thread(target=lambda events=events: list(events), daemon=True).start()
        viewers.invite(True)
    until(viewers, lambda: viewers.report.looking == 3)
    took = {"alone": [], "shown": []}
    looks = {"alone": [], "shown": []}
    for turn in range(2 * rounds):
        name = ("alone", "shown")[turn % 2]
        bench = Job(job)
        if name == "shown":
            shared = SharedScreen(
                HiddenScreen(), viewers, lambda: viewers, keys=True, tell=lambda _: None
            )
            bench.assistant.devices.screen = shared
        while not bench.state.finished:
            started = time.thread_time()
            bench.try_saying(expected_words(bench.state))
            took[name].append((time.thread_time() - started) * 1000)
            for _ in range(3):
                started = time.thread_time()
                bench.assistant.devices.screen.keys()
                bench.assistant.show()
                looks[name].append((time.thread_time() - started) * 1000)
                time.sleep(0.002)
    viewers.close()
    found = {f"turn_{name}_ms": statistics.median(values) for name, values in took.items()}
    found |= {f"look_{name}_ms": statistics.median(values) for name, values in looks.items()}
    return found | {"turn_ratio": found["turn_shown_ms"] / found["turn_alone_ms"]}


def bench_redraw(rounds: int) -> dict[str, float]:
    """Milliseconds for one changed page."""
    from assistant.devices.screen import WindowScreen
    from tests.factories import Job

    job = Job()
    job.to_step("roughing-2-set")
    screen = WindowScreen((1920, 1080))
    took = []
    for turn in range(rounds):
        page = replace(job.glance, number=f"0.06{turn % 10}", heard=f"heard {turn}")
        started = time.perf_counter()
        screen.show(page)
        took.append((time.perf_counter() - started) * 1000)
    screen.close()
    return spread(took)
