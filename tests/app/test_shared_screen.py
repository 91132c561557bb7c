"""The page of a job with second screens: the invitation, its key, and what they suffer."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.app.shared_screen import KEY, SharedScreen
from assistant.devices.hidden import HiddenScreen
from assistant.devices.viewers.messages import Report
from assistant.present.glance import Glance, Invite
from tests.devices.glances import GLANCES
from tests.factories import Job

MOVE, CUT = GLANCES["move"], GLANCES["cut"]
PICTURE = ("0000", "0110", "0110", "0000")


class Handful:
    """Stands in for `Viewers`: answers as it is told to."""

    def __init__(self) -> None:
        self.trouble = ""
        self.report = Report(0)
        self.shown: list[Glance] = []
        self.looks = 0
        self.codes = 0
        self.closed = False

    def show(self, glance: Glance) -> None:
        self.shown.append(glance)

    def invite(self, wanted: bool) -> None:
        self.codes += wanted
        code = f"CODE-{self.codes:04}"
        invite = Invite("http://192.168.1.20:8733", code, PICTURE) if wanted else None
        self.report = replace(self.report, invite=invite)

    def look(self) -> None:
        self.looks += 1

    def close(self) -> None:
        self.closed = True

    def let_one_in(self) -> None:
        self.report = replace(self.report, invite=None, let_in=self.report.let_in + 1, looking=1,
                              last_from="192.168.1.30")  # fmt: skip


class Bench:
    """A shared screen, and both of its sides."""

    def __init__(self, *, keys: bool = True) -> None:
        self.here, self.there, self.others = HiddenScreen(), Handful(), [Handful()]
        self.told: list[str] = []
        self.screen = SharedScreen(
            self.here, self.there, lambda: self.others[0],  # type: ignore[arg-type, return-value]
            keys=keys, tell=self.told.append,
        )  # fmt: skip

    @property
    def page(self) -> Glance:
        return self.here.shown[-1]

    def press(self, *keys: str) -> list[str]:
        self.here.pressed += keys
        return list(self.screen.keys())


@pytest.fixture
def bench() -> Bench:
    made = Bench()
    made.screen.show(MOVE)
    return made


def test_the_invitation_stands_beside_the_page_until_the_first_device_is_in(bench: Bench) -> None:
    assert bench.page.invite is not None
    assert replace(bench.page, invite=None) == MOVE
    assert bench.told == ["Second screen: http://192.168.1.20:8733 with the code CODE-0001."]
    bench.there.let_one_in()
    bench.screen.show(MOVE)
    assert bench.page == MOVE
    assert bench.told[1:] == ["A second screen is let in (192.168.1.30)."]
    bench.screen.show(CUT)
    assert bench.page == CUT


def test_second_screens_get_the_page_without_it(bench: Bench) -> None:
    for glance in (MOVE, CUT, CUT, MOVE):
        bench.screen.show(glance)
    assert bench.there.shown == [MOVE, CUT, MOVE]


def test_a_key_gives_a_code_for_another_device_and_hides_it(bench: Bench) -> None:
    bench.there.let_one_in()
    assert bench.press("f2", "f2 released", "enter") == ["enter"]
    assert bench.page.invite is not None
    assert bench.page.invite.code == "CODE-0002"
    assert bench.press(KEY) == []
    assert bench.page.invite is None
    assert bench.press(KEY, KEY) == []
    assert bench.page.invite is None


def test_other_keys_are_the_jobs(bench: Bench) -> None:
    assert bench.press("enter", "f1", "quit", "f9 released") == ["enter", "f1", "quit",
                                                                 "f9 released"]  # fmt: skip


def test_without_keys_there_is_always_a_code_and_it_is_told() -> None:
    bench = Bench(keys=False)
    bench.screen.show(MOVE)
    bench.there.let_one_in()
    bench.screen.show(MOVE)
    bench.screen.show(MOVE)
    assert bench.page.invite is not None
    assert bench.told[-1].endswith("with the code CODE-0002.")


def test_what_it_suffers_is_told_on_the_page_and_stops_nothing(bench: Bench) -> None:
    bench.there.trouble, bench.there.report = "its process ended", Report(0)
    bench.screen.show(CUT)
    assert bench.page.trouble[-1] == "Second screen: its process ended. F2 begins it again."
    assert bench.page.invite is None
    assert replace(bench.page, trouble=CUT.trouble) == CUT
    assert bench.told[-1] == "Second screen: its process ended."
    bench.screen.show(CUT)
    assert bench.told.count("Second screen: its process ended.") == 1
    assert bench.press(KEY) == []
    assert bench.there.closed
    assert bench.others[0].shown == [CUT]
    assert bench.page.trouble == CUT.trouble
    assert bench.page.invite is not None


def test_wrong_codes_are_told_with_their_address(bench: Bench) -> None:
    bench.there.report = replace(bench.there.report, refused=1, last_from="192.168.1.77")
    bench.screen.show(MOVE)
    assert bench.told[-1] == "Second screen: a wrong code was told (192.168.1.77)."


def test_trouble_of_the_screen_itself_is_passed_on(bench: Bench) -> None:
    assert bench.screen.trouble == ""
    bench.here.trouble = "the display is gone"  # type: ignore[attr-defined]
    assert bench.screen.trouble == "the display is gone"


def test_both_are_closed(bench: Bench) -> None:
    bench.screen.close()
    assert bench.there.closed


def test_a_whole_job_is_shown_there_page_by_page() -> None:
    job = Job("keyseat-inch")
    bench = Bench()
    job.assistant.devices.screen = bench.screen
    job.say("checked")
    job.say("checked")
    assert len(bench.there.shown) >= 2
    assert bench.there.shown[-1].invite is None
    assert bench.page.invite is not None
    assert replace(bench.page, invite=None) == bench.there.shown[-1]
