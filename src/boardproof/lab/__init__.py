"""The laboratory: tables of readings and the lines through them."""
