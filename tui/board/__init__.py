"""The board: four panes, the field in hand, and the keys that change the shot."""
