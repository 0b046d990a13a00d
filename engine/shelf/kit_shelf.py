"""What there is to choose from: modes of cameras, lenses, heads on the shelves, whose they are, and who uses them."""

from contextlib import suppress
from typing import Any, NamedTuple

from forescale.engine.answer import Answer, answer
from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.files.toml_files import read_toml
from forescale.engine.kit import library, unsaved
from forescale.engine.kit.kit import Kit, assemble, check_fit, load_kit
from forescale.engine.kit.library import ONE_OF, PROFILES, Shelf
from forescale.engine.kit.profiles import Camera, Head, Lens, Mode, Profile
from forescale.engine.shelf.profile_draft import hides, unsaved_profile
from forescale.engine.shot.records import Setting, Shot
from forescale.engine.shot.sections import KitChoice
from forescale.engine.solve.speed_light import runs_at
from forescale.engine.units import EntryError, number_text, parse_length

SAME = 1e-9
SHELVES: tuple[Shelf, ...] = ("cameras", "lenses", "heads")


class KitChange(NamedTuple):
    """The fields to set, by path, as a shot's file would hold them, and what is to be said with it."""

    fields: dict[str, Any]
    said: tuple[str, ...] = ()


class OnShelf(NamedTuple):
    """One thing to choose: a camera in one of its modes, a lens, a head, or no head (an empty name)."""

    shelf: Shelf
    name: str
    profile: Profile | None  # None for none, and where its file cannot be used
    mode: Mode | None = None
    shipped: bool = False
    saved: bool = True  # it has a file
    kept: bool = False
    fault: Fault | None = None  # why its file cannot be used

    @property
    def whose(self) -> str:
        """Whose it is, in a word or two."""
        if self.shipped:
            return "built-in, copy not saved" if self.kept else "built-in"
        if self.kept or not self.name:
            return "yours, not saved" if self.kept else ""
        return "yours, hides built-in" if hides(self.shelf, self.name) else "yours"

    def in_shot(self, setting: Setting) -> bool:
        """Tell whether the shot is set to it."""
        mode = self.shelf != "cameras" or (self.mode is not None and setting.kit.mode == self.mode.name)
        return mode and (_name_on(setting.kit, self.shelf) or "") == self.name

    def change(self, setting: Setting, kit: Kit) -> KitChange:
        """Return the change of a shot to it; raises BadInput where it cannot be chosen."""
        if self.fault:
            raise BadInput(self.fault)
        if not self.saved:
            raise BadInput(f"{self.name} is not saved yet: save it first")
        if isinstance(self.profile, Camera) and self.mode is not None:
            return with_mode(setting, self.profile, self.mode)
        if isinstance(self.profile, Lens):
            return with_lens(kit, self.profile)
        return with_head(setting, self.profile if isinstance(self.profile, Head) else None)


def choices(shelf: Shelf) -> tuple[OnShelf, ...]:
    """Return all that stands on a shelf, with what is not saved yet, and for a head the choice of none."""
    entries, kept = library.shelf_files(shelf), unsaved.kept_in(shelf)
    found: list[OnShelf] = []
    for name in sorted({*entries, *kept}):
        entry = entries.get(name)
        on = OnShelf(shelf, name, None, None, bool(entry and entry.shipped), entry is not None, name in kept)
        try:
            profile = library.load_profile(PROFILES[shelf], entry.path) if entry else unsaved_profile(shelf, name)
        except BadInput as fault:
            found.append(on._replace(saved=True, kept=False, fault=fault.faults[0]))
            continue
        modes = profile.mode if isinstance(profile, Camera) else (None,)
        found += [on._replace(profile=profile, mode=mode) for mode in modes]
    return (*found, *([OnShelf("heads", "", None)] if shelf == "heads" else []))


def with_mode(setting: Setting, camera: Camera, mode: Mode) -> KitChange:
    """Return the change to a camera's mode; a rate or an ISO that it has not goes back to the program."""
    fields: dict[str, Any] = {"kit.camera": camera.name, "kit.mode": mode.name}
    said: list[str] = []
    fps, iso = setting.action.fps, setting.light.iso
    if fps is not None and not runs_at(mode, fps):
        fields["action.fps"] = None
        said.append(f"{mode.name} has no {number_text(fps, 6)} fps: the rate is left to the program")
    if iso is not None and not mode.lowest_iso - SAME <= iso <= mode.iso_max + SAME:
        fields["light.iso"] = None
        span = f"{number_text(mode.lowest_iso, 7)} to {number_text(mode.iso_max, 7)}"
        said.append(f"{mode.name} goes from ISO {span}, not {number_text(iso, 7)}: the base is taken")
    return KitChange(fields, tuple(said))


