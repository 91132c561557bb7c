"""Trouble at every step of every operation, and a size told after it: what the assistant makes of
it, judged by rules that know no operation.

`meant` is the only module that looks into the plan: what size is asked for, what cut is at hand.
All else goes by words and pages, as an operator does.
"""
