"""Choosing, making and editing cameras, lenses and heads."""
