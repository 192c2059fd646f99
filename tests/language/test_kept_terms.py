"""Terms as an earlier run kept them are those that the chapters declare."""

import json
from dataclasses import fields

from basis.language.terms import Term, _as_kept, _stated, terms


def test_a_term_from_what_was_kept_is_the_term():
    usual = {each.name: each.default for each in fields(Term)}
    for term in terms().values():
        kept = _as_kept(usual, json.loads(json.dumps(_stated(term))))
        assert kept == term and hash(kept) == hash(term) and kept.bounds == term.bounds and vars(kept).keys() >= {each.name for each in fields(Term)}
