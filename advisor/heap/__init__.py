"""A heap over time and its cold neighbours: size, heat, layers, turning; bucket, worm bin and trench.

Lives here: plain arithmetic on numbers and the constants of rules/figures.toml, each formula with its source.
May not: decide more than comparing with such a constant (rules do), or know a screen, a person or the engine.
"""
