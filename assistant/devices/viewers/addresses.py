"""Where second screens are served: one private address of this computer, and never another."""

from __future__ import annotations

import ipaddress
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from assistant.errors import BadInput, DeviceMissing

DEVICE = "second screen"
PORT = 8733
"""Where none is given; IANA has given it to nobody, from memory."""
PRIVATE = tuple(
    ipaddress.ip_network(text) for text in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16")
)
"""RFC 1918, section 3: addresses that no router of the internet passes on."""
LOOPBACK = ipaddress.ip_network("127.0.0.0/8")
INNER = ("br-", "docker", "lo", "podman", "tap", "tun", "utun", "veth", "virbr", "vmnet", "wg")
"""How the names of networks begin that lead to no shop: of virtual machines, or elsewhere."""
WANT = "wanted a private address of this computer, as 192.168.1.20 or 192.168.1.20:8734"


@dataclass(frozen=True, slots=True)
class Where:
    """One address and port."""

    address: str
    port: int
    others: tuple[str, ...] = ()
    """Further addresses that would do."""

    @property
    def host(self) -> str:
        """As a browser has to name it."""
        return f"{self.address}:{self.port}"

    @property
    def url(self) -> str:
        """What is typed into a browser."""
        return f"http://{self.host}"


def own_addresses() -> dict[str, list[str]]:
    """The IPv4 addresses of this computer by the name of their network card. Asks the system, and
    nobody else. Raises `DeviceMissing` without the extra."""
    try:
        import psutil
    except ImportError as error:
        raise library_missing(error) from None
    found: dict[str, list[str]] = {}
    for name, addresses in psutil.net_if_addrs().items():
        texts = [one.address for one in addresses if one.family.name == "AF_INET"]
        if texts:
            found[name] = texts
    return found


def library_missing(error: ImportError) -> DeviceMissing:
    """What to say where a package isn't there."""
    return DeviceMissing(
        DEVICE,
        f"the package {error.name} isn't installed",
        "pip install 'wheelcall[show]' gets it; in a clone scripts/run does",
    )


def is_private(text: str) -> bool:
    """Whether it is an address of a private network."""
    address = ipaddress.IPv4Address(text)
    return any(address in network for network in PRIVATE)


def where_to_listen(asked: str = "", cards: Mapping[str, Sequence[str]] | None = None) -> Where:
    """The address that was `asked` for, as ADDRESS or ADDRESS:PORT; else the first private one.

    Raises `BadInput` for what is no private address of this computer (its own loopback is one, for
    a browser on it), `DeviceMissing` where it has none. `cards` are those of `own_addresses`.
    """
    cards = own_addresses() if cards is None else cards
    likely = sorted(cards, key=lambda name: name.startswith(INNER))
    own = [text for name in likely for text in cards[name] if is_private(text)]
    outer = [text for name in cards if not name.startswith(INNER) for text in cards[name]]
    if asked:
        return _asked(asked, own)
    own = [text for text in own if text in outer]
    if not own:
        raise DeviceMissing(
            DEVICE,
            "this computer has no address in a private network (10.x, 172.16 to 172.31, 192.168.x)",
            "join the shop's network first, or name an address: --show-at ADDRESS",
        )
    return Where(own[0], PORT, tuple(own[1:]))


def _asked(text: str, own: Sequence[str]) -> Where:
    address, colon, port = text.strip().partition(":")
    has = f"; it has {', '.join(own)}" if own else ""
    try:
        parsed = ipaddress.IPv4Address(address)
        number = int(port) if colon else PORT
    except ValueError:
        raise BadInput("--show-at", text, WANT + has) from None
    if not 0 < number < 65536:
        raise BadInput("--show-at", text, "wanted a port from 1 to 65535")
    if parsed not in LOOPBACK and address not in own:
        raise BadInput("--show-at", text, WANT + has)
    return Where(address, number)
