"""The words of verdicts: plain data, which two records are compared by without loading what solves them."""

from __future__ import annotations

NOTHING = "nothing to check"  # the word of a check over a list without items
WORDS = {  # most urgent first, and what each means
    "fails": "The limit is not met.",
    "undecided": "Something that it needs is not given; nothing is known, and it is no pass.",
    "tight": "The limit is met, and little is left of it.",
    "holds": "The limit is met.",
    NOTHING: "What it is about is not in this plant: the list is empty, or the choice that the project made leaves nothing to compare. It counts neither "
             "for nor against.",
}
URGENT = ("fails", "undecided", "tight")  # they want attention
