"""The Brief as a sheet, a file or lines in a terminal. Rendering computes nothing."""
