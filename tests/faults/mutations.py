"""Files changed at random, their structure known: every one is refused in plain lines, or answered without a nan."""

from __future__ import annotations

import copy
import json
import math
import random
import signal
import tomllib
import traceback
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import tomli_w

from forescale.engine.answer import answer_file
from forescale.engine.answer.jsonable import jsonable
from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.sheet.data import GROUPS, build_csv, sheet_json
from forescale.engine.sheet.text import sheet_text
from tests.faults.tally import Tally

HANG_S = 2.0  # of the processor's time
EVERY = 20  # one answered file of so many is written out in full; of the others every number is looked at
FORMS = (sheet_text, build_csv, sheet_json)
# fmt: off
STRANGE: tuple[Any, ...] = (
    "", " ", "nan", "inf", "-inf", "0", "-1", "1e308", "1e-308", "10 ft", "-10 ft", "0 mm", "1e9 km", "10' 6\"",
    "1,5 m", "1,500 m", "15 deg", "-400 deg", "6 s", "1/0", "1:0", "0:1", "1:24", "1:1e300", "T11", "f/0", "f/=1e-9",
    "auto", "2 px", "diagonal/0", "10 furlongs", "\x1b[2J", "\x00", "\u202e", "\ud7ff", "é" * 300, "=1+1", "~", "/",
    "ft ft ft", "²", "١٢ mm", "1e400 mm", "NaN ft", "0x10 mm", "1_000 mm",
    0, 1, -1, 24, 2**31, 2**63 - 1, -(2**63), 10**400, 0.0, -0.0,
    1e308, 5e-324, math.nan, math.inf, -math.inf, True, False, [], {}, [[]], [{}], [1, "a"], {"a": {"b": {}}},
    {"min": 1, "max": 120}, [24, 24], ["1:24"] * 50,
)
# fmt: on


class Hang(BaseException):
    """It took more of the processor than any file may."""


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """Raise Hang where what is done here takes longer of the processor's time, which others at work do not lengthen."""

    def late(_number: int, _frame: object) -> None:
        raise Hang

    before = signal.signal(signal.SIGVTALRM, late)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def places(data: Any) -> Iterator[tuple[Any, Any]]:
    """Yield every place in a file's data: what holds it, and its key or number there."""
    for key in list(data) if isinstance(data, dict) else range(len(data)):
        yield data, key
        if isinstance(data[key], dict | list):
            yield from places(data[key])


def mutated(data: Mapping[str, Any], chance: random.Random) -> str:
    """Return the text of a file in which one to four things are changed, mostly one."""
    changed = copy.deepcopy(dict(data))
    for _ in range(chance.choice([1, 1, 1, 2, 4])):
        if found := list(places(changed)):
            chance.choice(CHANGES)(*chance.choice(found), chance)
    try:
        text = tomli_w.dumps(changed)
    except (ValueError, TypeError, UnicodeError):
        text = tomli_w.dumps(data)
    return _scratched(text, chance) if chance.random() < 0.2 else text


def _other_value(held: Any, key: Any, chance: random.Random) -> None:
    held[key] = copy.deepcopy(chance.choice(STRANGE))


def _from_elsewhere(held: Any, key: Any, chance: random.Random) -> None:
    holder, other = chance.choice(list(places(held)))
    held[key] = copy.deepcopy(holder[other])


def _gone(held: Any, key: Any, _chance: random.Random) -> None:
    del held[key]


def _renamed(held: Any, key: Any, chance: random.Random) -> None:
    if isinstance(held, dict):
        held[chance.choice(["", "x", key[:-1], f"{key}s", key.upper(), "schema", "name", "a.b", "\x1b"])] = held.pop(
            key
        )


def _scaled(held: Any, key: Any, chance: random.Random) -> None:
    value = held[key]
    if isinstance(value, str) and (number := next((word for word in value.split() if word.isdecimal()), "")):
        held[key] = value.replace(number, str(int(number) * 10 ** chance.randint(-6, 12)), 1)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        held[key] = float(str(value)[:300]) * 10.0 ** chance.randint(-12, 12)


def _many(held: Any, key: Any, chance: random.Random) -> None:
    value = held[key]
    held[key] = value * chance.choice([2, 30]) if isinstance(value, list) else [value] * chance.choice([2, 30])


CHANGES: tuple[Callable[[Any, Any, random.Random], None], ...] = (
    *(_other_value,) * 3, _from_elsewhere, _gone, _renamed, *(_scaled,) * 6, _many,
)  # fmt: skip


def _scratched(text: str, chance: random.Random) -> str:
    """Return the text with a few characters or a line of it gone, doubled, or put in from elsewhere."""
    for _ in range(chance.randint(1, 3)):
        at = chance.randrange(len(text) + 1)
        length = chance.choice([1, 1, 2, 20, 80])
        piece = chance.choice(["", "", text[at : at + length] * 2, chance.choice("\"'[]{}=.,#\n\\\0é"), "[[" * 40])
        text = text[:at] + piece + text[at + length :]
    return text


def try_files(tries: int, seed: int, home: Path) -> Tally:
    """Change shots and the profiles that they use, and put each through all that reads a shot; `home` is the user's."""
    tally, chance = Tally("mutated files"), random.Random(seed)
    shots = [path.read_text() for path in sorted((library.SHIPPED / "shots").glob("*.toml"))]
    for number in range(tries):
        tally.tries += 1
        text = chance.choice(shots)
        shot, mutant = tomllib.loads(text), home / "mutant.toml"
        if chance.random() < 0.4:
            shelf = chance.choice([shelf for shelf in library.PROFILES if library.ONE_OF[shelf] in shot["kit"]])
            profile = home / shelf / f"{shot['kit'][library.ONE_OF[shelf]]}.toml"
            profile.parent.mkdir(parents=True, exist_ok=True)
            shipped = library.SHIPPED / shelf / profile.name
            written = mutated(tomllib.loads(shipped.read_text()), chance)
            profile.write_text(written, encoding="utf-8", errors="surrogatepass")
            mutant.write_text(text)
        else:
            profile, written = None, mutated(shot, chance)
            mutant.write_text(written, encoding="utf-8", errors="surrogatepass")
        _try_one(mutant, written, tally, full=number % EVERY == 0)
        if profile is not None:
            profile.unlink()
    return tally


def _try_one(path: Path, written: str, tally: Tally, *, full: bool) -> None:
    try:
        with within(HANG_S * (5 if full else 1)):
            shot, answer = answer_file(path)
            texts = [form(shot, answer) for form in FORMS] if full else []
            json.dumps([jsonable(getattr(answer, group)) for group in GROUPS], allow_nan=False)
            library.save_shot(path, shot)
            again = library.load_shot(path)
    except BadInput as bad:
        tally.count("refused")
        if any("\n" in fault or not fault.strip() for fault in bad.lines) or not bad.lines:
            tally.failures.append(f"refused in no single line: {bad.lines}\n{written}")
    except Hang:
        tally.failures.append(f"hangs:\n{written}")
    except Exception:
        tally.failures.append(f"{traceback.format_exc()}\n{written}")
    else:
        tally.count("answered")
        if again != shot:
            tally.failures.append(f"reads back as another shot:\n{written}")
        for text in texts:
            if _fails(text, written):
                tally.failures.append(f"tells nan, or lets a control character out:\n{text}\n{written}")


def _fails(text: str, written: str) -> bool:
    """Tell whether a nan is told that nobody wrote, or something leaves that a terminal would act upon."""
    told_nan = "nan" in text.lower().replace(",", " ").split() and "nan" not in written.lower()
    return told_nan or any(not char.isprintable() and char != "\n" for char in text)
