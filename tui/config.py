"""What a user may set once for all: theme, glyph table, and keys, in config.toml beside the user's own files."""

from os.path import exists
from pathlib import Path
from typing import Literal

from pydantic import Field

from forescale.engine.fields.kinds import Record
from forescale.engine.files.disk import MOST_PROFILE_BYTES
from forescale.engine.files.faults import BadInput, Fault, nearest, read_model
from forescale.engine.files.toml_files import read_toml, write_toml
from forescale.engine.kit import library

THEMES = ("indoors", "daylight", "dark-set")


class Config(Record):
    """The configuration file; everything may be left out."""

    theme: Literal["indoors", "daylight", "dark-set"] = "indoors"
    glyphs: Literal["ascii", "box", "full"] | None = None
    keys: dict[str, str] = Field(default_factory=dict)


def config_path() -> Path:
    """Return where the configuration stands."""
    return library.home() / "config.toml"


def load_config() -> Config:
    """Return the user's configuration, or the default where there is none; raises BadInput with every fault."""
    path = config_path()
    if not exists(path):
        return Config.model_construct()  # as nothing is to be checked
    config = read_model(Config, read_toml(path, MOST_PROFILE_BYTES), str(path))
    check_keys(config, str(path))
    return config


def config_or_defaults() -> tuple[Config, str]:
    """Return the user's configuration, or the default and what to say of it where it cannot be used."""
    try:
        return load_config(), ""
    except BadInput as fault:
        more = f" and {len(fault.faults) - 1} more faults" if len(fault.faults) > 1 else ""
        return Config(), f"The defaults are in force: {fault.faults[0]}{more}"


def remember_theme(theme: str) -> None:
    """Write the theme into the configuration, the rest of it kept; raises BadInput where it cannot be."""
    path = config_path()
    write_toml(path, (read_toml(path) if exists(path) else {}) | {"theme": theme}, folders=True)


def check_keys(config: Config, where: str) -> None:
    """Raise BadInput where a key is given to nothing that is known, or one key to two things."""
    from forescale.tui.keys import BOARD_KEYS, USABLE

    keys = {key.id: key.key for key in BOARD_KEYS}
    in_force: dict[str, str] = {}
    wrong = ""
    for name, key in (keys | config.keys).items():
        if name not in keys:
            wrong, right = "unknown", nearest(name, keys)
        elif name in config.keys and not USABLE.fullmatch(key):
            wrong, right = f'"{key}" cannot be used', "give a letter, a digit or f1 to f5"
        elif key and key in in_force:
            wrong, right = f'"{key}" is already the key of {in_force[key]}', "give one of them another"
        if wrong:
            raise BadInput(Fault.at(f"keys.{name}", wrong, right, file=where))
        in_force[key] = name
