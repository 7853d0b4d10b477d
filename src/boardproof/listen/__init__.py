"""What was really said in a recording, found in its captions and judged by the same algebra as the lesson."""
