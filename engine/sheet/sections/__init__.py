"""What stands on the sheet, section by section, in the order in which a crew works."""

from __future__ import annotations

from forescale.engine.answer import Answer
from forescale.engine.sheet.blocks import Section
from forescale.engine.sheet.sections import (
    bench,
    build,
    day,
    focus,
    heading,
    line_up,
    lineup,
    margins,
    picture,
    place,
    remarks,
    slip,
    speed,
    stand,
)
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot.records import Shot


def sections(shot: Shot, answer: Answer) -> tuple[Section, ...]:
    """Return every section that has something to say."""
    voice = Voice(answer)
    found = (
        heading.section(voice),
        place.section(voice),
        build.section(voice),
        stand.section(voice),
        lineup.section(voice),
        picture.section(voice),
        line_up.correction(voice),
        line_up.come_back(voice),
        focus.section(voice),
        speed.section(voice),
        speed.light_section(voice),
        day.sun_section(voice),
        day.timing_section(voice),
        slip.section(voice),
        bench.section(voice),
        margins.section(voice),
        remarks.cautions(answer),
        remarks.findings(answer),
        remarks.takes(shot),
    )
    return tuple(part for part in found if part is not None and part.blocks)
