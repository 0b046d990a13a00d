"""The camera, mode, lens and head that a shot names, brought together and checked against each other."""

import math
from typing import Any, NamedTuple

from forescale.engine.files.faults import BadInput, Fault, FieldPath, nearest
from forescale.engine.kit import library
from forescale.engine.kit.profiles import Camera, Head, Lens, Mode
from forescale.engine.kit.slide_scale import SlideScale, marked_in_inches
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import BenchRow
from forescale.engine.shot.sections import PANS, KitChoice

SAME_FOCAL = 0.01  # a zoom's ring is set no closer than this


class Kit(NamedTuple):
    """What a shot is made with."""

    camera: Camera
    mode: Mode
    lens: Lens
    focal_mm: float
    head: Head | None


def load_kit(choice: KitChoice, where: str = "") -> Kit:
    """Return the kit that a shot, in the file `where`, names, from the shelves; raises BadInput with every fault."""
    faults: list[Fault] = []
    found: list[Any] = []
    for shelf, kind in library.PROFILES.items():
        field = library.ONE_OF[shelf]
        name = getattr(choice, field)
        try:
            found.append(None if name is None else library.load_profile(kind, library.shelf_file(shelf, name).path))
        except BadInput as fault:
            faults.extend(one.under(f"kit.{field}", where) for one in fault.faults)
    if faults:
        raise BadInput(*faults)
    camera, lens, head = found
    return assemble(choice, camera, lens, head, where)


def assemble(choice: KitChoice, camera: Camera, lens: Lens, head: Head | None, where: str = "") -> Kit:
    """Return the kit of these profiles; raises BadInput where the choice asks what they do not have."""
    modes, faults = {mode.name: mode for mode in camera.mode}, []
    if choice.mode not in modes:
        lacks = f'{camera.name} has no mode "{choice.mode}"'
        faults.append(Fault.at("kit.mode", lacks, nearest(choice.mode, modes), file=where))
    focal_mm = choice.focal_length or lens.focal_length
    if focal_mm is None:
        faults.append(Fault.at("kit.focal_length", f"{lens.name} is a zoom", f"set it {lens.focal_range}", file=where))
    elif not lens.shortest - 1e-9 <= focal_mm <= lens.longest + 1e-9:
        lacks = f"{focal_mm:g} mm is not on {lens.name}, which has {lens.focal_range}"
        faults.append(Fault.at("kit.focal_length", lacks, file=where))
    if faults or focal_mm is None:
        raise BadInput(*faults)
    return Kit(camera, modes[choice.mode], lens, focal_mm, head)


def taken_with(row: BenchRow, setting: Setting, kit: Kit) -> bool:
    """Tell whether a bench reading was taken with this kit, about this axis, in whatever sweep or way of a pan."""
    axis = setting.move.axis
    if axis == "none":  # of a shot that does not move the first reading says about which axis the bench is
        axis = next((one.axis for one in setting.bench if one.axis), axis)
    return (
        row.lens in {None, kit.lens.name}  # a pupil is one lens's, a slide reading one head's
        and row.head in {None, kit.head and kit.head.name}
        and (row.axis in {None, axis} or {row.axis, axis} == PANS)
        and math.isclose(row.focal_length or kit.focal_mm, kit.focal_mm, rel_tol=SAME_FOCAL)
    )


def check_fit(setting: Setting, kit: Kit, where: str = "") -> None:
    """Raise BadInput where a shot asks of its kit what the kit cannot be set to."""
    faults = sharpness_faults(setting, kit.mode, where) + slide_faults(setting, kit.head, where)
    if faults := faults + lens_faults(kit, setting.place.model, setting.place.model_near, where):
        raise BadInput(*faults)


def sharpness_faults(setting: Setting, mode: Mode, where: str) -> list[Fault]:
    """Return a fault where one's own sharpness is asked for and was not measured in this mode."""
    if setting.focus.sharpness.by != "measured" or mode.sharpness is not None:
        return []
    right = 'photograph a test strip, or write "diagonal/1500"'
    return [Fault.at("focus.sharpness", f'none was measured in the mode "{mode.name}"', right, file=where)]


def slide_faults(setting: Setting, head: Head | None, where: str = "") -> list[Fault]:
    """Return a fault for each slide reading that the head does not reach."""
    if head is None:
        return []
    slides: dict[FieldPath, float | None] = {("move", "slide"): setting.move.slide}
    for n, row in enumerate(setting.bench, start=1):
        slides |= {("bench", n, "slide"): row.slide} if row.head in {None, head.name} else {}
    scale = SlideScale(marked_in_inches(head))
    runs = scale.range(head)
    return [
        Fault(f"{scale.mark(slide)} is off the slide of {head.name}, which runs {runs}", path=field, file=where)
        for field, slide in slides.items()
        if slide is not None and not head.slide_min - 1e-9 <= slide <= head.slide_max + 1e-9
    ]


def lens_faults(kit: Kit, model_mm: float | None, near_mm: float | None, where: str) -> list[Fault]:
    """Return a fault for each of the model's tapes, set or worked out, that ends inside the lens; None is not there."""
    reach = max(kit.lens.longest, kit.focal_mm)
    right = f"it must lie beyond {reach:g} mm from the sensor-plane mark"
    return [
        Fault.at(field, f"{value:g} mm lies inside the lens", right, file=where)
        for field, value in (("place.model", model_mm), ("place.model_near", near_mm))
        if value is not None and value <= reach
    ]
