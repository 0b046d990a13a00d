"""The day as it is entered and told: sun, light, lamps, what is timed and cued."""
