"""What a person is asked to begin such a job: keyseat."""

from __future__ import annotations

from assistant.jobs.common.form import held
from assistant.jobs.field import Known, count, pick, size, yes
from assistant.jobs.milling.form import by_machine, cutter
from assistant.jobs.milling.key_form import SHAFT, Offered, key_fields, key_width

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
    return key_width("shaft.diameter")(known)


FIELDS = (
    SHAFT,
    *key_fields("shaft.diameter", "shaft"),
    size("key.depth_from_top", "depth from the top", "How deep is it from the top?",
         "Only where the drawing gives it instead of the standard.", "0.02", "3",
         usual="by the standard", aside=True, below="shaft.diameter"),
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
         offer=key_width("shaft.diameter"),
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
)  # fmt: skip
