"""Finished compost and the soil it goes to: checks read and classed, dressings reckoned, seasons laid out.

Lives here: plain arithmetic in SI units, a module for each check and each sum. May use knowledge and heap.ranges.
May not: conclude anything a rule should (rules/soil.toml does), print, or know the rule engine.
"""
