"""Hearings kept in a file, so that an ear hears again only what is new to it."""

from __future__ import annotations

import ast
import hashlib
import json
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.devices.ear import hear
from assistant.ports import Recogniser
from assistant.spoken import WordAutomaton
from earbench import corpora
from earbench.mixing import Surroundings

SAVED_EVERY = 50


@dataclass(frozen=True)
class Case:
    """One sentence somewhere."""

    corpus: str
    utterance: corpora.Utterance
    where: Surroundings
    number: int
    """Chooses the noise and the piece of it."""

    @property
    def key(self) -> str:
        """By which its hearing is found again."""
        path = self.utterance.path
        return f"{self.corpus}/{path.parent.name}/{path.name} {self.where.name} {self.number}"


Hearing = tuple[str, float]
"""Words and confidence."""


def mark_of(files: Iterable[Path]) -> str:
    """Changes with any of these files; of Python with what it does, not with what is said of it."""
    total = hashlib.sha256()
    for path in sorted(files):
        content = path.read_bytes()
        total.update(_code(content) if path.suffix == ".py" else content)
    return total.hexdigest()[:16]


def _code(source: bytes) -> bytes:
    """Without comments and bare strings."""
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            node.body = [
                each
                for each in node.body
                if not (isinstance(each, ast.Expr) and isinstance(each.value, ast.Constant))
            ]
    return ast.dump(tree).encode()


def heard(
    cases: Sequence[Case],
    grammars: dict[str, WordAutomaton],
    path: Path,
    mark: str,
    make: Callable[[], Recogniser],
) -> list[Hearing]:
    """What the ear hears of `cases`, each under its corpus's grammar.

    Hearings in `path` count where they were made under `mark`; the others are made now, with what
    `make` makes, and saved as it goes.
    """
    kept: dict[str, Hearing] = {}
    if path.is_file():
        before = json.loads(path.read_text(encoding="utf-8"))
        if before["mark"] == mark:
            kept = {key: (words, sure) for key, (words, sure) in before["heard"].items()}
    missing = [case for case in cases if case.key not in kept]
    if missing:
        ear = make()
        ear.prepare([grammars[name] for name in {case.corpus for case in missing}])
        for done, case in enumerate(missing, 1):
            sound = case.where.around(case.utterance.sound(), corpora.DATA / "noise", case.number)
            one = hear(ear, sound, grammars[case.corpus])
            kept[case.key] = one.words, round(one.confidence, 4)
            if done % SAVED_EVERY == 0 or done == len(missing):
                path.write_text(json.dumps({"mark": mark, "heard": kept}, indent=0) + "\n")
                print(f"{path.name}: {done} of {len(missing)}", file=sys.stderr, flush=True)
        ear.close()
    return [kept[case.key] for case in cases]
