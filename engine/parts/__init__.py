"""The build list: parts at full size and at model size, and stock."""
