"""What forescale knows about a shot: units, profiles, optics, scaling, slip, and the one answer."""

import sys
from types import ModuleType

# Pydantic would load much to look through every package installed for plugins of its own; this program has none.
_plugins = ModuleType("pydantic.plugin._loader")
_plugins.__dict__["get_plugins"] = tuple
sys.modules.setdefault(_plugins.__name__, _plugins)
