"""Filling in a job's form by question and answer, typed or spoken: pure, without a device.

It knows no operation: what is asked is declared in the operation's folder (`form.py`), what is
right is the word of its own reader.
"""
