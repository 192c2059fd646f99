"""What may be said: units, terms, sources, tables, formulas and their maths, and how well a thing is known."""
