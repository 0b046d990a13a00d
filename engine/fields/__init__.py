"""The kinds of value that a file or a field holds."""
