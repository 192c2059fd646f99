"""The only part that knows MkDocs, Jinja2, Markdown and matplotlib: pages and figures from solved books."""
