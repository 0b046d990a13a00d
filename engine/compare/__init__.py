"""What differs between two states, stops or kits, in words."""
