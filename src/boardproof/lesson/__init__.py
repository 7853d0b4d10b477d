"""The lesson file as a model: scenes, what is said, what is written on the board, and the blocks."""
