"""Who uses a profile, and whether a changed one still serves them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from forescale.engine.answer import Answer, answer
from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.files.toml_files import read_toml
from forescale.engine.kit import library
from forescale.engine.kit.kit import Kit, assemble, check_fit, load_kit
from forescale.engine.kit.library import Shelf
from forescale.engine.kit.profiles import Camera, Head, Lens, Profile
from forescale.engine.shot.records import Setting, Shot
from forescale.engine.shot.sections import KitChoice

_FIELD: dict[Shelf, str] = {"cameras": "camera", "lenses": "lens", "heads": "head"}


def name_on(choice: KitChoice, shelf: Shelf) -> str | None:
    """Return which profile of a shelf a shot uses."""
    name: str | None = getattr(choice, _FIELD[shelf])
    return name


def uses(shot: Shot, shelf: Shelf, name: str) -> bool:
    """Tell whether the shot as it is set uses a profile."""
    return name_on(shot.kit, shelf) == name


def users(shot: Shot, shelf: Shelf, name: str) -> tuple[str, ...]:
    """Return who in a shot uses a profile: the shot itself, a reading taken with it, its saved states."""
    readings = (*shot.point, *shot.bench, *shot.survey)
    read = any(getattr(row, _FIELD[shelf], None) == name for row in readings) and not uses(shot, shelf, name)
    marks = (f'saved state "{mark.name}"' for mark in shot.mark if name_on(mark.setting.kit, shelf) == name)
    return (*["this shot"] * uses(shot, shelf, name), *["a reading of this shot"] * read, *marks)


def saved_users(shelf: Shelf, name: str) -> tuple[str, ...]:
    """Return the names of the shots on the shelf whose files use a profile; what cannot be read is passed over."""
    return tuple(entry.name for entry in library.shelf_files("shots").values() if _names(entry, shelf) == name)


def _names(entry: library.ShelfFile, shelf: Shelf) -> object:
    try:
        kit = read_toml(entry.path).get("kit")
    except BadInput:
        return None
    return kit.get(_FIELD[shelf]) if isinstance(kit, dict) else None


def kit_with(choice: KitChoice, kit: Kit, profile: Profile) -> Kit:
    """Return a kit with one of its profiles changed; raises BadInput where the choice asks what it has not."""
    camera = profile if isinstance(profile, Camera) else kit.camera
    lens = profile if isinstance(profile, Lens) else kit.lens
    head = profile if isinstance(profile, Head) else kit.head
    return assemble(choice, camera, lens, head)


def answer_with(shot: Shot, kit: Kit, profile: Profile) -> tuple[Kit, Answer]:
    """Return the present shot's kit and answer with a changed profile; raises BadInput where it breaks the shot."""
    changed = kit_with(shot.kit, kit, profile)
    return changed, answer(shot, changed, shot.units)


def refuse_breaking(shot: Shot, kit: Kit, shelf: Shelf, name: str, profile: Profile) -> None:
    """Raise BadInput where `profile` is to stand in the place of one that the shot or its marks use, and cannot."""
    using = users(shot, shelf, name)
    if using and profile.name != name:
        raise BadInput(f"{name} is used by {' and '.join(using)}, so its name must stay: save it under another name")
    if uses(shot, shelf, name):
        answer_with(shot, kit, profile)
    broken = tuple(broken_marks(shot, shelf, name, profile))
    if broken:
        raise BadInput(*broken)


def broken_marks(shot: Shot, shelf: Shelf, name: str, profile: Profile) -> Iterator[Fault]:
    """Yield a fault for each mark of the shot that a changed profile would break, and that was whole before."""
    for mark in shot.mark:
        if name_on(mark.setting.kit, shelf) != name:
            continue
        kit = _whole(mark.setting)
        if kit is None:
            continue
        try:
            check_fit(mark.setting, kit_with(mark.setting.kit, kit, profile))
        except BadInput as fault:
            yield replace(fault.faults[0], of=f'saved state "{mark.name}"')


def _whole(setting: Setting) -> Kit | None:
    try:
        kit = load_kit(setting.kit)
        check_fit(setting, kit)
    except BadInput:
        return None
    return kit
