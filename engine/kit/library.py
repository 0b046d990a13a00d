"""Where profiles and shots are kept, and how one is found by its name.

Shipped ones are read-only; the user's own, under FORESCALE_HOME or the platform's user data folder, hide them.
"""

import os
from functools import partial
from pathlib import Path
from typing import Any, Literal, NamedTuple, TypeVar

from forescale.engine.files.disk import MOST_PROFILE_BYTES, files_in, resolved
from forescale.engine.files.faults import BadInput, ChangedElsewhere, Fault, nearest, read_model
from forescale.engine.files.toml_files import read_toml, write_toml
from forescale.engine.kit.profiles import Camera, Head, Lens, Profile
from forescale.engine.shot.records import Shot

AnyProfile = TypeVar("AnyProfile", bound=Profile)
Shelf = Literal["cameras", "lenses", "heads", "shots"]
PROFILES: dict[Shelf, type[Profile]] = {"cameras": Camera, "lenses": Lens, "heads": Head}
ONE_OF: dict[Shelf, str] = {"cameras": "camera", "lenses": "lens", "heads": "head", "shots": "shot"}
SHIPPED = Path(__file__).resolve().parents[2] / "profiles"
DEMO = "kiln-stack"


def home() -> Path:
    """Return the folder of the user's own files: FORESCALE_HOME, or the platform's place for them."""
    if chosen := os.environ.get("FORESCALE_HOME"):
        return Path(os.path.expanduser(chosen))
    from platformdirs import user_data_path

    return user_data_path("forescale", appauthor=False)


def own_path(shelf: Shelf, name: str) -> Path:
    """Return the file of a user's own profile or shot."""
    return home() / shelf / f"{name}.toml"


class ShelfFile(NamedTuple):
    """A file on a shelf."""

    name: str
    path: Path
    shipped: bool


def shelf_files(shelf: Shelf) -> dict[str, ShelfFile]:
    """Return what stands on a shelf by name, the user's own hiding a shipped one of the same name."""
    found: dict[str, ShelfFile] = {}
    for root, shipped in ((SHIPPED, True), (home(), False)):
        for path in files_in(root / shelf, "*.toml"):
            found[path.stem] = ShelfFile(path.stem, path, shipped)
    return dict(sorted(found.items()))


def shelf_file(shelf: Shelf, name: str) -> ShelfFile:
    """Return the entry called `name`; raises BadInput with the nearest right spelling."""
    for root, shipped in ((home(), False), (SHIPPED, True)):
        path = root / shelf / f"{name}.toml"
        if name and Path(name).name == name and os.path.isfile(path):
            return ShelfFile(name, path, shipped)
    raise BadInput(Fault(f'no {ONE_OF[shelf]} is called "{name}"', nearest(name, shelf_files(shelf))))


def load_profile(kind: type[AnyProfile], path: Path) -> AnyProfile:
    """Return the profile in a file; raises BadInput with every fault, its name among them."""
    profile = read_model(kind, read_toml(path, MOST_PROFILE_BYTES), str(path))
    if profile.name != path.stem:
        differs = f'is "{profile.name}", but the file is called "{path.stem}"'
        raise BadInput(Fault.at("name", differs, "make them the same", file=str(path)))
    return profile


def _on_shelf(kind: type[AnyProfile], shelf: Shelf, name: str) -> AnyProfile:
    """Return the profile called `name`; raises BadInput."""
    return load_profile(kind, shelf_file(shelf, name).path)


camera, lens = partial(_on_shelf, Camera, "cameras"), partial(_on_shelf, Lens, "lenses")
head = partial(_on_shelf, Head, "heads")


def shot_path(name_or_path: str) -> Path:
    """Return the file of a shot: a path as it is, a bare name looked up among saved and shipped shots."""
    as_path = Path(os.path.expanduser(name_or_path))
    if os.path.isfile(as_path) or as_path.parent != Path() or name_or_path in {".", ".."}:
        return as_path
    try:
        return shelf_file("shots", name_or_path.removesuffix(".toml")).path
    except BadInput as fault:
        if not name_or_path.endswith(".toml"):
            raise
        raise BadInput.of(name_or_path, f"there is no such file here, and {fault}") from None


def load_shot(path: Path) -> Shot:
    """Return the shot in a file; raises BadInput with every fault."""
    return Shot.read(read_toml(path), str(path))


def save_shot(path: Path, shot: Shot) -> None:
    """Write a shot to a file, whole or not at all; raises BadInput with the system's reason."""
    refuse_shipped(path)
    where = str(path)
    write_toml(path, shot.dump(), lambda held: Shot.read(held, where).dump(), folders=path.parent == home() / "shots")


def save_profile(shelf: Shelf, profile: Profile) -> Path:
    """Write a profile to the user's own shelf under its name and return the file; raises BadInput."""
    path = own_path(shelf, profile.name)
    refuse_shipped(path)
    held, where, most = profile_dump(profile), str(path), MOST_PROFILE_BYTES
    read_model(type(profile), held, where)  # what could not be read again is not written
    write_toml(path, held, lambda old: profile_dump(read_model(type(profile), old, where)), folders=True, most=most)
    return path


def refuse_changed(shelf: Shelf, loaded: Profile, right: str) -> ShelfFile:
    """Return a profile's file; raises ChangedElsewhere where it is no longer as it was loaded, BadInput for none."""
    entry = shelf_file(shelf, loaded.name)
    if load_profile(PROFILES[shelf], entry.path) != loaded:
        raise ChangedElsewhere(Fault("has changed since it was loaded", right, file=str(entry.path)))
    return entry


def profile_dump(profile: Profile) -> dict[str, Any]:
    """Return what a file of this profile holds."""
    return profile.model_dump(exclude_none=True, exclude_defaults=True)


def refuse_shipped(path: Path) -> None:
    """Raise BadInput where a file is one of the shipped, which are read-only."""
    if resolved(path).is_relative_to(SHIPPED):
        raise BadInput.of(path, "is built in and read-only", "save under another name")
