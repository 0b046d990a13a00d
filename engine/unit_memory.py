"""What Pint worked out of the units, kept between runs so that the next starts without loading Pint."""

from __future__ import annotations

from pathlib import Path

from forescale.engine.files.toml_files import write_text
from forescale.engine.kit import library
from forescale.engine.units.registry import recall, remember
from forescale.engine.units.vocabulary import unit_pairs


def _file() -> Path:
    return library.home() / "units.json"


def recall_units() -> None:
    """Begin from what the last run remembered, if anything."""
    try:
        recall(_file().read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError):
        return


def remember_units() -> None:
    """Keep the units that were met, where Pint told anything new and the user has a folder; raises BadInput.

    Who only prints a sheet asks for no folder of his own, and is given none.
    """
    if library.home().is_dir():
        _keep(remember())


def remember_all_units() -> None:
    """Keep all units that can be written, so that none typed later has to wait for Pint; raises BadInput likewise."""
    _keep(remember(unit_pairs()))


def _keep(text: str | None) -> None:
    if text is not None:
        write_text(_file(), text, folders=True)
