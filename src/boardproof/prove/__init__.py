"""Judging what a lesson says against the circuit that stands on the board at that place."""
