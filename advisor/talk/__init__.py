"""The conversation: it understands free text, keeps track of what was said, asks what still matters, and answers.

May not: know a screen. The same talk runs in the app, on plain lines, and in tests.
"""
