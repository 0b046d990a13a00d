"""Whether the tests would notice: the program is changed in one small place, and the tests that reach it are run."""
