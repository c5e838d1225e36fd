"""A consultation: a household goes in, a plan comes out.

Lives here: the order in which rules and arithmetic take turns, the choice among what the rules favour, the plan and its
reasons. May not: know a screen, a command line, or the engine's own notation.
"""
