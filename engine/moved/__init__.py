"""The rig has moved: what changed, and what to do about it."""
