"""The text of a project to Givens, or faults with file and line."""
