"""What a shot file holds, and how it is changed."""
