"""From facts to conclusions: the rules, compiled for the engine, and why each conclusion holds.

Lives here: facts, the compiler of rules, the engine, the trace, and the plain evaluator of the same rules.
Nothing outside may import durable.
May not: compute about compost, choose between methods, or know a household, a paper or a screen.
"""
