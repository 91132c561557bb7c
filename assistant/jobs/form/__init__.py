"""What a person is asked to begin a job: each operation's fields, declared once, as data.

A field's value is checked by nobody here: the answers are put together as a job file, and the
operation's own reader has the word.
"""
