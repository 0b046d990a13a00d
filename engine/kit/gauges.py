"""The usual frames of film and sensors, so that an active area can be told by a name and a slip of the pen be seen."""

from forescale.engine.kit.profiles import Mode
from forescale.engine.units import number_text

SOURCES_DIFFER_MM = 0.2  # what is printed of one frame differs by so much
NOT_SQUARE = 0.01  # sizes are printed to a hundredth or so


# Width and height in mm. SMPTE and ISO gauges, from memory but for 65 mm: VES Handbook of Visual Effects, table A.2.
GAUGES = {
    "Super 16": (12.52, 7.41),
    "17.3 × 13 mm": (17.3, 13.0),
    "35 mm academy": (21.95, 16.0),
    "Super 35 four-perforation": (24.89, 18.66),
    "small still frame": (36.0, 24.0),
    "65 mm": (52.48, 23.01),
}


def gauge_text(width_mm: float, height_mm: float) -> str:
    """Return what an active area is of the usual frames, by name, whole or in width; empty for none."""
    for name, (wide, high) in GAUGES.items():
        if abs(wide - width_mm) <= SOURCES_DIFFER_MM:
            whole = abs(high - height_mm) <= SOURCES_DIFFER_MM
            return f"{name}, {'whole' if whole else 'its full width'}"
    return ""


def pixel_doubt(mode: Mode) -> str:
    """Return what is odd about a mode's pixels, in words: where they are not square, a size is most likely mistyped."""
    across, down = 1000 * mode.pixel_mm, 1000 * mode.pixel_up_mm
    if abs(across / down - 1) <= NOT_SQUARE:
        return ""
    size = f"{number_text(across, 3)} µm across and {number_text(down, 3)} µm down"
    return f"the pixels of {mode.name} are {size}, not square: look at its width, height and pixels again"


def usual_frames() -> str:
    """Return all gauges with their sizes, for whoever has to enter one."""
    sizes = {name: f"{wide:g} × {high:g}" for name, (wide, high) in GAUGES.items()}
    return ", ".join(name if name.startswith(size) else f"{name} {size}" for name, size in sizes.items())
