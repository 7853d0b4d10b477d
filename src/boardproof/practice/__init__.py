"""Practice: questions with numbers for each student, papers, marking, and who believes what."""
