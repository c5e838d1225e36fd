"""How a line of text is read: words and slips, things and amounts, phrases from rules/phrases.toml, and what they mean.

May not: know what was said before, but for the little that a Context tells. `advisor.talk.understand` is the way in.
"""
