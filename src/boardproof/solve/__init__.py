"""Answers about a circuit: currents, p.d.s, equivalents, states, with numbers, with letters, or for many cases."""
