"""Jobs: one module each, from files in to files out."""
