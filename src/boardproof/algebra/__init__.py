"""One algebra for equations that a teacher types, says aloud, or a student types."""
