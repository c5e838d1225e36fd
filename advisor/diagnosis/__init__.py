"""What is wrong with a heap, and the cure in buckets.

Lives here: reading signs out of words, weighing causes, the next question, remedies with their amounts. May import
counsel and what is below it. May not: know the rule engine's insides, a screen, or decide what a sign means (rules do).
"""
