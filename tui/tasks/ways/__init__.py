"""Ways to shoot it: the search, its table and its words."""
