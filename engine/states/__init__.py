"""States of a shot kept under a name, and the takes."""
