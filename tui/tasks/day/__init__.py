"""The task of the day."""
