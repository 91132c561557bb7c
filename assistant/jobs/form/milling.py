"""Work on the mill that isn't a hole: flats, faces, slots, steps, gears, blocks."""

from __future__ import annotations

from assistant.jobs.form.field import Field, Form, Kind, count, number, pick, size, toleranced, yes
from assistant.jobs.form.groups import MILLS, by_machine, cutter, held, milled, on_a_block, same_as

_BLOCK = held("vice", "clamps", "angle plate")
_ANY = ("end mill", "slotting cutter", "face mill")
_FROM_SIDE = "From the touched side."


def _block(*fields: Field) -> tuple[Field, ...]:
    return (*fields, _BLOCK, *milled(), *on_a_block())


FACE = Form(
    "face", "Facing", MILLS, "face.height",
    _block(
        size("face.width", "width", "How wide is the face?", "Rows are counted across it.",
             "0.1", "40"),
        size("face.stock", "stock", "How thick is it now?", "What there is before the first cut.",
             "0.05", "20"),
        *toleranced("face.height", "thickness", "What thickness is wanted?",
                    "As on the drawing.", "0.03", "20", limits_aside=False),
        *cutter(_ANY, kind=by_machine("slotting cutter", "face mill")),
    ),
)  # fmt: skip

STEP = Form(
    "step", "Step", MILLS, "step.width",
    _block(
        *toleranced("step.width", "width of the step", "How wide is the step?",
                    "From the touched side in.", "0.03", "20"),
        *toleranced("step.depth", "depth of the step", "How deep is the step?",
                    "From the top down.", "0.01", "10"),
        *cutter(_ANY, kind=by_machine("slotting cutter", "end mill")),
    ),
)  # fmt: skip

SLOT = Form(
    "slot", "Slot", MILLS, "slot.width",
    _block(
        *toleranced("slot.width", "width of the slot", "How wide is the slot?",
                    "As on the drawing.", "0.03", "10"),
        *toleranced("slot.depth", "depth of the slot", "How deep is the slot?",
                    "From the top down.", "0.01", "10"),
        *toleranced("slot.from_side", "side to the middle", "How far from the side is its middle?",
                    "From the touched side to the middle of the slot.", "0.03", "40"),
        pick("?slot.ends", "ends", "Right through, open at one end, or closed at both?",
             "A slot with an end is made by the table's dial.", ("through", "open", "closed"),
             usual="through"),
        *toleranced("slot.length", "length of the slot", "How long is the slot, over its ends?",
                    "Its round ends are in it.", "0.05", "60", given="?slot.ends=open|closed"),
        *toleranced("slot.from_end", "from the end face",
                    "How far from the end face does it begin?",
                    "From the right-hand face to the near end of the slot.", "0.05", "60",
                    given="?slot.ends=closed"),
        size("slot.corner", "corner", "What is the largest radius in its corners?",
             "Half the cutter is left there.", "0.01", "2", given="?slot.ends=open|closed",
             usual="any", aside=True),
        *cutter(("end mill", "slotting cutter"),
                kind=by_machine("slotting cutter", "end mill")),
    ),
)  # fmt: skip

SLITTING = Form(
    "slitting", "Slitting", ("horizontal mill",), "cut.piece",
    _block(
        *toleranced("cut.piece", "the piece", "How far from the side is the slit?",
                    "From the touched side to the near edge of the slit.", "0.02", "20"),
        yes("cut.through", "right through", "Right through?", "Else to a depth.", usual="no"),
        size("cut.thickness", "thickness", "How thick is the work?",
             "The saw goes a little deeper.", "0.01", "4", given="cut.through=yes"),
        *toleranced("cut.depth", "depth of the slit", "How deep is the slit?",
                    "From the top down.", "0.01", "4", given="cut.through=no"),
        size("cut.length", "length of the slit", "How long is the slit?",
             "The saw's own half comes on top.", "0.05", "40"),
        *cutter(("slitting saw",), called="saw", body_called="collars", body_needed=True,
                wide="0.005"),
    ),
)  # fmt: skip

