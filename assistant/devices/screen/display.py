"""What the display tells of its own size: its EDID, where the system shows it (Linux)."""

from __future__ import annotations

from pathlib import Path

from assistant.units import Quantity, quantity

_HEADER = bytes.fromhex("00ffffffffffff00")
_DRM = Path("/sys/class/drm")


def edid_size(edid: bytes) -> tuple[Quantity, Quantity] | None:
    """Width and height of the picture in mm, from an EDID block; None where it tells none.

    The first detailed timing (bytes 54 to 71) gives millimetres; bytes 21 and 22 centimetres,
    zero for a projector. VESA Enhanced EDID Standard, release A2, from memory.
    """
    if len(edid) < 128 or edid[:8] != _HEADER or sum(edid[:128]) % 256:
        return None
    width = edid[66] | (edid[68] & 0xF0) << 4
    height = edid[67] | (edid[68] & 0x0F) << 8
    clock = edid[54] or edid[55]  # zero where it is no timing but another descriptor
    if clock and width and height:
        return quantity(width, "mm"), quantity(height, "mm")
    if edid[21] and edid[22]:
        return quantity(edid[21] * 10, "mm"), quantity(edid[22] * 10, "mm")
    return None


def display_size(root: Path = _DRM) -> tuple[Quantity, Quantity] | None:
    """Width and height of the one connected display; None where that is unknown.

    Also None where several are connected: which of them shows the window is not told.
    """
    sizes = []
    for status in sorted(root.glob("card*-*/status")):
        try:
            if status.read_text(encoding="ascii").strip() != "connected":
                continue
            size = edid_size((status.parent / "edid").read_bytes())
        except OSError:
            continue
        sizes.append(size)
    return sizes[0] if len(sizes) == 1 else None
