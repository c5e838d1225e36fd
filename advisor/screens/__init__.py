"""The conversation on screen: a view of the talk, which exists without it.

May import everything below, and is the only package that knows Textual. Nothing here is imported before the first
frame that the first frame does not show: the rules and the arithmetic are loaded behind it.
"""
