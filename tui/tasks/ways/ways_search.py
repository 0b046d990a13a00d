"""A search that lets keys through while it works, what may vary in it, and the limits that it goes by."""

import asyncio
import time
from collections.abc import AsyncIterator, Iterator
from typing import Any, NamedTuple, get_args

from forescale.engine.field_help import FIELD_HELP, range_of
from forescale.engine.files.faults import BadInput
from forescale.engine.options.outcome import Gathering, Outcome
from forescale.engine.options.search import FailedWay, search
from forescale.engine.options.to_try import ToTry, at_hand, plan
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import Goal, KeptKit, Limits
from forescale.engine.units import ratio_text
from forescale.tui.tasks.frame import FieldsScreen, Said

KEPT = 400  # more than anyone reads; the front is kept whole
SLICE_S = 0.02  # how long the search works before it lets keys through
TELL_EVERY_S = 0.3
MAY_VARY = ("scale.ratio", "place.model", "action.fps", "focus.distance", "focus.stop", "light.iso")


class SoFar(NamedTuple):
    """How far a search has come: what it found, and the first of the ways that fail where they are asked for."""

    outcome: Outcome
    misses: tuple[FailedWay, ...]


async def searching(to_try: ToTry, *, with_misses: bool) -> AsyncIterator[SoFar]:
    """Yield how far a search has come, at last the whole of it."""
    gathering, misses = Gathering(to_try, KEPT), list[FailedWay]()
    told = rested = time.monotonic()
    for batch in search(to_try, with_misses=with_misses):
        gathering.add(batch)
        misses += batch.misses[: KEPT - len(misses)]
        now = time.monotonic()
        if now - rested > SLICE_S:
            await asyncio.sleep(0)
            rested = time.monotonic()
        if now - told > TELL_EVERY_S:
            yield SoFar(gathering.outcome(), tuple(misses))
            told = time.monotonic()
    yield SoFar(gathering.outcome(), tuple(misses))


def in_app(path: str) -> str:
    """Return what a field is called: 'the limit "largest part"' for limits.build_max."""
    return f'{"the limit " if path.startswith("limits.") else ""}"{FIELD_HELP[path].label}"'


def labels_of(paths: tuple[str, ...] | list[str]) -> str:
    """Return the labels of fields, with commas between."""
    return ", ".join(FIELD_HELP[path].label for path in paths)


def named_among(text: str, held: list[str]) -> tuple[str, ...]:
    """Return the fields that an entry names, by label, "all" or "none"; raises BadInput for one that is not held."""
    rest = text.strip().lower()
    if rest in {"", "none"}:
        return ()
    if rest == "all":
        return tuple(held)
    named = tuple(path for path in held if FIELD_HELP[path].label.lower() in rest)
    for path in named:
        rest = rest.replace(FIELD_HELP[path].label.lower(), "")
    if rest.replace(",", "").split():
        raise BadInput(f'"{rest.strip(" ,")}" is not set in the shot; type all, none, or of {labels_of(held)}')
    return named


_WORDS: dict[str, tuple[str, ...]] = {"limits.hold": get_args(KeptKit), "limits.order": get_args(Goal)}
_SUCH_AS = {"gravity": "2", "short_stops": "0.5", "build_max": "4 ft|1.2 m", "ratios": "1:7 1:43.5"}
_SUCH_AS |= {"frame_min": "30 %", "frame_max": "90 %", "hold": "camera lens", "order": "model light"}
_SUCH_AS |= {"reading_px": "0.5", "tape_error": "1 in|25 mm"}


class LimitsScreen(FieldsScreen):
    TASK, BY_ROW, PATHS = "Limits", True, tuple(f"limits.{name}" for name in Limits.model_fields)
    _within = ""
    _searched: object = None

    def fill(self) -> None:
        super().fill()
        if self._searched is not self.shot:
            self._searched = self.shot
            self.run_worker(self._search(), exclusive=True, group="search")

    async def _search(self) -> None:
        """Find how many ways there are within the limits."""
        try:
            to_try = plan(self.shot, self.system, at_hand(self.shot.kit))
            async for so_far in searching(to_try, with_misses=False):
                self._within = f"With these limits: {so_far.outcome.verdict.spelt(in_app)}"
        except BadInput as fault:
            self._within = f"With these limits: {fault.faults[0]}"
        self.tell()

    def now(self, path: str) -> str:
        return self._text(path, edit.value_at(self.shot, path))

    def _text(self, path: str, value: Any) -> str:
        if isinstance(value, tuple):
            return " ".join(ratio_text(one) if isinstance(one, float) else one for one in value) or "none"
        if value is None:
            return "none"
        return edit.number_at(Setting, path).shown(value, self.system)  # a limit that is no list is a number

    def how(self, place: int) -> list[Said]:  # noqa: ARG002
        return []  # all of it stands on the page

    def gives(self) -> Iterator[Said]:
        path, help_on = self.path, FIELD_HELP[self.path]
        yield f"{help_on.label}: {help_on.what}"
        yield f"Now {self.now(path)}. {self.hint(path)}"
        yield f"{help_on.enters} {help_on.measure}"
        yield ""
        yield self._within

    def entry(self, path: str) -> str:
        text = self.now(path) if isinstance(edit.value_at(self.shot, path), tuple) else super().entry(path)
        return "" if text == "none" else text

    def hint(self, path: str) -> str:
        name = path.removeprefix("limits.")
        usual = self._text(path, Limits.model_fields[name].default)
        wanted = "a length" if name == "build_max" else range_of(path, self.system)
        such_as = ", or ".join(_SUCH_AS[name].split("|")[:: 1 if self.system == "imperial" else -1])
        return f"Type {wanted}, such as: {such_as}. Nothing typed means {usual}."

    def read(self, path: str, text: str) -> tuple[Any, str]:
        words = text.replace(",", " ").split()
        if path in _WORDS:
            for word in words:
                if word not in _WORDS[path]:
                    raise BadInput(f'"{word}" is not known; write of {", ".join(_WORDS[path])}')
            return words, (", then " if path == "limits.order" else ", ").join(words)
        if path == "limits.ratios":
            edit.changed(self.shot, {path: words})
            return words, ", ".join(words)
        return super().read(path, text)
