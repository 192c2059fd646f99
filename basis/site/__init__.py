"""The only part that knows MkDocs, Jinja2, Markdown and matplotlib: pages and figures from solved books.

May import everything to its left (units, terms, solve, compare) and nothing of the command line.
"""
