"""Templates at true size on tiled pages: `figures` says what is cut, `layout` on which page, `pages` draws them."""
