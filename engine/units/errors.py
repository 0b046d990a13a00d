"""The one error that a text from a file or a field can cause."""

_LONGEST_SHOWN = 40


class EntryError(ValueError):
    """A text that cannot be read: what is `wrong`, and what would be `right`; the message is both in one line."""

    def __init__(self, wrong: str, right: str = "") -> None:
        self.wrong, self.right = wrong, right
        super().__init__(f"{wrong}; {right}" if right else wrong)


def quoted(text: str) -> str:
    """The text as an error shows it: on one line, printable, cut where it is long."""
    shown = "".join(char if char.isprintable() else "?" for char in " ".join(text.split()))
    if len(shown) > _LONGEST_SHOWN:
        shown = shown[: _LONGEST_SHOWN - 3] + "..."
    mark = "`" if '"' in shown else '"'
    return f"{mark}{shown}{mark}"
