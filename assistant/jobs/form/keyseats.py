"""Keyseats and keyways."""

from __future__ import annotations

from assistant.calc.key_tables import key_for_shaft
from assistant.calc.table import rows
from assistant.calc.woodruff import suggested_keys
from assistant.errors import BadInput
from assistant.jobs.form.field import Field, Form, Known, Offer, count, pick, size, yes
from assistant.jobs.form.groups import MILLS, by_machine, cutter, held, milled
from assistant.units import Quantity

Offered = tuple[Quantity | int | str, ...]


def _standard(of: str) -> Offer:
    """The standard's key for the shaft or bore under that key."""

    def offer(known: Known) -> Offered:
        told = known.size(of)
        try:
            key = None if told is None else key_for_shaft(told)
        except BadInput:
            return ()  # no key in the table for it: width and height are asked
        return () if key is None else (key.width, key.height)

    return offer


def _key_width(of: str) -> Offer:
    """The width of the key: as told, else the standard's."""

    def offer(known: Known) -> Offered:
        told = known.size("key.width")
        return (told,) if told is not None else _standard(of)(known)[:1]

    return offer


def _key(of: str, what: str) -> tuple[Field, ...]:
    return (
        yes("?key", "key by the standard", "Is it the standard's key?",
            f"The standard gives a key for each {what}. Another is as the drawing has it.",
            usual="yes", offer=_standard(of),
            offered="Key {offer}, by the standard. Right?"),
        size("key.width", "width of the key", "How wide is the key?",
             "As on the drawing. The seat is cut as wide.", "0.06", "3", given="?key=no"),
        size("key.height", "height of the key", "How high is the key?",
             "As on the drawing. The depth goes by it.", "0.06", "3", given="?key=no"),
    )  # fmt: skip


_SHAFT = size("shaft.diameter", "shaft", "What diameter is the shaft?",
              "As on the drawing. The key and the depth go by it.", "0.2", "11")  # fmt: skip
_BY_KIND = {
    "slotting cutter": ("collar", "collar"),
    "woodruff cutter": ("neck", "neck"),
    "end mill": ("holder", "holder"),
}
_SLIM = tuple(
    size(f"cutter.{key}", name, f"What diameter is the {name} over the work?",
         "What stands over the work beside the teeth decides how deep it reaches.", "0.1", "6",
         given=f"cutter.kind={kind}")
    for kind, (key, name) in _BY_KIND.items()
)  # fmt: skip


def _end_mill(known: Known) -> Offered:
    """An end mill as wide as the key; a slotting cutter's diameter is no standard's."""
    if known.word("cutter.kind") != "end mill":
        return ()
    return _key_width("shaft.diameter")(known)


KEYSEAT = Form(
    "keyseat", "Keyseat", MILLS, "shaft.diameter",
    (
        _SHAFT,
        *_key("shaft.diameter", "shaft"),
        size("key.depth_from_top", "depth from the top", "How deep is it from the top?",
             "Only where the drawing gives it instead of the standard.", "0.02", "3",
             usual="by the standard", aside=True),
        size("seat.length", "length of the seat", "How long is the seat, at full depth?",
             "The cutter runs so far, and its own half comes on top.", "0.1", "60"),
        pick("cutter.kind", "kind of cutter", "Slotting cutter, Woodruff cutter, or end mill?",
             "A slotting cutter runs out at the end; an end mill can be plunged.",
             tuple(_BY_KIND), aside=True, offer=by_machine("slotting cutter", "end mill")),
        pick("seat.end", "end of the seat", "Open at the end of the shaft, or closed?",
             "A closed seat is plunged.", ("open", "closed"), usual="open",
             given="cutter.kind=end mill"),
        size("seat.from_end", "from the end face", "How far from the end face does it begin?",
             "From the face to the near end of the seat.", "0.05", "60",
             given="seat.end=closed"),
        size("cutter.diameter", "cutter", "What diameter is the cutter?",
             "Half of it is in the centre line, all of it in the speed.", "0.06", "8",
             offer=_end_mill, offered="End mill {offer}, as the key. Right?"),
        size("cutter.width", "width of the cutter", "How wide is the cutter?",
             "As marked. It is measured before it cuts.", "0.06", "3",
             given="cutter.kind=slotting cutter|woodruff cutter", aside=True,
             offer=_key_width("shaft.diameter"),
             offered="Cutter {offer} wide, as the key. Right?"),
        *_SLIM,
        count("seat.count", "keyseats in line", "How many in line?",
              "They are cut one after another, without unclamping.", 1, 12, usual="one",
              given="seat.end=closed", aside=True),
        size("seat.pitch", "from one to the next", "How far from one to the next?",
             "From the start of one to the start of the next, where there are several.",
             "0.1", "60", given="seat.end=closed", usual="there is only one", aside=True),
        pick("seat.measure", "measured", "Measured over the key, or to the floor?",
             "How the depth is proved.", ("over the key", "floor"), usual="over the key",
             aside=True),
        held("vice", "v-blocks", "clamps"),
        pick("touch_side", "the side that is touched", "Which side do you touch, back or front?",
             "The back is toward the column. The centre line counts from it.", ("back", "front"),
             usual="back", aside=True),
        pick("fixed_jaw", "the fixed jaw", "Which jaw of the vice is fixed, back or front?",
             "The next shaft's centre goes by it.", ("back", "front"), usual="back", aside=True),
        size("shaft.overhang", "overhang", "How far does the shaft stand out at the cut?",
             "A long end springs.", "0.1", "60", usual="not looked at", aside=True),
        *(one for one in cutter(("end mill",), reach=False)
          if one.key.split(".")[1] in ("teeth", "material", "max_pass", "chip_load",
                                       "surface_speed")),
        yes("cutter.centre_cutting", "cuts to the centre", "Does the end mill cut to the centre?",
            "One that doesn't wants a start hole.", usual="yes", given="cutter.kind=end mill",
            aside=True),
        size("cutter.stick_out", "out of the holder", "How far is the end mill out of its holder?",
             "It has to reach the floor.", "0.1", "10", given="cutter.kind=end mill",
             usual="two diameters", aside=True),
        pick("depth_axis", "the axis that goes deeper", "Depth by the knee, or by the quill?",
             "The handwheel that depths are counted on.", ("knee", "quill"), usual="knee",
             aside=True),
        size("seat.witness", "the witness skim", "How deep is the first skim?",
             "It shows whether the mark is even.", "0", "0.03",
             usual="three thou, or a tenth of a millimetre", aside=True),
        size("seat.finishing_cut", "the finishing cut", "How much is left for the finishing cut?",
             "It is taken from a measurement.", "0", "0.1", usual="the usual cut", aside=True),
        size("seat.aim_inside", "how far inside the limits", "How far inside the limits?",
             "The floor has only one limit: aim inside it.", "0", "0.05",
             usual="three thou, or eight hundredths", aside=True),
    ),
)  # fmt: skip


