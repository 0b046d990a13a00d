"""What forescale knows about a shot: units, profiles, optics, scaling, slip, and the one answer."""

import os

# Pydantic would look through every package installed for plugins of its own; this program has none.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
