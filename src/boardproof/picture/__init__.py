"""Pictures of circuits: where things stand, how they look, and what changes from moment to moment."""
