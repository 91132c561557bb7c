"""The fixed half of the decoding graph: from HMM transitions to words, for every word of the model.

It is composed with a small grammar of words while Vosk decodes, so that another step costs another
grammar only. Built with kaldifst: L (words from phones) determinised, H (phones from transitions)
before it, self-loops added, and written with the look-ahead table that OpenFst's matcher wants.
kaldifst, torch and vosk don't get along in one process: this module runs in one of its own.
"""

from __future__ import annotations

import math
from collections import Counter, deque
from collections.abc import Mapping
from pathlib import Path

import kaldifst

from assistant.devices.vosk.fst_file import Arc, WordGraph, write_look_ahead
from vosk_model.lexicon import Pronunciations
from vosk_model.phones import LAST, SILENCE, SOUNDS, PhoneTable

SILENCE_SHARE = 0.5
"""Chance of a pause after a word, and before the first."""


def build_word_graph(
    path: Path,
    table: PhoneTable,
    lexicon: Pronunciations,
    words: Mapping[str, int],
    unknown: str,
    unknown_cost: float,
) -> list[int]:
    """Write `HCLr.fst` for `words`; returns the transition ids of its disambiguation symbols.

    `unknown` is the word for speech in no grammar: any sounds, each at `unknown_cost`.
    """
    lexical, symbols = _lexical(table, lexicon, words, unknown, unknown_cost)
    phones_to_words = _to_kaldi(lexical)
    kaldifst.determinize_star(phones_to_words)
    kaldifst.arcsort(phones_to_words, "ilabel")
    transitions, ids = _transitions(table, symbols)
    transitions_to_phones = _to_kaldi(transitions)
    kaldifst.arcsort(transitions_to_phones, "olabel")
    composed = kaldifst.StdVectorFst(kaldifst.compose(transitions_to_phones, phones_to_words))
    kaldifst.determinize_star(composed)
    graph = _with_self_loops(table, _from_kaldi(composed))
    write_look_ahead(graph, path, len(words))
    return ids


def _lexical(
    table: PhoneTable,
    lexicon: Pronunciations,
    words: Mapping[str, int],
    unknown: str,
    unknown_cost: float,
) -> tuple[WordGraph, list[int]]:
    """L, and its disambiguation symbols (the first stands for words' own, as Kaldi has it)."""
    base = len(table.ids) + 1
    said = [(word, table.in_word(way)) for word in words for way in lexicon.get(word, ())]
    times = Counter(phones for _, phones in said)
    beginnings = {phones[:end] for _, phones in said for end in range(1, len(phones))}
    pause, no_pause = -math.log(SILENCE_SHARE), -math.log(1 - SILENCE_SHARE)
    graph = WordGraph()
    start, between, silent, after_silence = (graph.state() for _ in range(4))
    # One state for each sound that a word ended in, without a pause since: two equal sounds in a
    # row are two only with something between them. Else a sound that lasts would count twice, and
    # "sixty nine" would be as good as "sixteen nine", "oh oh" as good as "oh oh oh".
    ended_in = {sound: graph.state() for sound in SOUNDS}
    graph.finals = dict.fromkeys((between, *ended_in.values()), 0.0)
    graph.arcs[start] += [Arc(0, 0, no_pause, between), Arc(0, 0, pause, silent)]
    used: Counter[tuple[int, ...]] = Counter()
    for word, phones in said:
        marked = phones
        if times[phones] > 1 or phones in beginnings:
            used[phones] += 1
            marked = (*phones, base + used[phones])
        after = [
            Arc(marked[-1], 0, no_pause, ended_in[table.sound(phones[-1])]),
            Arc(marked[-1], 0, pause, silent),
        ]
        places = [graph.state() for _ in marked[1:]]
        for place, phone, following in zip(places, marked[1:-1], places[1:], strict=False):
            graph.arcs[place].append(Arc(phone, 0, 0.0, following))
        if places:
            graph.arcs[places[-1]] += after
        for sound, state in ((None, between), *ended_in.items()):
            if sound == table.sound(phones[0]):
                continue
            if places:
                graph.arcs[state].append(Arc(phones[0], words[word], 0.0, places[0]))
            else:
                graph.arcs[state] += [arc._replace(word=words[word]) for arc in after]
    top = max(used.values(), default=0)
    silence_mark, unknown_begin, unknown_end = (base + top + extra for extra in (1, 2, 3))
    graph.arcs[silent].append(Arc(SILENCE, 0, 0.0, after_silence))
    graph.arcs[after_silence].append(Arc(silence_mark, 0, 0.0, between))
    begun, going, ended = (graph.state() for _ in range(3))
    for state in (between, *ended_in.values()):
        graph.arcs[state].append(Arc(unknown_begin, words[unknown], 0.0, begun))
    for sound in SOUNDS:
        graph.arcs[begun].append(Arc(table.ids[f"{sound}_B"], 0, unknown_cost, going))
        graph.arcs[going].append(Arc(table.ids[f"{sound}_I"], 0, unknown_cost, going))
        graph.arcs[going].append(Arc(table.ids[f"{sound}_E"], 0, unknown_cost, ended))
    graph.arcs[ended] += [
        Arc(unknown_end, 0, no_pause, between),
        Arc(unknown_end, 0, pause, silent),
    ]
    return graph, list(range(base, unknown_end + 1))


