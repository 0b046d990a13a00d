"""forescale: a scale miniature and a real place in one exposure, worked out on location."""

__version__ = "0.2.0"
