"""The arithmetic of mixing: C:N, moisture, air, ranges, and the recipe in whole measures.

Lives here: formulas with their sources, and the optimiser.
May not: decide (rules do), or know a person, a screen or the engine.
"""
