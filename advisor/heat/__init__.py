"""The heat of a heap foreseen: a heat balance, the weather, ranges, and readings beside them.

Lives here: plain arithmetic on arrays and the constants of rules/heat.toml, each formula with its source.
May not: word anything for people, or know a household, a screen or the engine.
"""
