"""What the board shows: the four panes together or one alone, the field in hand, and the way about them."""

from textual import events
from textual.app import ComposeResult
from textual.timer import Timer

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.solve.record import Pane
from forescale.tui import panes
from forescale.tui.app_screen import AppScreen
from forescale.tui.board.board_lines import beside_rows, finding_rows, message_rows, top_row
from forescale.tui.glyphs import plain
from forescale.tui.keys import footer_text
from forescale.tui.panes.arrange import LABEL, Look, Typing, arrange, field_text, in_columns, paths_of
from forescale.tui.panes.content import PaneContent
from forescale.tui.panes.each_pane import CONTENTS
from forescale.tui.runs import Row, Rows
from forescale.tui.session import State

PANES: tuple[Pane, ...] = tuple(panes.TITLES)
LOW, TALL = 12, 30  # rows from which on the finding has two lines: in a narrow window, in any
TOGETHER_WIDTH, TOGETHER_HEIGHT = 80, 24
GAP = 1
BANDS_WIDTH = 100  # from here on each pane goes all across
WIDEST_BAND = 113  # so far
THIRD_WIDTH = 120  # columns from which on a third column stands beside the panes
THIRD_LEAST = 40  # and its least
EVEN, BY_NEED = (0, 1, 2, 3, 4), (0, 14, 27, 36, 46)  # where the panes begin, as shares of all rows
REST_S = 0.12
COLUMNS = ("left", "beside", "drawn")  # of panes over one another
RIGHT = "right"  # and of two by two the other
TYPING = "Enter takes it  Esc leaves it  F1 help"


