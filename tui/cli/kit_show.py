"""`forescale kit show`: what stands on the shelves under a name, readable, with what each value means."""

import argparse
from collections.abc import Callable, Iterator
from typing import Any

from forescale.engine.files.faults import BadInput, nearest
from forescale.engine.kit import library
from forescale.engine.kit.gauges import gauge_text, pixel_doubt
from forescale.engine.kit.profiles import Camera, Head, Lens, Rates
from forescale.engine.sheet.blocks import Block, Row, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.text import joined, section_lines
from forescale.engine.shot.records import Shot
from forescale.engine.units import length_text, number_text, stops_text, time_text
from forescale.tui.cli.command_line import DONE, say
from forescale.tui.cli.kit_list import loaded


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", help="a camera, lens, head or shot, as forescale kit list has it")


def run(arguments: argparse.Namespace) -> int:
    """Print what stands under the name, on every shelf that has it."""
    name = arguments.name
    shelves = {shelf: library.shelf_files(shelf) for shelf in library.ONE_OF}
    found = [(shelf, entries[name]) for shelf, entries in shelves.items() if name in entries]
    if not found:
        known = [name for entries in shelves.values() for name in entries]
        raise BadInput(f'nothing on the shelves is called "{name}"; {nearest(name, known)}')
    say(joined([line for shelf, entry in found for line in _shown(shelf, entry)]))
    return DONE


def _shown(shelf: library.Shelf, entry: library.ShelfFile) -> Iterator[str]:
    record = loaded(shelf, entry.path)
    hidden = not entry.shipped and (library.SHIPPED / shelf / entry.path.name).is_file()
    owner = "built-in" if entry.shipped else f"yours{', and hides the built-in one' if hidden else ''}"
    rows = [
        Row("Title", clean(record.title) or "none"),
        Row("Is", f"a {library.ONE_OF[shelf]}, {owner}"),
        Row("File", clean(str(entry.path))),
    ]
    if record.notes:
        rows.append(Row("Notes", clean(record.notes)))
    for section in (Section(clean(entry.name), tuple(rows)), *SAYS[type(record)](record)):
        yield from section_lines(section)
        yield ""


def _mm(mm: float) -> str:
    return f"{number_text(mm, 9)} mm"


def _both(mm: float) -> str:
    return f"{length_text(mm, 'metric')} ({length_text(mm, 'imperial')})" if mm < float("inf") else "infinity"


def _camera(camera: Camera) -> Iterator[Section]:
    for mode in camera.mode:
        pixels = f"{mode.width_px} × {mode.height_px} px, {number_text(1000 * mode.pixel_mm)} µm a pixel"
        if isinstance(mode.fps, Rates):
            rates = f"any whole rate from {number_text(mode.fps.min, 6)} to {number_text(mode.fps.max, 6)}"
        else:
            rates = ", ".join(number_text(rate, 6) for rate in sorted(mode.fps))
        readout = "" if mode.readout is None else time_text(mode.readout)
        data = "" if mode.data_rate is None else f"{number_text(mode.data_rate, 6)} MB/s"
        rows = (
            Row("Active area", f"{number_text(mode.width, 9)} × {_mm(mode.height)}", pixels),
            Row("Look again", clean(pixel_doubt(mode))),
            Row("Usual frame", gauge_text(mode.width, mode.height)),
            Row("Rates", rates, "frames a second"),
            Row("ISO", number_text(mode.iso_base, 7), f"the base; it goes to {number_text(mode.iso_max, 8)}"),
            Row("Readout", readout, "rolling shutter, first row to last"),
            Row("Data", data, f"at {number_text(mode.top_fps, 6)} fps"),
        )
        yield Section(f"Mode {clean(mode.name)}", tuple(row for row in rows if row.value))


def _lens(lens: Lens) -> Iterator[Section]:
    span = f"{number_text(lens.shortest, 6)} mm to {_mm(lens.longest)}" if lens.is_zoom else _mm(lens.longest)
    rows = [
        Row("Focal length", span, "a zoom" if lens.is_zoom else "a prime"),
        Row("Stops", lens.stop_range, f"marked in {lens.marks}-stops"),
        Row("Loss in the glass", stops_text(number_text(lens.transmission_loss)), "between f-stop and T-stop"),
        Row("Close focus", _both(lens.close_focus), "from the sensor plane"),
    ]
    if lens.squeeze != 1:
        rows.append(Row("Squeeze", number_text(lens.squeeze, 4), "across"))
    yield Section("Lens", tuple(rows))
    yield Section("Entrance pupil", (_pupil(lens),), "the point about which a move does not slip")


def _pupil(lens: Lens) -> Block:
    if not lens.pupil:
        return Row("Pupil", "not measured", "the bench can find it")
    rows = []
    for row in lens.pupil:
        error = "not given" if row.uncertainty is None else f"± {_mm(row.uncertainty)}"
        measured = "not given" if row.measured is None else row.measured.isoformat()
        rows.append((_mm(row.focal_length), _both(row.focus), _mm(row.ahead), error, measured))
    return Table(("Focal length", "Focused at", "Ahead of the sensor plane", "Uncertainty", "Measured"), tuple(rows))


def _head(head: Head) -> Iterator[Section]:
    rows = (
        Row("Slide runs", f"{number_text(head.slide_min, 9)} mm to {_mm(head.slide_max)}"),
        Row("Slide is marked", f"every {_mm(head.slide_step)}"),
        Row("Sensor plane at 0", _ahead(head.sensor_at_zero), "of the pan axis, slide at 0"),
        Row("Tilt axis", _ahead(head.tilt_ahead), "of the pan axis"),
        Row("Tilt axis lies", _mm(head.tilt_drop), "below the lens axis"),
    )
    yield Section("Head", rows)


def _ahead(mm: float) -> str:
    return f"{_mm(abs(mm))} {'behind' if mm < 0 else 'ahead'}"


def _shot(shot: Shot) -> Iterator[Section]:
    kit = shot.kit
    rows = (
        Row("Camera", clean(kit.camera), clean(kit.mode)),
        Row("Lens", clean(kit.lens), "" if kit.focal_length is None else f"at {_mm(kit.focal_length)}"),
        Row("Head", clean(kit.head) if kit.head else "none named"),
    )
    yield Section("Shot", rows, "forescale sheet prints its numbers")


SAYS: dict[type[Any], Callable[[Any], Iterator[Section]]] = {Camera: _camera, Lens: _lens, Head: _head, Shot: _shot}
