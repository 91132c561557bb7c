"""Makes recordings of spoken phrases from open synthetic voices, for the demos and for tests."""
