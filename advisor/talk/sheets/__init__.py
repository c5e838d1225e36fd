"""Sheets: questions one after another with an answer at the end, for what the agenda of a heap does not ask.

Each sheet is a script: a generator that yields what it asks, says or keeps, and is sent the answers. What was answered
is a list of words, and where a sheet stands is found by playing its script through with them from the start; so going
back is leaving out the last answer, here as in the rest of the talk.
"""
