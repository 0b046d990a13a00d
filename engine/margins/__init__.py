"""How far off each value may be before something shows."""
