"""From a shot and its kit to the groups of numbers, and the record that holds them all."""
