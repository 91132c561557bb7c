"""How well the ear hears: corpora, noise, scores."""
