"""What stands on the sheet, section by section, in the order in which a crew works."""

from __future__ import annotations

from forescale.engine.answer import Answer
from forescale.engine.sheet.blocks import Section
from forescale.engine.sheet.sections import build, day, lens, place, said, slide
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot.records import Shot

_IN_ORDER = (
    *(said.set_section, place.place, build.build, build.stand, place.lineup, place.picture, place.correction),
    *(place.come_back, lens.focus, lens.speed, lens.light, day.sun, day.timing, slide.slip, slide.bench, said.margins),
    *(said.cautions, said.findings),
)


def sections(shot: Shot, answer: Answer) -> tuple[Section, ...]:
    """Return every section that has something to say."""
    voice = Voice(answer)
    found = (*(section(voice) for section in _IN_ORDER), said.takes(shot))
    return tuple(part for part in found if part is not None and part.blocks)
