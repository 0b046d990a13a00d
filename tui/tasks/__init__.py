"""Whole tasks, each a screen over the board; loaded when it is first opened."""
