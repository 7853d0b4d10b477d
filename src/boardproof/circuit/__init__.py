"""Circuits as a teacher writes and draws them: parts, groups, banks, networks, and what may be done to them."""
