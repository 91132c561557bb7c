"""What a person is asked to begin such a job: ends and sides."""

from __future__ import annotations

from assistant.jobs.common.form import held
from assistant.jobs.field import pick, size, toleranced
from assistant.jobs.milling.form import cutter, milled

_LONG, _WIDE = "block.milled=ends|round", "block.milled=sides|round"

FIELDS = (
    pick("block.milled", "what is milled", "The ends, the sides, or all round?",
         "Ends are milled to the length, sides to the width.", ("ends", "sides", "round")),
    size("stock.length", "stock length", "What length is the stock?",
         "What there is before the first cut.", "0.1", "60", given=_LONG),
    *toleranced("block.length", "length", "What length is wanted?", "As on the drawing.",
                "0.1", "60", given=_LONG, limits_aside=False),
    size("stock.width", "stock width", "What width is the stock?",
         "What there is before the first cut.", "0.1", "40", given=_WIDE),
    *toleranced("block.width", "width", "What width is wanted?", "As on the drawing.",
                "0.1", "40", given=_WIDE, limits_aside=False),
    pick("block.setting", "setting", "Turned round between the two, or both in one setting?",
         "Turned, the end over the same edge is milled twice. In one setting both stand out.",
         ("turned", "one"), given="block.milled=ends|sides", usual="turned", aside=True),
    pick("block.first", "the first side", "Which is milled first: right, left, back or front?",
         "It is cleaned up; the one opposite is milled to size.",
         ("right", "left", "back", "front"), usual="the right end, or the back", aside=True),
    size("block.height", "height of the sides", "How far down from the top do the sides go?",
         "Where the work is held low. Left out, the cutter goes past the bottom edge.",
         "0.02", "8", usual="to below the bottom edge", aside=True),
    *cutter(("end mill",)),
    held("vice", "clamps", "angle plate"),
    pick("finish_way", "the finishing cut's way", "The last cut, conventional or climbing?",
         "Climbing only where the machine's file says that the axis that feeds is fit for it.",
         ("conventional", "climbing"), usual="conventional", aside=True),
    size("skim", "the skim", "How deep is a skim that only cleans up?",
         "The side milled first is skimmed till it is clean.", "0.001", "0.1",
         usual="the usual cut", aside=True),
    *milled(witness=False),
)  # fmt: skip
