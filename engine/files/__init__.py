"""Reading and writing TOML files whole, with every fault in a line and a person's comments kept."""
