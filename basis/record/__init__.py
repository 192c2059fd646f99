"""What outlives one run: issued records, and what has changed between two of them."""
