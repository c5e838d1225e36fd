"""Advice on finished compost and the soil it goes to: ready or not, how much and where, the seasons, the checks.

Lives here: what is told (checks and beds, from words and files), the consultation with the rules of the soil, and the
answers written line by line. May use soil, counsel and inference. May not: print, or know the screens.
"""
