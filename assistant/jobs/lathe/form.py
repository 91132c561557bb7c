"""Fields of lathe jobs: how the work is held, the tool, a shoulder."""

from __future__ import annotations

from assistant.jobs.common.form import USUAL_CUT, surface_speed
from assistant.jobs.field import Field, pick, size, toleranced, yes


def in_the_lathe(
    usual: str = "three-jaw",
    *,
    out: bool = True,
    only: tuple[str, ...] = (),
    tailstock: bool = True,
) -> tuple[Field, ...]:
    """The `[holding]` table of a lathe. `out`: whether it is asked how far the work stands out,
    and unless `tailstock` is false, whether a centre is in its end."""
    return (
        pick("holding.how", "holding", "How is it held?",
             "What is checked before the cut, and how deep a cut it stands.",
             only or ("three-jaw", "four-jaw", "collet", "between centres", "faceplate"),
             usual=usual, aside=True),
        yes("holding.tailstock", "tailstock up", "Is the tailstock's centre in it?",
            "Long work springs away without it.",
            usual="yes" if usual == "between centres" else "no", aside=not (out and tailstock)),
        size("holding.stick_out", "how far it stands out",
             "How far does it stand out of the jaws?",
             "Cuts are kept to what the work stands. Out too far it is refused.", "0.1", "120",
             usual="not looked at", aside=not out),
        yes("holding.steady", "steady", "Is there a steady on it?", "Long work springs away.",
            usual="no", aside=True),
    )  # fmt: skip


def lathe_tool(*, cuts: tuple[str, ...] = ("max_cut", "finish", "clean_up")) -> tuple[Field, ...]:
    """The `[tool]` table; `cuts` are those of its lengths that the operation reads."""
    known = {
        "max_cut": ("the deepest cut", "What is the most that a cut may take, on one side?"),
        "finish": ("the finishing cut", "How much is left for the finishing cut?"),
        "clean_up": ("the clean-up cut", "How deep is the first cut, to clean up?"),
        "aim": ("how far inside the limits", "How far inside the limits do you aim?"),
    }
    return (
        pick("tool.material", "the tool", "Is the tool HSS or carbide?", "The speed goes by it.",
             ("HSS", "carbide"), usual="HSS", aside=True),
        *(size(f"tool.{key}", known[key][0], known[key][1],
               "On one side, as the cross slide goes in.", "0", "0.3", usual=USUAL_CUT, aside=True)
          for key in cuts),
        size("tool.feed", "the feed", "What feed a turn?",
             "Only where you have your own. The nearest on the machine is taken.", "0.0005",
             "0.06", usual="the usual feed", aside=True),
        surface_speed("tool"),
    )  # fmt: skip


CUTS = ("max_cut", "finish", "clean_up", "aim")
_FROM_END = "From the end face, as every length here."


def shoulder(table: str, name: str, ask: str, gate: str) -> tuple[Field, ...]:
    here = f"{gate}=yes"
    return (
        yes(gate, f"to a {name}", ask, "Else the carriage runs clear.", usual="no"),
        *toleranced(f"{table}.length", f"length to the {name}",
                    f"How far is the {name} from the end face?", _FROM_END, "0.05", "60",
                    given=here),
        pick(f"{table}.by", f"{name} by", "Length by the carriage dial, or by the compound?",
             "The compound's dial is the finer one.", ("carriage", "compound"),
             usual="carriage", given=here, aside=True),
        size(f"{table}.left_on", f"left on the {name}", "How much is left on the length?",
             "Until the diameter is in.", "0", "0.1", usual="the usual", given=here, aside=True),
    )  # fmt: skip


SPRING = pick("tool.spring_pass", "spring pass", "Spring passes: yes, no, or auto?",
               "A pass at the same setting takes what sprang away.", ("yes", "no", "auto"),
               usual="auto", aside=True)  # fmt: skip
