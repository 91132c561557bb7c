"""What a person is asked to begin such a job: thread."""

from __future__ import annotations

from assistant.calc.threads import DEPTH_BASES
from assistant.jobs.common.form import known_threads
from assistant.jobs.field import Known, count, number, pick, size
from assistant.jobs.lathe.form import in_the_lathe, lathe_tool


def _classes(known: Known) -> tuple[str, ...]:
    """Classes of fit of a screw, or of a nut."""
    if known.word("thread.side") == "internal":
        return ("1B", "2B", "3B", "6H")
    return ("1A", "2A", "3A", "6g", "6h")


FIELDS = (
    pick("thread.side", "side", "External, or internal?", "A screw, or a nut.",
         ("external", "internal")),
    pick("thread.name", "thread", "Which thread?", "Its size and its threads an inch, or M.",
         known_threads, free=True),
    size("thread.length", "length of thread", "How long is the thread?",
         "From the end face.", "0.05", "40"),
    pick("thread.end", "end of the thread", "Up to a shoulder, or open past the end?",
         "Open: nothing to run into for half an inch. Else the carriage is kept slow.",
         ("shoulder", "open"), usual="shoulder"),
    pick("thread.class", "class", "Which class of fit?", "Its limits.",
         _classes,
         usual="the usual fit", aside=True, free=True),
    pick("thread.basis", "basis of the depth", "The single depth on which basis?",
         "Four of them are in print.", tuple(DEPTH_BASES), usual="the usual", aside=True),
    pick("infeed.method", "infeed", "Infeed by the compound, or straight in?",
         "By the compound the tool cuts on one side.", ("compound", "straight"),
         usual="compound", aside=True),
    number("infeed.set_over", "the compound's angle",
           "How many degrees is the compound from square to the axis?",
           "Half the thread's angle, or a little less.", "0", "30", usual="29 and a half",
           given="infeed.method=compound", aside=True),
    *(size(f"infeed.{key}", name, f"How deep is {name}?", "Square to the axis.", "0",
           "0.06", usual="the usual cut", aside=True)
      for key, name in (("first_cut", "the first cut"), ("least_cut", "the least cut"),
                        ("scratch", "the scratch pass"), ("finish", "the finishing cut"),
                        ("step", "a step at the end"))),
    count("infeed.spring_passes", "spring passes", "How many spring passes?",
          "At the last setting.", 0, 6, usual="one", aside=True),
    pick("check.by", "proved by", "Proved by wires, or by a gauge?",
         "Wires measure a screw; a nut takes a gauge.", ("wires", "gauge"),
         usual="wires for a screw", aside=True),
    size("check.wire", "wires", "What diameter are the wires?", "Three of a size.", "0.005",
         "0.5", usual="the best wire", aside=True),
    pick("start", "begun", "A new thread, or picked up again?",
         "After the work was out of the chuck.", ("new", "pick up"), usual="new",
         aside=True),
    *in_the_lathe(),
    *lathe_tool(cuts=()),
)  # fmt: skip
