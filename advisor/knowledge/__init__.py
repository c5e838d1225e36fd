"""The trade's knowledge, read from rules/ and checked.

Lives here: the shapes of materials, measures, methods, fact kinds, rules and sources; the loader; the lint.
May not: know the engine, a screen, or a household.
"""
