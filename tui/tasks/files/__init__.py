"""Opening, saving, naming and leaving a shot."""
