"""What people tell about their household: the shape of it, the reader of household files, and amounts in words.

May not: decide or compute anything about compost.
"""
