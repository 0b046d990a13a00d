"""The bench as a task."""
