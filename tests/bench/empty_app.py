"""The yardstick: a Textual app with one Input and a Footer."""

from textual.app import App, ComposeResult
from textual.widgets import Footer, Input


class EmptyApp(App[None]):
    """Nothing but a line to type in and a footer."""

    BINDINGS = [("q", "quit", "Quit")]

    def compose(self) -> ComposeResult:
        """The two widgets."""
        yield Input()
        yield Footer()


if __name__ == "__main__":
    EmptyApp().run(mouse=False)
