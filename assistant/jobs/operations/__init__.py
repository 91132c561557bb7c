"""One folder for each operation, found by its name."""
