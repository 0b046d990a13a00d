"""What holds of tape, pupil, stops and slide, in the words of one shot; what holds of every shot is in words.toml."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.formulas import optics
from forescale.engine.formulas.lineup import TAPE_MM
from forescale.engine.formulas.survey import ELEVATION_ERROR_DEG, SHARE_ERROR
from forescale.engine.shot.sections import TILTS
from forescale.engine.units import number_text
from forescale.engine.workings.figures import Figures

if TYPE_CHECKING:
    from forescale.engine.answer import Answer


def _tape(of: Answer) -> str:
    pupil = of.setup.pupil
    if not pupil.known:
        return (
            "Taped from the sensor-plane mark. The lens's entrance pupil is not known, so the sums start at the mark "
            "as well; find the pupil on the bench to have them exact."
        )
    side = "behind" if pupil.ahead_mm < 0 else "ahead of"
    level = " Tapes are level; the sums run along the tilted lens." if of.setup.aim_deg else ""
    return (
        "Taped from the sensor-plane mark. The sums start at the entrance pupil, "
        f"{Figures(of).small(abs(pupil.ahead_mm))} {side} it, and the answer goes back to the tape.{level}"
    )


def _picture(of: Answer) -> str:
    return (
        "A pinhole at the entrance pupil, with the sensor at the image distance "
        f"v = {Figures.mm(of.setup.image_mm)} of a lens focused where the shot is. {_pupils(of)}"
    )


def _pupils(of: Answer) -> str:
    """Say what is taken of the lens's two pupils, and what that may be worth where the nearest part stands."""
    say, own = Figures(of), of.setup.pupil.magnification
    if own is not None:
        return f"P, the exit pupil over the entrance pupil, is {say.number(own)} by the lens's profile."
    error = optics.asymmetry_error(of.kit.focal_mm, of.setup.near_mm)
    near = say.length(of.setup.tape(of.setup.near_mm))
    worth = "more than the lens can focus" if error is None else f"{number_text(100 * error, 2)} % of size"
    return (
        "P, the exit pupil over the entrance pupil, is not known and taken as 1; on a strongly asymmetrical lens "
        f"(P 0.5) focused at {near} that leaves out {worth}."
    )


def _f_number(of: Answer) -> str:
    lens = of.kit.lens
    if lens.marks == "T":
        return (
            "Depth of field takes the exact f-number behind the T-mark, smaller by the lens's loss of "
            f"{number_text(lens.transmission_loss)} stops. A mark stands for the exact third of a stop: T11 is 11.314."
        )
    return "Depth of field takes the exact f-number. A mark stands for the exact third of a stop: f/11 is 11.314."


def _t_stop(of: Answer) -> str:
    taken = "the exact T-stop of the mark"
    if of.kit.lens.marks == "f":
        taken = f"the T-stop, the f-number with {number_text(of.kit.lens.transmission_loss)} stops of loss"
    return f"Exposure takes {taken}, made larger by 1 + m/P where the focus is close."


def _slide(of: Answer) -> str:
    """Say how lengths along the slide are counted, and where a tilt's own axis lies."""
    say = Figures(of)
    text = (
        f"In {'inches' if say.on_slide.inches else 'millimetres'} along the slide; forward is positive. The sensor "
        "plane stands at the slide reading plus the head's sensor_at_zero, counted from the pan axis."
    )
    head = of.kit.head
    if head is None or of.setting.move.axis not in TILTS:
        return text
    ahead = head.tilt_ahead
    where = f"{say.slide(abs(ahead))} {'ahead of' if ahead > 0 else 'behind'} it" if ahead else "level with it"
    return f"{text} The tilt turns about an axis of its own, {where}; the pupil's place counts from that."


def _off(_: Answer) -> str:
    return (
        f"One standard error: a share is off {100 * SHARE_ERROR:g} % of itself, an elevation by "
        f"{ELEVATION_ERROR_DEG:g}°, a tape by {TAPE_MM:g} mm and 1 % of what lies beyond 10 m."
    )


CONVENTIONS: dict[str, Callable[[Answer], str]] = {
    "tape": _tape,
    "picture": _picture,
    "pupils": _pupils,
    "f-number": _f_number,
    "t-stop": _t_stop,
    "slide": _slide,
    "readings": _off,
}
