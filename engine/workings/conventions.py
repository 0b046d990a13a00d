"""What holds of tape, pupil and stops, in the words of one shot."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.formulas import optics
from forescale.engine.shot.records import TILTS
from forescale.engine.units import number_text
from forescale.engine.workings.figures import Figures

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

Convention = Callable[["Answer"], str]


def always(text: str) -> Convention:
    """Return a convention that is the same for every shot."""
    return lambda _: text


def both(first: Convention, second: Convention) -> Convention:
    """Return two conventions, one after the other."""
    return lambda of: f"{first(of)} {second(of)}"


def tape(of: Answer) -> str:
    """Say where the tape starts and where the sums do."""
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


def picture(of: Answer) -> str:
    """Say what kind of picture the sizes are measured on."""
    return (
        "A pinhole at the entrance pupil, with the sensor at the image distance "
        f"v = {Figures(of).mm(of.setup.image_mm)} of a lens focused where the shot is. {pupils(of)}"
    )


def pupils(of: Answer) -> str:
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


def f_number(of: Answer) -> str:
    """Say which stop depth of field takes."""
    lens = of.kit.lens
    if lens.marks == "T":
        return (
            "Depth of field takes the exact f-number behind the T-mark, smaller by the lens's loss of "
            f"{number_text(lens.transmission_loss)} stops. A mark stands for the exact third of a stop: T11 is 11.314."
        )
    return "Depth of field takes the exact f-number. A mark stands for the exact third of a stop: f/11 is 11.314."


def t_stop(of: Answer) -> str:
    """Say which stop light takes."""
    loss = number_text(of.kit.lens.transmission_loss)
    taken = (
        "the exact T-stop of the mark"
        if of.kit.lens.marks == "T"
        else f"the T-stop, the f-number with {loss} stops of loss"
    )
    return f"Exposure takes {taken}, made larger by 1 + m/P where the focus is close."


def slide(of: Answer) -> str:
    """Say how lengths along the slide are counted, and where a tilt's own axis lies."""
    text = (
        "In millimetres along the slide; forward is positive. The sensor plane stands at the slide reading plus the "
        "head's sensor_at_zero, counted from the pan axis."
    )
    head = of.kit.head
    if head is None or of.setting.move.axis not in TILTS:
        return text
    ahead = head.tilt_ahead
    where = f"{Figures.slide(abs(ahead))} {'ahead of' if ahead > 0 else 'behind'} it" if ahead else "level with it"
    return f"{text} The tilt turns about an axis of its own, {where}; the pupil's place counts from that."


entered = always("As entered; nothing is added to it.")
plain = always("A bare number.")
full_size = always("Full size is the real place; model size is what is built.")
"""Full size against model size."""
zone = both(both(tape, f_number), pupils)
