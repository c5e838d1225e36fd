"""What is handed over: the plan as a page for the terminal, as Markdown, as JSON.

May not: decide or compute; everything on a paper comes out of the plan.
"""
