"""Moves without a job: zeros, moves, marked points, middles, rows and circles, at any axis of the
machine. Pure, without a device.

Every place is kept exactly, counted from the zero of its axis; what is given is set to the dial
once, from the exact place. Nothing is given of an axis whose place nobody knows.
"""
