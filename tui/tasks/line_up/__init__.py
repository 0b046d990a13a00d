"""The line-up by the picture, and coming back to where the camera stood."""
