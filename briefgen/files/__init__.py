"""From text on disk to a checked model: every value knows its file, line and column."""
