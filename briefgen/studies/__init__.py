"""What goes beyond one brief: the same airplane and the same day, asked another question."""
