"""A first project from ten facts: what the trade guesses from them, each by a declared rule."""
