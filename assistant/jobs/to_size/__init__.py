"""Cutting to a size in passes: depths, legs from one measurement to the next, and limits."""
