"""What there is to choose from: the cameras' modes, the lenses and the heads on the shelves, and whose they are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.kit import library
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.library import PROFILES, Shelf
from forescale.engine.kit.profiles import Camera, Head, Lens, Mode, Profile
from forescale.engine.shelf.kit_change import KitChange, with_head, with_lens, with_mode
from forescale.engine.shelf.profile_draft import hides, kept_names, unsaved_profile
from forescale.engine.shot.records import Setting

SHELVES: tuple[Shelf, ...] = ("cameras", "lenses", "heads")


@dataclass(frozen=True, slots=True)
class OnShelf:
    """One thing to choose: a camera in one of its modes, a lens, a head, or no head (an empty name).

    `profile` is None where there is none or its file cannot be used, and `fault` then says why. `saved` is whether
    it has a file, `kept` whether unsaved work on it is kept.
    """

    shelf: Shelf
    name: str
    profile: Profile | None
    mode: Mode | None = None
    shipped: bool = False
    saved: bool = True
    kept: bool = False
    fault: Fault | None = None

    @property
    def fault_text(self) -> str:
        """Why its file cannot be used; empty where it can."""
        return "" if self.fault is None else str(self.fault)

    @property
    def whose(self) -> str:
        """Whose it is, in a word or two."""
        if not self.name:
            return ""
        if self.shipped:
            return "built-in, copy not saved" if self.kept else "built-in"
        if self.kept:
            return "yours, not saved"
        return "yours, hides built-in" if hides(self.shelf, self.name) else "yours"

    def in_shot(self, setting: Setting) -> bool:
        """Tell whether the shot is set to it."""
        kit = setting.kit
        match self.shelf:
            case "cameras":
                return kit.camera == self.name and self.mode is not None and kit.mode == self.mode.name
            case "lenses":
                return kit.lens == self.name
            case _:
                return (kit.head or "") == self.name

    def change(self, setting: Setting, kit: Kit) -> KitChange:
        """Return the change of a shot to it; raises BadInput where it cannot be chosen."""
        if self.fault:
            raise BadInput(self.fault)
        if not self.saved:
            raise BadInput(f"{self.name} is not saved yet: save it first")
        match self.profile:
            case Camera() as camera if self.mode is not None:
                return with_mode(setting, camera, self.mode)
            case Lens() as lens:
                return with_lens(kit, lens)
            case Head() as head:
                return with_head(setting, head)
            case _:
                return with_head(setting, None)


def choices(shelf: Shelf) -> tuple[OnShelf, ...]:
    """Return all that stands on a shelf, with what is not saved yet, and for a head the choice of none."""
    entries, kept = library.shelf_files(shelf), kept_names(shelf)
    found = [
        choice
        for name in sorted({*entries, *kept})
        for choice in _named(shelf, name, entries.get(name), kept=name in kept)
    ]
    return (*found, *([OnShelf("heads", "", None)] if shelf == "heads" else []))


def _named(shelf: Shelf, name: str, entry: library.ShelfFile | None, *, kept: bool) -> Iterator[OnShelf]:
    saved, shipped = entry is not None, entry is not None and entry.shipped
    try:
        profile = unsaved_profile(shelf, name) if entry is None else library.load_profile(PROFILES[shelf], entry.path)
    except BadInput as fault:
        yield OnShelf(shelf, name, None, shipped=shipped, fault=fault.faults[0])
        return
    for mode in profile.mode if isinstance(profile, Camera) else (None,):
        yield OnShelf(shelf, name, profile, mode, shipped, saved, kept)
