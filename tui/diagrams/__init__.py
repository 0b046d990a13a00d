"""Pictures of an answer as lines of plain text: pure functions of an answer, a size and a table of glyphs.

Each `draw(answer, width, height, glyphs)` returns exactly `height` lines of at most `width` characters. Letters mean
the same in all of them (`Glyphs` names them), and a number is shown whole or not at all. Under 20 columns they stay
blank.
"""
