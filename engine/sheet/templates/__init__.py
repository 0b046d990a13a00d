"""Templates at true size: what is cut, a scale rule, and the card to hold up at the place, on tiled pages.

`gathered` says what a shot has to cut, `figure` how each thing runs, `layout` on which pages, `pages` draws them.
"""
