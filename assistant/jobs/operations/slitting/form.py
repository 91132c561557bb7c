"""What a person is asked to begin such a job: slitting."""

from __future__ import annotations

from assistant.jobs.field import size, toleranced, yes
from assistant.jobs.milling.form import block, cutter

FIELDS = block(
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
)  # fmt: skip
