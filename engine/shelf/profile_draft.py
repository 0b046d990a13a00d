"""A profile under work: every change of it, kept beside the user's files, and saving it over nobody else's work."""

from dataclasses import dataclass, field
from pathlib import Path

from forescale.engine.files.disk import MOST_PROFILE_BYTES, alone, digest, remove
from forescale.engine.files.faults import BadInput, ChangedElsewhere, read_model
from forescale.engine.files.names import name_of, refuse_name
from forescale.engine.files.toml_files import read_toml, write_toml
from forescale.engine.kit import library, unsaved
from forescale.engine.kit.library import PROFILES, Shelf, own_path
from forescale.engine.kit.profiles import Profile, is_plain
from forescale.engine.shelf.profile_edit import STARTING, copied


@dataclass(slots=True)
class Draft:
    """A profile's states; `saved` is what its file holds, None for no file, `found` its bytes' digest, "" for none."""

    shelf: Shelf
    present: Profile
    saved: Profile | None = None
    found: str = ""
    done: list[Profile] = field(default_factory=list)
    undone: list[Profile] = field(default_factory=list)
    kept_as: str = ""

    @property
    def unsaved(self) -> bool:
        """Whether the profile differs from what its file holds."""
        return self.present != self.saved

    @property
    def name(self) -> str:
        """The name under which the file is found: that of the saved profile, if there is one."""
        return self.present.name if self.saved is None else self.saved.name

    @property
    def path(self) -> Path:
        """The file that the profile is saved to."""
        return own_path(self.shelf, self.present.name)

    def change(self, profile: Profile) -> None:
        """Make `profile` the present state, which can be undone; the notes of a new one go with the first change."""
        if profile != self.present and profile.notes == STARTING:
            profile = profile.model_copy(update={"notes": ""})
        if profile != self.present:
            self.done.append(self.present)
            self.undone.clear()
            self.present = profile

    def undo(self) -> bool:
        """Go one change back; False where there is none."""
        return self._go(self.done, self.undone)

    def redo(self) -> bool:
        """Take one undone change back again; False where there is none."""
        return self._go(self.undone, self.done)

    def _go(self, taken: list[Profile], left: list[Profile]) -> bool:
        if taken:
            left.append(self.present)
            self.present = taken.pop()
            return True
        return False

    def save(self, *, over: bool = False) -> None:
        """Write the file, in place of that of an old name; raises BadInput, ChangedElsewhere if not as found."""
        old = None if self.saved is None else own_path(self.shelf, self.saved.name)
        with alone(library.home() / self.shelf):
            if not over and old is not None and digest(old) != self.found:
                raise ChangedElsewhere(f"{old.stem} was changed elsewhere since it was opened here")
            if not over and self.path != old and digest(self.path):
                raise ChangedElsewhere(f"another {self.path.stem} is there already")
            library.save_profile(self.shelf, self.present)
        forget(self.shelf, self.name)
        if old is not None and old != self.path:
            remove(old)
        self.saved, self.found = self.present, digest(self.path)

    def save_as(self, name: str) -> None:
        """Write the profile to a file of another name, the file that it came from staying as it is; raises BadInput."""
        other = Draft(self.shelf, copied(self.present, name))
        other.save()
        forget(self.shelf, self.name)
        self.change(other.present)
        self.saved, self.found = other.saved, other.found

    def reload(self) -> None:
        """Take what the file holds now, as one more change, which can be undone; raises BadInput."""
        path = own_path(self.shelf, self.name)
        loaded = library.load_profile(PROFILES[self.shelf], path)
        self.change(loaded)
        self.saved, self.found = loaded, digest(path)

    def keep(self) -> None:
        """Keep the work that is not saved; raises BadInput where it cannot be written."""
        if self.kept_as and self.kept_as != self.name:
            forget(self.shelf, self.kept_as)
        self.kept_as = self.name
        if not self.unsaved:
            return forget(self.shelf, self.name)
        path = unsaved.own_place() / _kept_as(self.shelf, self.name)
        work = {"found": self.found, "profile": library.profile_dump(self.present)}
        return write_toml(path, work, folders=True, most=MOST_PROFILE_BYTES)


def _kept_as(shelf: Shelf, name: str) -> str:
    return f"{shelf}/{name}.toml"


def forget(shelf: Shelf, name: str) -> None:
    """Let kept work go."""
    unsaved.forget(_kept_as(shelf, name))


def open_draft(shelf: Shelf, name: str) -> tuple[Draft, str]:
    """Return a draft of the user's own profile, kept work brought back, and what to say of it; raises BadInput."""
    path = own_path(shelf, name)
    before = unsaved.kept(_kept_as(shelf, name))
    kept = _kept(shelf, name)
    found = digest(path)
    if not found:
        if kept is None:
            raise BadInput.of(path, "there is no such file")
        return Draft(shelf, kept[1]), f"{name} is not saved yet"
    saved = library.load_profile(PROFILES[shelf], path)
    draft = Draft(shelf, saved, saved, found)
    if kept is None:
        return draft, f"What was kept of it cannot be read: it is set aside in {unsaved.aside()}" if before else ""
    if kept[1] == saved:
        return draft, ""
    draft.change(kept[1])
    draft.found = kept[0]
    return draft, "Unsaved work was brought back; undo returns to what the file holds"


def unsaved_profile(shelf: Shelf, name: str) -> Profile:
    """Return the kept work on a profile; raises BadInput where there is none that can be used."""
    if (kept := _kept(shelf, name)) is None:
        raise BadInput(f"{name}: what is kept of it is no profile")
    return kept[1]


def _kept(shelf: Shelf, name: str) -> tuple[str, Profile] | None:
    """Return the kept work on a profile, with the digest of the file that it began from."""
    for path in reversed(unsaved.kept(_kept_as(shelf, name))):
        try:
            data = read_toml(path, MOST_PROFILE_BYTES)
            return str(data["found"]), read_model(PROFILES[shelf], data["profile"], str(path))
        except (BadInput, KeyError):
            unsaved.set_aside(path)
    return None


def free_name(shelf: Shelf, text: str) -> str:
    """Return a plain name for a profile of one's own, made of the text where it is none; raises BadInput if taken."""
    name = text.strip() if is_plain(text.strip()) else name_of(text)
    if not name:
        raise BadInput('a name is needed, such as field-35, of letters, digits, "-", "_" and "."')
    refuse_name(name)
    if digest(own_path(shelf, name)) or name in unsaved.kept_in(shelf):
        raise BadInput(f"{name} is one of yours already: edit it, or choose another name")
    return name


def hides(shelf: Shelf, name: str) -> bool:
    """Tell whether one's own profile of this name hides a shipped one."""
    return (library.SHIPPED / shelf / f"{name}.toml").is_file()


def delete(shelf: Shelf, name: str) -> None:
    """Take a user's own profile away, with any unsaved work on it; raises BadInput."""
    forget(shelf, name)
    remove(own_path(shelf, name))