TSLOT = Form(
    "tslot", "T-slot", ("vertical mill",), "tslot.throat",
    _block(
        size("tslot.throat", "throat", "How wide is the throat?",
             "The standard gives the rest of the slot for it.", "0.15", "2.2"),
        size("tslot.from_side", "side to the middle", "How far from the side is its middle?",
             _FROM_SIDE, "0.1", "40"),
        *cutter(("end mill",), diameter=same_as("tslot.throat"),
                offered="End mill {offer}, as the throat. Right?"),
        *cutter(("t-slot cutter",), table="t_cutter", called="T-slot cutter",
                body_called="neck"),
    ),
)  # fmt: skip

DOVETAIL = Form(
    "dovetail", "Dovetail", ("vertical mill",), "dovetail.wide",
    _block(
        pick("dovetail.kind", "kind", "Male, or female?", "A tongue, or a slot.",
             ("male", "female")),
        *toleranced("dovetail.wide", "the wide side", "How wide is it, on the wide side?",
                    "At the floor of a female one, at the top of a male.", "0.1", "20"),
        size("dovetail.depth", "depth", "How deep is it?", "From the top down.", "0.03", "4"),
        number("dovetail.degrees", "angle", "What angle, in degrees?", "Of its sides.", "30",
               "80", usual="60", aside=True),
        size("dovetail.pin", "pins", "What diameter are the pins?",
             "Two of a size: it is measured over or between them.", "0.03", "2"),
        *cutter(("dovetail cutter",)),
    ),
)  # fmt: skip

SQUARE_BLOCK = Form(
    "square-block", "Squared block", MILLS, "block.thickness",
    _block(
        *(size(f"stock.{way}", f"stock {way}", f"What {way} is the stock?",
               "What there is before the first cut.", "0.1", "40")
          for way in ("thickness", "width", "length")),
        *(field for way in ("thickness", "width", "length")
          for field in toleranced(f"block.{way}", way, f"What {way} is wanted?",
                                  "As on the drawing.", "0.1", "40")),
        *cutter(("face mill", "end mill"), kind=by_machine("end mill", "face mill")),
        size("skim", "the skim", "How deep is a skim that only cleans up?",
             "The faces that aren't cut to a size take so much.", "0.001", "0.1",
             usual="the usual cut", aside=True),
    ),
)  # fmt: skip

FLATS = Form(
    "flats", "Flats", ("vertical mill",), "flats.across",
    (
        size("flats.stock", "bar", "What diameter is the bar?",
             "What there is before the first cut.", "0.1", "8"),
        count("flats.sides", "sides", "How many sides?", "A square has four, a hexagon six.", 1,
              60),
        *toleranced("flats.across", "across the flats", "What size across the flats?",
                    "As on the drawing.", "0.05", "8", limits_aside=False),
        size("flats.length", "length of the flats", "How long are the flats?",
             "From the end face.", "0.05", "20"),
        *cutter(("end mill",)),
        held("dividing head", "block"),
        *milled(),
    ),
)  # fmt: skip

GEAR = Form(
    "gear", "Spur gear", ("horizontal mill",), "gear.teeth",
    (
        count("gear.teeth", "teeth", "How many teeth?", "The dividing goes by them.", 12, 240),
        pick("?gear.by", "gear told by", "By diametral pitch, or by module?",
             "As the drawing has it.", ("diametral pitch", "module")),
        number("gear.diametral_pitch", "diametral pitch", "What diametral pitch?",
               "Teeth to an inch of pitch diameter.", "1", "200",
               given="?gear.by=diametral pitch", kind=Kind.NUMBER),
        size("gear.module", "module", "What module, in millimetres?",
             "Millimetres of pitch diameter a tooth.", "0.005", "1", given="?gear.by=module"),
        number("gear.pressure_angle", "pressure angle", "What pressure angle, in degrees?",
               "As marked on the cutter.", "1", "45", usual="20", aside=True),
        size("gear.face", "face", "How wide is the face?", "The cutter runs right over it.",
             "0.05", "8"),
        size("gear.thinner", "thinner", "How much thinner is the tooth, for play?",
             "So that two gears turn.", "0", "0.05", usual="four thou, or a tenth", aside=True),
        *cutter(("gear cutter",)),
        held("dividing head"),
        *milled(),
    ),
)  # fmt: skip

FORMS = (FACE, STEP, SLOT, SLITTING, TSLOT, DOVETAIL, SQUARE_BLOCK, FLATS, GEAR)
