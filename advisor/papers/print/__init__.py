"""A paper as one HTML page to print: the page, its style sheet, and its drawings in black on white.

May not: fetch anything from anywhere; whatever the page shows stands in it.
"""
