"""What a person is asked to begin such a job: angle."""

from __future__ import annotations

from assistant.jobs.field import number, pick, size

FIELDS = (
    pick("angle.method", "method", "By a sine bar, or by tilting?", "How it is set.",
         ("sine bar", "tilt")),
    number("angle.degrees", "angle", "How many degrees?", "As on the drawing.", "0.01",
           "89.99"),
    size("angle.bar", "sine bar", "How long is the sine bar?",
         "From roller to roller. The stack goes by it.", "1", "20",
         given="angle.method=sine bar"),
    pick("angle.part", "what is tilted", "Is it the vice, the head, or the table?",
         "What is slackened, and tapped.", ("vice", "head", "table"), usual="vice"),
    size("angle.run", "run of the indicator", "Over what length does the indicator run?",
         "The longer, the finer.", "0.2", "30"),
    size("angle.limit", "within", "Within how much, over that run?", "Then it is set.",
         "0.0001", "0.02", usual="half a thou, or a hundredth", aside=True),
)  # fmt: skip