class BoardView(AppScreen[None]):
    """The shot in sight: four panes, one field in hand."""

    def __init__(self) -> None:
        super().__init__()
        self.pane: Pane = "scale"
        self.hands: dict[Pane, int] = dict.fromkeys(PANES, 0)
        self.page, self.pages = 0, 1
        self.alone = False
        self.message = self.last_message = ""
        self.typing: Typing | None = None
        self.proposed: State | None = None
        self.boxes = {name: Rows(id=name, classes="column") for name in (*COLUMNS, RIGHT, "view")}
        self.boxes |= {name: Rows(id=name) for name in ("top", "finding", "footer")}
        self.places: dict[Pane, tuple[int, int, int, int]] = {}  # left, top, width and height of the panes in sight
        self._contents: tuple[State, dict[Pane, PaneContent]] | None = None
        self._below, self._hand_row = 1, 0
        self._laid_out: tuple[int, int] | None = None
        self._rest: Timer | None = None

    def compose(self) -> ComposeResult:
        """One line above, the panes, the chief finding, and the keys."""
        yield from self.boxes.values()

    def on_resize(self, _event: events.Resize) -> None:
        """Lay the panes anew, together or alone; Textual says a size several times."""
        if self._laid_out != self.size:
            self.lay_out()

    def on_screen_resume(self, _event: events.ScreenResume) -> None:
        """Show what a task has changed."""
        if self._laid_out:
            self.redraw()

    @property
    def one_pane(self) -> bool:
        """Whether one pane is shown at a time, by choice or for want of room."""
        return self.alone or self.size.width < TOGETHER_WIDTH or self.size.height < TOGETHER_HEIGHT

    def lay_out(self) -> None:
        """Give every pane its place and size: one alone, two by two, or each all across, with the view beside."""
        self._laid_out = width, height = self.size
        self._below = 2 if height >= TALL or (width < TOGETHER_WIDTH and height >= LOW) else 1
        self.boxes["finding"].styles.height = self._below
        room = max(height - 2 - self._below, 0)
        in_bands = not self.one_pane and width >= BANDS_WIDTH and height >= TALL
        third = max(width - WIDEST_BAND - GAP, THIRD_LEAST) if in_bands and width >= THIRD_WIDTH else 0
        self.boxes["view"].display = bool(third)
        self.boxes["view"].put(width - third, 1, third, room)
        width -= third + GAP if third else 0
        left, upper = (width - GAP + 1) // 2, (room + 1) // 2
        shares = BY_NEED if room >= BY_NEED[-1] else EVEN
        tops = [room * share // shares[-1] for share in shares]
        self.places = {}
        for place, pane in enumerate(PANES):
            if self.one_pane:
                across, down, wide, high = 0, 0, width, room
            elif in_bands:
                across, down, wide, high = 0, tops[place], width, tops[place + 1] - tops[place]
            else:
                across, down = (left + GAP) * (place % 2), upper * (place // 2)
                wide, high = width - across if across else left, room - down if down else upper
            if not self.one_pane or pane == self.pane:
                self.places[pane] = (across, 1 + down, wide, high)
        columns: dict[str, tuple[int, int, int, int]] = {}
        for across, _, wide, _ in self.places.values():
            widths = Look(wide, room, self.forescale.glyphs).side_by_side
            for name, taken in zip((RIGHT,) if across else COLUMNS, widths, strict=False):
                columns[name] = (across, 1, taken, room)
                across += taken
        for name in (*COLUMNS, RIGHT):
            self.boxes[name].display = name in columns
            self.boxes[name].put(*columns.get(name, self.boxes[name].place))
        self.redraw()

    @property
    def seen(self) -> State:
        """The state in sight: the one that a value being typed leads to, else the present one."""
        return self.proposed or self.session.state

    def contents(self) -> dict[Pane, PaneContent]:
        """Return what the panes hold for the state in sight, made once a state."""
        state = self.seen
        if self._contents is None or self._contents[0] is not state:
            self._contents = (state, {pane: make(state.answer) for pane, make in CONTENTS.items()})
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
        refused = self.typing is not None and self.typing.refused
        columns: dict[str, list[Row]] = {name: [] for name in (*COLUMNS, RIGHT)}
        for pane, (left, _, width, height) in self.places.items():
            look = Look(width, height, glyphs, stale=refused, proposed=self.proposed is not None)
            if pane == self.pane:
                look = look._replace(in_hand=self.in_hand(), typing=self.typing, page=self.page)
            shown = arrange(PANES.index(pane) + 1, pane, self.contents()[pane], state, look)
            for name, rows in zip((RIGHT,) if left else COLUMNS, in_columns(shown, look), strict=False):
                columns[name] += rows
            if pane == self.pane:
                self._hand_row, self.pages = shown.hand_row or 0, shown.pages
                self.page = min(self.page, self.pages - 1)
        for name, rows in columns.items():
            self.boxes[name].show(rows)
        if self.boxes["view"].display:
            self.boxes["view"].show(beside_rows(state.answer, *self.boxes["view"].place[2:], glyphs))
        for entry in self.query("#entry") if self.typing is not None else ():  # where the field in hand stands now
            left, top, width, _ = self.places[self.pane]
            entry.styles.offset = (left + LABEL, top + self._hand_row)
            entry.styles.width = Look(width, 0, glyphs).columns[0] - LABEL
        self._show_lines()

    def _show_lines(self) -> None:
        width, below = self.size.width, self._below
        glyphs = self.forescale.glyphs
        self.boxes["top"].show([top_row(self.session, width, glyphs)])
        said, at_rest = message_rows(self.message, width, below, glyphs), self._rest is None
        self.boxes["finding"].show(said or finding_rows(self.seen.answer, width, below, glyphs, advised=at_rest))
        footer = TYPING if self.typing is not None else footer_text(self.forescale.keys_in_force(), width)
        self.boxes["footer"].show([((plain(f" {footer}", glyphs), "label"),)])

    def wait_for_rest(self) -> None:
        """Leave what mends the finding unsaid while step follows step: to try it takes as long as the answers."""
        if self._rest is None:
            self._rest = self.set_timer(REST_S, self.at_rest)
        else:
            self._rest.reset()

    def at_rest(self) -> None:
        """Say what mends the finding, where that was left for now."""
        if self._rest is not None:
            self._rest.stop()
            self._rest = None
            self._show_lines()

    def say(self, text: str) -> None:
        """Show a message in place of the finding until the next key."""
        self.message = text
        self._show_lines()

    def text_in_hand(self) -> str:
        """Return the field in hand with its value."""
        path = self.in_hand()
        return f"{FIELD_HELP[path].label} {field_text(self.seen, path)}"

    def on_key(self, _event: events.Key) -> None:
        """A key puts the finding back in place of a message."""
        self.last_message, self.message = self.message, ""

    def action_pane(self, pane: Pane) -> None:
        self.pane, self.page = pane, 0
        self.lay_out() if self.one_pane else self.redraw()

    def action_next_pane(self, step: int) -> None:
        self.action_pane(PANES[(PANES.index(self.pane) + step) % len(PANES)])

    def action_field(self, step: int) -> None:
        last = len(paths_of(self.contents()[self.pane])) - 1
        self.hands[self.pane] = min(max(self.hands[self.pane] + step, 0), last)
        self.page = 0
        self.redraw()

    def action_page(self, step: int) -> None:
        self.page = min(max(self.page + step, 0), self.pages - 1)
        self.redraw()

    def go_to(self, path: str, pane: Pane) -> None:
        """Put the field at `path` in hand, in the pane that has it, or else go to `pane`."""
        for name, content in self.contents().items():
            if path in paths_of(content):
                self.hands[name] = paths_of(content).index(path)
                pane = name
        self.action_pane(pane)

    action_go_to = go_to

    def action_alone(self) -> None:
        self.alone, self.page = not self.alone, 0
        self.lay_out()
