"""What forescale knows about a shot: units, profiles, optics, scaling, slip, and the one answer."""