def _transitions(table: PhoneTable, symbols: list[int]) -> tuple[WordGraph, list[int]]:
    """H: transition ids in, phones out, without self-loops; symbols get ids after them."""
    graph = WordGraph()
    start = graph.state()
    graph.finals[start] = 0.0
    for phone in sorted(table.outputs):
        if table.topology(phone) is LAST:
            graph.arcs[start].append(Arc(table.transitions[phone, 0, 1], phone, 0.0, start))
            continue
        blank = graph.state()
        graph.arcs[start].append(Arc(table.transitions[phone, 0, 1], phone, 0.0, blank))
        graph.arcs[blank].append(Arc(table.transitions[phone, 1, 2], 0, 0.0, start))
        graph.arcs[start].append(Arc(table.transitions[phone, 0, 2], phone, 0.0, start))
    first = len(table.log_probabilities)
    ids = [first + number for number in range(len(symbols))]
    for symbol, number in zip(symbols, ids, strict=True):
        graph.arcs[start].append(Arc(number, symbol, 0.0, start))
    return graph, ids


def _with_self_loops(table: PhoneTable, graph: WordGraph) -> WordGraph:
    """Stay in an HMM state as long as it lasts: the loop comes after the way on (Kaldi's order).

    States are split by the HMM state that leads into them, since each has a loop of its own.
    """
    loops = {
        number: table.transitions[phone, state, state]
        for (phone, state, _), number in table.transitions.items()
    }
    looped = WordGraph()
    places = {(graph.start, 0): looped.state()}
    todo = deque(places)
    while todo:
        state, loop = todo.popleft()
        here = places[state, loop]
        for arc in graph.arcs[state]:
            there = (arc.following, loops.get(arc.heard, 0))
            if there not in places:
                places[there] = looped.state()
                todo.append(there)
            looped.arcs[here].append(Arc(arc.heard, arc.word, arc.cost, places[there]))
        if loop:
            looped.arcs[here].append(Arc(loop, 0, 0.0, here))
        if state in graph.finals:
            looped.finals[here] = graph.finals[state]
    return looped


def _to_kaldi(graph: WordGraph) -> kaldifst.StdVectorFst:
    fst = kaldifst.StdVectorFst()
    for _ in graph.arcs:
        fst.add_state()
    fst.start = graph.start
    for state, arcs in enumerate(graph.arcs):
        for arc in arcs:
            fst.add_arc(state, kaldifst.StdArc(arc.heard, arc.word, arc.cost, arc.following))
    for state, cost in graph.finals.items():
        fst.set_final(state, cost)
    return fst


def _from_kaldi(fst: kaldifst.StdVectorFst) -> WordGraph:
    graph = WordGraph()
    for _ in range(fst.num_states):
        graph.state()
    graph.start = fst.start
    for state in range(fst.num_states):
        for arc in kaldifst.ArcIterator(fst, state):
            graph.arcs[state].append(
                Arc(arc.ilabel, arc.olabel, float(arc.weight.value), arc.nextstate)
            )
        cost = float(fst.final(state).value)
        if not math.isinf(cost):
            graph.finals[state] = cost
    return graph
