"""Cameras, lenses and heads: what their profiles hold, and the kit that a shot names."""
