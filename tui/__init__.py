"""The surfaces: the commands, and the terminal app."""