def with_lens(kit: Kit, lens: Lens) -> KitChange:
    """Return the change to a lens; a zoom is set to the present focal length, or to the nearest that it has."""
    if not lens.is_zoom:
        return KitChange({"kit.lens": lens.name, "kit.focal_length": None})
    focal = min(max(kit.focal_mm, lens.shortest), lens.longest)
    said = f"{lens.name} has no {number_text(kit.focal_mm, 6)} mm: it is set to {number_text(focal, 6)} mm"
    fields = {"kit.lens": lens.name, "kit.focal_length": f"{focal!r} mm"}
    return KitChange(fields, (said,) if abs(focal - kit.focal_mm) > SAME else ())


def with_head(setting: Setting, head: Head | None) -> KitChange:
    """Return the change to a head, or to none; a slide reading of another head means nothing on this one."""
    fields: dict[str, Any] = {"kit.head": None if head is None else head.name}
    slide = setting.move.slide
    if head is None or setting.kit.head in {None, head.name} or slide is None:
        return KitChange(fields)
    said = f"the slide's {number_text(slide, 6)} mm was {setting.kit.head}'s: set it anew on {head.name}"
    return KitChange(fields | {"move.slide": None}, (said,))


def with_focal_length(lens: Lens, text: str) -> tuple[KitChange, str]:
    """Return the change to a zoom at a focal length as typed, bare in mm, and that length; raises ValueError."""
    focal = parse_length(text, "mm")
    if not lens.shortest - SAME <= focal <= lens.longest + SAME:
        span = f"{number_text(lens.shortest, 6)} mm to {number_text(lens.longest, 6)} mm"
        raise EntryError(f"{number_text(focal, 6)} mm is out of range: {lens.name} goes from {span}")
    return KitChange({"kit.lens": lens.name, "kit.focal_length": f"{focal!r} mm"}), f"{number_text(focal, 6)} mm"


def _name_on(choice: KitChoice, shelf: Shelf) -> str | None:
    name: str | None = getattr(choice, ONE_OF[shelf])
    return name


def uses(shot: Shot, shelf: Shelf, name: str) -> bool:
    """Tell whether the shot as it is set uses a profile."""
    return _name_on(shot.kit, shelf) == name


def users(shot: Shot, shelf: Shelf, name: str) -> tuple[str, ...]:
    """Return who in a shot uses a profile: the shot itself, a reading taken with it, its saved states."""
    readings = (*shot.point, *shot.bench, *shot.survey)
    read = any(getattr(row, ONE_OF[shelf], None) == name for row in readings) and not uses(shot, shelf, name)
    marks = (f'saved state "{mark.name}"' for mark in shot.mark if _name_on(mark.setting.kit, shelf) == name)
    return (*["this shot"] * uses(shot, shelf, name), *["a reading of this shot"] * read, *marks)


def saved_users(shelf: Shelf, name: str) -> tuple[str, ...]:
    """Return the names of the shots on the shelf whose files use a profile; what cannot be read is passed over."""
    found = []
    for entry in library.shelf_files("shots").values():
        with suppress(BadInput):
            kit = read_toml(entry.path).get("kit")
            found += [entry.name] if isinstance(kit, dict) and kit.get(ONE_OF[shelf]) == name else []
    return tuple(found)


def _kit_with(choice: KitChoice, kit: Kit, profile: Profile) -> Kit:
    camera = profile if isinstance(profile, Camera) else kit.camera
    lens = profile if isinstance(profile, Lens) else kit.lens
    return assemble(choice, camera, lens, profile if isinstance(profile, Head) else kit.head)


def answer_with(shot: Shot, kit: Kit, profile: Profile) -> Answer:
    """Return the present shot's answer with a changed profile; raises BadInput where it breaks the shot."""
    return answer(shot, _kit_with(shot.kit, kit, profile), shot.units)


def refuse_breaking(shot: Shot, kit: Kit, shelf: Shelf, name: str, profile: Profile) -> None:
    """Raise BadInput where `profile` cannot take the place of one that the shot uses, or a mark that was whole."""
    using = users(shot, shelf, name)
    if using and profile.name != name:
        raise BadInput(f"{name} is used by {' and '.join(using)}, so its name must stay: save it under another name")
    if uses(shot, shelf, name):
        answer_with(shot, kit, profile)
    broken: list[Fault] = []
    for mark in (mark for mark in shot.mark if _name_on(mark.setting.kit, shelf) == name):
        with suppress(BadInput):
            whole = load_kit(mark.setting.kit)
            check_fit(mark.setting, whole)
            try:
                check_fit(mark.setting, _kit_with(mark.setting.kit, whole, profile))
            except BadInput as fault:
                broken.append(fault.faults[0]._replace(of=f'saved state "{mark.name}"'))
    if broken:
        raise BadInput(*broken)
