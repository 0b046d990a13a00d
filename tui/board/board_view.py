"""What the board shows: the four panes together or one alone, the field in hand, and the way about them."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.solve.record import Pane
from forescale.tui import panes
from forescale.tui.app_screen import AppScreen
from forescale.tui.board.beside import beside_rows
from forescale.tui.board.board_lines import finding_rows, message_rows, top_row
from forescale.tui.glyphs import plain
from forescale.tui.keys import footer_text
from forescale.tui.panes import focus, scale, slip, speed
from forescale.tui.panes.arrange import LABEL, Look, Typing, arrange, field_text, paths_of
from forescale.tui.panes.content import PaneContent
from forescale.tui.runs import Rows
from forescale.tui.session import State

PANES: tuple[Pane, ...] = tuple(panes.TITLES)
_CONTENT = {"scale": scale.content, "speed": speed.content, "focus": focus.content, "slip": slip.content}
LOW, TOGETHER_WIDTH, TOGETHER_HEIGHT, TALL, ROOMY = 12, 80, 24, 30, 45
GAP = 1
UPPER_MORE = 2  # rows that the upper panes have more of, where all that they hold finds room with them
THIRD_WIDTH, BESIDE_LEAST = 120, 40  # columns from which on a third column stands beside the panes, and its least
TYPING = "Enter takes it  Esc leaves it  F1 help"


class BoardView(AppScreen[None]):
    """The shot in sight: four panes, one field in hand."""

    def __init__(self) -> None:
        super().__init__()
        self.pane: Pane = "scale"
        self.hands: dict[Pane, int] = dict.fromkeys(PANES, 0)
        self.page, self.pages = 0, 1
        self.alone = False
        self.message = ""
        self.typing: Typing | None = None
        self.proposed: State | None = None
        self._contents: tuple[State, dict[Pane, PaneContent]] | None = None
        self._hand_row: int | None = None

    def compose(self) -> ComposeResult:
        """One line above, the panes, the chief finding, and the keys."""
        yield Rows(id="top")
        for pane in PANES:
            yield Rows(id=pane, classes="pane")
        yield Rows(id="beside", classes="pane")
        yield Rows(id="finding")
        yield Rows(id="footer")

    # What is shown

    def on_resize(self, _event: events.Resize) -> None:
        """Lay the panes anew, together or alone."""
        self.lay_out()

    def on_screen_resume(self, _event: events.ScreenResume) -> None:
        """Show what a task has changed."""
        self.redraw()

    @property
    def one_pane(self) -> bool:
        """Whether one pane is shown at a time, by choice or for want of room."""
        return self.alone or self.size.width < TOGETHER_WIDTH or self.size.height < TOGETHER_HEIGHT

    @property
    def has_third(self) -> bool:
        """Whether there is room beside the panes for what the lens sees and what to mind."""
        return not self.one_pane and self.size.width >= THIRD_WIDTH and self.size.height >= TALL

    @property
    def is_roomy(self) -> bool:
        """Whether there is room in that column for the diagram of the pane in hand as well."""
        return self.has_third and self.size.height >= ROOMY

    def lay_out(self) -> None:
        """Give every pane its place and size."""
        width, height = self.size.width, self.size.height
        below = 2 if height >= TALL or (width < TOGETHER_WIDTH and height >= LOW) else 1
        self.query_one("#finding").styles.height = below
        room = height - 2 - below
        third = max(width // 3, BESIDE_LEAST) if self.has_third else 0
        if self.is_roomy:
            third = max(third, min(width - 2 * (BESIDE_LEAST + GAP), 2 * BESIDE_LEAST))
        beside = self.query_one("#beside", Rows)
        beside.display = bool(third)
        beside.styles.offset = (width - third, 1)
        beside.styles.width, beside.styles.height = third, room
        width -= third + GAP if third else 0
        left, upper = (width - GAP + 1) // 2, (room + 1) // 2 + (UPPER_MORE if self.is_roomy else 0)
        for place, pane in enumerate(PANES):
            box = self.query_one(f"#{pane}", Rows)
            box.display = not self.one_pane or pane == self.pane
            across, down = (0, 0) if self.one_pane else (place % 2, place // 2)
            box.styles.offset = (across * (left + GAP), 1 + down * upper)
            if self.one_pane:
                box.styles.width, box.styles.height = width, room
            else:
                box.styles.width = left if not across else width - left - GAP
                box.styles.height = upper if not down else room - upper
        self.redraw()

    @property
    def seen(self) -> State:
        """The state in sight: the one that a value being typed leads to, else the present one."""
        return self.proposed or self.session.state

    def contents(self) -> dict[Pane, PaneContent]:
        """Return what the panes hold for the state in sight, made once a state."""
        state = self.seen
        if self._contents is None or self._contents[0] is not state:
            self._contents = (state, {pane: make(state.answer) for pane, make in _CONTENT.items()})  # type: ignore[misc]
        return self._contents[1]

    def in_hand(self) -> str:
        """Return the path of the field in hand, the one that is typed for where one is."""
        if self.typing is not None:
            return self.typing.path
        paths = paths_of(self.contents()[self.pane])
        return paths[min(self.hands[self.pane], len(paths) - 1)]

    def redraw(self) -> None:
        """Show the present state; only rows that differ are sent."""
        if not self.size.width or not self.is_attached:
            return
        state, glyphs = self.seen, self.forescale.glyphs
        for number, pane in enumerate(PANES, 1):
            box = self.query_one(f"#{pane}", Rows)
            width, height = int(box.styles.width.value), int(box.styles.height.value)  # type: ignore[union-attr]
            if not box.display:
                continue
            active = pane == self.pane
            look = Look(
                width,
                height,
                glyphs,
                in_hand=self.in_hand() if active else None,
                typing=self.typing if active else None,
                stale=self.typing is not None and self.typing.refused,
                proposed=self.proposed is not None,
                page=self.page if active else 0,
                last_elsewhere=self.is_roomy,
            )
            arranged = arrange(number, pane, self.contents()[pane], state, look)
            box.show(arranged.rows)
            if active:
                self._hand_row, self.pages = arranged.hand_row, arranged.pages
                self.page = min(self.page, self.pages - 1)
        if self.has_third:
            box = self.query_one("#beside", Rows)
            width, height = int(box.styles.width.value), int(box.styles.height.value)  # type: ignore[union-attr]
            last = self.contents()[self.pane].diagrams[-1] if self.is_roomy else None
            box.show(beside_rows(state.answer, width, height, glyphs, last))
        self._place_entry()
        self._show_lines()

    def _show_lines(self) -> None:
        width, glyphs = self.size.width, self.forescale.glyphs
        self.query_one("#top", Rows).show((top_row(self.session, width, glyphs),))
        below = int(self.query_one("#finding").styles.height.value)  # type: ignore[union-attr]
        said = message_rows(self.message, width, below, glyphs)
        self.query_one("#finding", Rows).show(said or finding_rows(self.seen.answer, width, below, glyphs))
        footer = TYPING if self.typing is not None else footer_text(self.forescale.keys_in_force(), width)
        self.query_one("#footer", Rows).show((((plain(f" {footer}", glyphs), "label"),),))

    def say(self, text: str) -> None:
        """Show a message in place of the finding until the next key."""
        self.message = text
        self._show_lines()

    def text_in_hand(self) -> str:
        """Return the field in hand with its value."""
        path = self.in_hand()
        return f"{FIELD_HELP[path].label} {field_text(self.seen, path)}"

    # Moving about

    def on_key(self, _event: events.Key) -> None:
        """A key puts the finding back in place of a message."""
        self.message = ""

    def action_pane(self, pane: Pane) -> None:
        """Go to a pane."""
        self.pane, self.page = pane, 0
        self.lay_out() if self.one_pane else self.redraw()

    def action_next_pane(self, step: int) -> None:
        """Go to the pane after this one, or before it."""
        self.action_pane(PANES[(PANES.index(self.pane) + step) % len(PANES)])

    def action_field(self, step: int) -> None:
        """Go so many fields down, or up, as far as there are any."""
        last = len(paths_of(self.contents()[self.pane])) - 1
        self.hands[self.pane] = min(max(self.hands[self.pane] + step, 0), last)
        self.page = 0
        self.redraw()

    def action_page(self, step: int) -> None:
        """Go on to the answers that had no room, or back."""
        self.page = min(max(self.page + step, 0), self.pages - 1)
        self.redraw()

    def go_to(self, path: str, pane: Pane) -> None:
        """Put the field at `path` in hand, in the pane that has it, or else go to `pane`."""
        for name, content in self.contents().items():
            if path in paths_of(content):
                self.hands[name] = paths_of(content).index(path)
                pane = name
        self.action_pane(pane)

    def action_alone(self) -> None:
        """Show the pane alone, or all four again."""
        self.alone, self.page = not self.alone, 0
        self.lay_out()

    def _place_entry(self) -> None:
        """Put the entry where the field in hand stands now."""
        for entry in self.query("#entry"):
            box = self.query_one(f"#{self.pane}", Rows)
            left, top = int(box.styles.offset.x.value), int(box.styles.offset.y.value)
            entry.styles.offset = (left + LABEL, top + (self._hand_row or 0))
            entry.styles.width = int(box.styles.width.value) - LABEL  # type: ignore[union-attr]
