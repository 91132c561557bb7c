"""How the shop model in voice_models/ is made: synthesis, features, training, export, graph."""
