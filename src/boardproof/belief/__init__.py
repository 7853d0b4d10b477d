"""Beliefs that students bring along, by key."""
