"""The yardstick: a Textual app with one Input and a Footer."""

from typing import ClassVar

from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.widgets import Footer, Input


class EmptyApp(App[None]):
    """Nothing but a line to type in and a footer."""

    BINDINGS: ClassVar[list[BindingType]] = [("q", "quit", "Quit")]

    def compose(self) -> ComposeResult:
        """The two widgets."""
        yield Input()
        yield Footer()


if __name__ == "__main__":
    EmptyApp().run(mouse=False)
