"""The rig has moved, as a task."""
