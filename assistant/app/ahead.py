"""The grammars of the steps to come, compiled while nothing else happens."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from assistant.jobs.steps import Move, Touch
from assistant.phrases.book import PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.session.allowed import allowed, allowed_sum
from assistant.session.state import Phase, State
from assistant.spoken import WordAutomaton


def grammars_ahead(book: PhraseBook, state: State) -> Iterator[WordAutomaton]:
    """The grammar of quick sums, then that of each step from the place on, each once, as it will
    be without surprises."""
    if not state.step_id:
        return
    seen: set[str] = set()
    # a quick sum may be opened in any step, and its grammar is the largest
    sums = compile_grammar(book, allowed_sum(state))
    seen.add(sums.id)
    yield sums
    calm = replace(state.belief, shaken={})
    plain = replace(state, question=None, belief=calm, listening=True, finished=False)
    for step in state.plan.steps[state.plan.index(state.step_id) :]:
        phases = [Phase.ACT]
        if isinstance(step, Touch) and step.paper_fact:
            phases.append(Phase.PAPER)
        if isinstance(step, Move) and step.verify:
            phases.append(Phase.VERIFY)
        for phase in phases:
            grammar = compile_grammar(book, allowed(replace(plain, step_id=step.id, phase=phase)))
            if grammar.id not in seen:
                seen.add(grammar.id)
                yield grammar
