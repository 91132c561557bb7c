"""A shop in numbers, to try the whole advice on: screws with backlash, cutters and work of sizes
that nobody was told, and a machinist who knows only what the screen shows.

What comes out is measured against the drawing. Nothing here uses a formula of the package: a
handwheel is turned as far as the screen says, and the part is what the cutter then leaves.
"""
