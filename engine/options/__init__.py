"""The ways to shoot it with the kit at hand: all tried, the impossible dropped and counted, the rest ranked."""
