"""Run one formula over axes in a test, as the solver would."""

import numpy as np

from basis.language.compiled import Step, chain
from basis.language.terms import terms


def over(formula, **inputs):
    """Run a formula over axes, as the solver does: arrays in, array out."""
    run = chain((Step((formula.id,), formula.expression),), tuple(inputs), terms())
    return run(*(np.array(value, dtype=object if isinstance(value[0], str) else None) if isinstance(value, list) else value for value in inputs.values()))[0]
