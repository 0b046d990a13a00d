"""What the lens sees, and the points and outlines that stand in it."""
