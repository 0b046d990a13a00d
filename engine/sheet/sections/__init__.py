"""What stands on the sheet, section by section, in the order in which a crew works."""

from collections.abc import Callable, Iterable

from forescale.engine.answer import Answer
from forescale.engine.findings.built import DEFER
from forescale.engine.findings.words import Words, moves
from forescale.engine.sheet.blocks import Block, Section
from forescale.engine.sheet.sections import build, day, lens, place, slide, whole_shot
from forescale.engine.shot.records import Shot
from forescale.engine.units import number_text

Says = Callable[[Words], Iterable[Block]]
_TAPED = "distances on the tape, from the sensor-plane mark on the camera; heights above the background's ground"
_SEEN = "at the line-up; aside from the line of the lens, heights over the background's ground, misses right and high +"
_MARKED = "marks on the tape; stops as marked on the lens, a mark standing for the exact third of a stop"
_OFF = "what matters most first; each may be off so far, the rest as set, before a finding turns"
_SIGNS = "+ is the model outrunning the background: slide the camera back; - is it lagging: slide forward"
_ERRORS = "± is two standard errors"

# Each section's title, what says the rows under it, and by which convention its numbers count.
_IN_ORDER: tuple[tuple[str, tuple[Says, ...], str | Callable[[Words], str]], ...] = (
    ("Set", (whole_shot.set_by_hand,), "what to set on the day; the reasons follow"),
    ("Survey and place", (place.place,), _TAPED),
    ("Build list", (build.build,), lambda voice: f"cut to the nearest {voice.of.scale.rounding}"),
    ("Will it stand", (build.stand,), "first estimates, for the licensed person on set to check"),
    (
        "Rig and line-up",
        (place.lineup,),
        lambda voice: f"what may be off is what {number_text(voice.of.setting.move.tolerance)} px of slip allows",
    ),
    ("What the lens sees", (place.picture,), _SEEN),
    ("Line-up by the picture", (place.correction,), f"what is to be moved; {_ERRORS}"),
    ("Coming back", (place.come_back,), f"what to do to stand as before; {_ERRORS}"),
    ("Lens and focus", (lens.zone, lens.pupil, lens.stops), _MARKED),
    (
        "Rate and run times",
        (lens.rate, lens.move),
        lambda voice: f"screen time at {voice.rate(voice.of.setting.action.playback_fps)}, set time by the stopwatch",
    ),
    ("Light", (lens.light, lens.behind, lens.flicker), "incident light at the model"),
    ("The sun", (day.sun, day.hours, day.matches), day.local_time),
    ("Time on set", (day.timing,), "drag left out: small light pieces fall slower"),
    ("Slip and slide", (slide.slide, slide.slip), lambda voice: _SIGNS if moves(voice.of) else ""),
    ("Bench", (slide.bench,), "the slip read at several places of the slide"),
    ("Tolerances", (whole_shot.margins,), _OFF),
    ("Cautions", (whole_shot.cautions,), f"{DEFER}, before anything here"),
    ("Findings", (whole_shot.findings,), "the most important first"),
)


def sections(shot: Shot, answer: Answer) -> tuple[Section, ...]:
    """Return every section that has something to say."""
    return (*sections_of(answer, *(title for title, _, _ in _IN_ORDER)), whole_shot.takes(shot))


def sections_of(answer: Answer, *titles: str) -> tuple[Section, ...]:
    """Return the sections so titled, those that have something to say."""
    voice = Words(answer)
    found = []
    for title, parts, note in _IN_ORDER:
        if title in titles and (blocks := tuple(block for says in parts for block in says(voice))):
            found.append(Section(title, blocks, note if isinstance(note, str) else note(voice)))
    return tuple(found)
