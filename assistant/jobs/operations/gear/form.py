"""What a person is asked to begin such a job: spur gear."""

from __future__ import annotations

from assistant.jobs.common.form import held
from assistant.jobs.field import Kind, count, number, pick, size
from assistant.jobs.milling.form import cutter, milled

FIELDS = (
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
)  # fmt: skip
