"""Filling in a form by question and answer, typed or spoken: pure, without a device.

It knows no operation: what is asked of a job is declared in the operation's folder (`form.py`), of
a machine in `machines/`; what is right is the word of the file's own reader.
"""