def _numbers(known: Known) -> tuple[str, ...]:
    """Numbers of the keys that the table suggests for some shaft; others are typed."""
    found = {one for row in rows("woodruff_suggested") for one in row["numbers"].split("|")}
    return tuple(sorted(found, key=lambda one: (len(one), one)))


def _suggested(known: Known) -> Offered:
    """The key of those that suit the shaft which is taken where none is told."""
    told = known.size("shaft.diameter")
    try:
        keys = () if told is None else suggested_keys(told)
    except BadInput:
        return ()
    if not keys:
        return ()
    key = keys[len(keys) // 2]
    return (key.width, key.diameter)


WOODRUFF = Form(
    "woodruff", "Woodruff keyseat", MILLS, "shaft.diameter",
    (
        _SHAFT,
        yes("?key", "key that suits the shaft", "Is it the key that suits the shaft?",
            "The tables suggest keys for each shaft. Another is as the drawing has it.",
            usual="yes", offer=_suggested,
            offered="Woodruff key {offer}, by the table. Right?"),
        pick("?key.by", "key told by", "By its number, or by width and height?",
             "Inch keys have a number, metric ones a size.", ("number", "size"),
             given="?key=no"),
        pick("key.number", "key number", "What number is the key?",
             "The number tells its width and its diameter.",
             _numbers, given="?key.by=number", free=True),
        size("key.width", "width of the key", "How wide is the key?", "As on the drawing.",
             "0.03", "0.75", given="?key.by=size"),
        size("key.height", "height of the key", "How high is the key?", "As on the drawing.",
             "0.05", "1.5", given="?key.by=size"),
        size("seat.from_end", "from the end face",
             "How far from the end face is the middle of the seat?",
             "The cutter is set over that place.", "0.1", "60"),
        pick("seat.measure", "measured", "Measured over the key, or above the shaft?",
             "How the depth is proved.", ("over the key", "above the shaft"),
             usual="over the key", aside=True),
        *cutter(("woodruff cutter",), body="stem", body_called="stem", own=True),
        held("vice", "v-blocks", "clamps"),
        pick("side", "the side that is touched", "Which side do you touch, front or back?",
             "The back is toward the column.", ("front", "back"), usual="front", aside=True),
        *milled(),
    ),
)  # fmt: skip

BROACH = Form(
    "broach", "Keyway by broach", ("press",), "hub.bore",
    (
        size("hub.bore", "bore", "What diameter is the bore?",
             "As on the drawing. The key goes by it.", "0.2", "6"),
        size("hub.length", "length of the hub", "How long is the hub?",
             "So many of the broach's teeth are in it at once.", "0.1", "12"),
        *_key("hub.bore", "bore"),
        size("broach.width", "width of the broach", "How wide is the broach?",
             "As marked on it.", "0.03", "2", offer=_key_width("hub.bore"),
             offered="Broach {offer} wide, as the key. Right?"),
        size("broach.cut_per_pass", "cut a pass", "How much does the broach cut in a pass?",
             "Its last tooth's height less its first, or as its sheet says. The shims go by it.",
             "0.005", "0.3"),
        size("broach.longest", "longest hub", "What is the longest hub for this broach?",
             "As its sheet says: in a longer one its chips have no room.", "0.1", "12",
             usual="not looked at", aside=True),
        size("broach.shortest", "shortest hub", "What is the shortest hub for this broach?",
             "As its sheet says: in a shorter one too few teeth guide it.", "0.1", "12",
             usual="not looked at", aside=True),
    ),
)  # fmt: skip

FORMS = (KEYSEAT, WOODRUFF, BROACH)
