"""Names for files: made of a text, and refused where some system could not hold them."""

from forescale.engine.files.faults import BadInput, Fault

LONGEST_NAME = 60  # of one made here
MOST_NAME_BYTES = 200  # of any: systems stop at 255, and a file that is being written needs a few of its own
# What one system keeps for its devices, in any folder and before any ending (Microsoft, "Naming Files, Paths").
DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(10))}
REFUSED = frozenset('<>:"|?*\\')


def name_of(text: str) -> str:
    """Return a plain name for a file made of a text, "my-field-cam" of "My field cam"; "" of one without letters."""
    name = "-".join("".join(c if c.isalnum() else " " for c in text.lower()).split())[:LONGEST_NAME].rstrip("-")
    return f"{name}-1" if name in DEVICES else name


def why_not(name: str) -> tuple[str, str] | None:
    """Return why a file should not be called so and what would be right, or None where it may."""
    if name.partition(".")[0].strip().lower() in DEVICES:
        return f'"{name}" is the name of a device on some systems', "choose another"
    if name.endswith((".", " ")):
        return f'"{name}" ends in a dot or a space, which some systems drop', "end it in a letter or a digit"
    if name.startswith("-"):
        return f'"{name}" begins with a dash, which commands take for an option', "begin it with a letter or a digit"
    if odd := next((char for char in name if char in REFUSED or not char.isprintable()), ""):
        shown = odd if odd.isprintable() else "a control character"
        return f"no file on some systems may have {shown} in its name", "leave it out"
    if len(name.encode("utf-8", "replace")) > MOST_NAME_BYTES:
        return f"a name of {len(name)} characters is longer than systems hold", "choose a shorter one"
    return None


def refuse_name(name: str) -> None:
    """Raise BadInput where a file should not be called so."""
    if reason := why_not(name):
        raise BadInput(Fault(*reason))
