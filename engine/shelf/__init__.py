"""Making, copying, editing and choosing profiles, and starting them from an open catalogue."""
