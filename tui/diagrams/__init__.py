"""Pictures of an answer: functions of it, a size and a table of glyphs. Under 20 columns they stay blank."""
