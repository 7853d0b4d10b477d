"""Packs that really deliver: cells, what a brief asks of them, arrangements, faults, spread and run-down."""
