"""Who is let in to look, and where second screens are served."""

from __future__ import annotations

import pytest

from assistant.devices.viewers.addresses import PORT, Where, own_addresses, where_to_listen
from assistant.devices.viewers.gate import (
    GONE_SECONDS,
    LENGTH,
    MOST,
    SIGNS,
    TRIES,
    TRIES_OF_ALL,
    TRIES_SECONDS,
    Gate,
    Refused,
    shown,
)
from assistant.devices.viewers.stream import LARGEST, LEAST, MOST_PIXELS, size_for
from assistant.errors import BadInput, DeviceMissing


class Time:
    """A clock that the test owns."""

    now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def time() -> Time:
    return Time()


@pytest.fixture
def gate(time: Time) -> Gate:
    return Gate(time)


def refused(gate: Gate, code: str, address: str = "192.168.1.30") -> int:
    with pytest.raises(Refused) as caught:
        gate.enter(code, address)
    return caught.value.status


def test_a_code_is_for_one_device(gate: Gate) -> None:
    code = gate.offer()
    token = gate.enter(code, "192.168.1.30")
    assert gate.device(token) is not None
    assert refused(gate, code) == 403
    assert gate.device("") is None
    assert gate.device(code) is None


def test_it_is_taken_as_it_is_read(gate: Gate) -> None:
    code = gate.offer()
    assert len(code) == LENGTH
    assert gate.enter(f" {shown(code).lower()} ", "192.168.1.30")


def test_no_code_no_way_in(gate: Gate) -> None:
    for told in ("", "-", "        "):
        assert refused(gate, told) == 403


def test_a_code_that_is_hidden_or_replaced_holds_no_more(gate: Gate) -> None:
    first = gate.offer()
    second = gate.offer()
    assert refused(gate, first) == 403
    gate.withdraw()
    assert refused(gate, second) == 403


def test_codes_differ_and_have_no_sign_that_is_mistaken_for_another(gate: Gate) -> None:
    codes = {gate.offer() for _ in range(500)}
    assert len(codes) == 500
    assert set("".join(codes)) <= set(SIGNS)
    assert not set(SIGNS) & set("01OIL")


def test_wrong_tries_are_limited_each_and_together(gate: Gate, time: Time) -> None:
    code = gate.offer()
    for _ in range(TRIES):
        assert refused(gate, "2222-2222") == 403
    assert refused(gate, "2222-2222") == 429
    assert refused(gate, code) == 429, "the right one, too: else it could be tried on"
    for number in range(TRIES_OF_ALL - TRIES):
        assert refused(gate, "3333-3333", f"192.168.1.{40 + number}") == 403
    assert refused(gate, code, "192.168.1.99") == 429
    time.now += TRIES_SECONDS + 1
    assert gate.enter(code, "192.168.1.30")


def test_ten_look_and_the_next_has_to_wait_for_one_that_is_gone(gate: Gate, time: Time) -> None:
    tokens = [gate.enter(gate.offer(), "192.168.1.30") for _ in range(MOST)]
    code = gate.offer()
    assert refused(gate, code) == 409
    time.now += GONE_SECONDS + 1
    for token in tokens[1:]:
        device = gate.device(token)
        assert device is not None
        device.seen = time.now
    assert gate.enter(code, "192.168.1.30"), "the code that was told in vain still holds"
    assert gate.device(tokens[0]) is None
    assert gate.device(tokens[1]) is not None


# -- addresses ------------------------------------------------------------------------------------

CARDS = {
    "lo": ["127.0.0.1"],
    "docker0": ["172.17.0.1"],
    "wlan0": ["192.168.1.20"],
    "eth0": ["203.0.113.7", "10.1.2.3"],
}
"""Invented, but for the loopback; 203.0.113.0/24 is for documentation (RFC 5737)."""


def test_it_listens_on_a_private_address_of_the_shop() -> None:
    where = where_to_listen("", CARDS)
    assert where == Where("192.168.1.20", PORT, ("10.1.2.3",))
    assert where.url == f"http://192.168.1.20:{PORT}"


@pytest.mark.parametrize(
    ("asked", "host"),
    [
        ("10.1.2.3", f"10.1.2.3:{PORT}"),
        ("10.1.2.3:9000", "10.1.2.3:9000"),
        ("127.0.0.1:9000", "127.0.0.1:9000"),
        ("172.17.0.1", f"172.17.0.1:{PORT}"),
    ],
)
def test_or_on_the_one_that_is_named(asked: str, host: str) -> None:
    assert where_to_listen(asked, CARDS).host == host


@pytest.mark.parametrize(
    "asked",
    ["203.0.113.7", "0.0.0.0", "192.168.1.21", "shop", "::1", "192.168.1.20:0",
     "192.168.1.20:70000", "192.168.1.20:http", "169.254.1.1"],
)  # fmt: skip
def test_never_on_another(asked: str) -> None:
    """A public address least of all; nor on every address at once."""
    with pytest.raises(BadInput) as caught:
        where_to_listen(asked, CARDS)
    assert "--show-at" in str(caught.value)
    assert asked in str(caught.value)


@pytest.mark.parametrize("cards", [{}, {"lo": ["127.0.0.1"]}, {"eth0": ["203.0.113.7"]},
                                   {"docker0": ["172.17.0.1"]}])  # fmt: skip
def test_without_a_private_address_there_is_none(cards: dict[str, list[str]]) -> None:
    with pytest.raises(DeviceMissing, match="private network"):
        where_to_listen("", cards)


def test_this_computer_tells_its_addresses() -> None:
    assert ["127.0.0.1"] in [texts[:1] for texts in own_addresses().values()]


# -- sizes ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "window", [(360, 614), (720, 1228), (1280, 774), (2560, 1548), (1, 1), (20_000, 20_000)]
)
def test_a_picture_has_the_form_of_its_window(window: tuple[int, int]) -> None:
    width, height = size_for(*window)
    assert LEAST[0] <= width <= LARGEST[0]
    assert LEAST[1] <= height <= LARGEST[1]
    assert width * height <= MOST_PIXELS * 1.01
    if min(window) > LEAST[0]:
        assert width / height == pytest.approx(window[0] / window[1], rel=0.01)
