"""Pages on the teacher's own machine."""
