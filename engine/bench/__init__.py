"""The bench: readings entered, what they say, and the pupil stored in the lens."""
