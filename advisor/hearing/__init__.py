"""The one reader of words: a line becomes facts with their stance, materials, and what kind of thing it is.

It knows the vocabulary of rules/words/, the materials and measures. It may not know screens, plans, diagnoses or the
talk.
"""
