"""Givens to Values: order, run, bind, decide the checks; what a value came from."""
