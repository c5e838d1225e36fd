"""What is remembered from one time to the next: talks, beds, frosts and soil checks, as told, in a database file.

Only what was told is kept, never what followed from it: that is worked out afresh by the rules of the day.
"""
