"""The one door to the numbers: a shot and its kit in, one frozen answer with findings out."""

from pathlib import Path

from forescale.engine import findings
from forescale.engine.field_help import LEFT_OPEN
from forescale.engine.kit import library
from forescale.engine.kit.kit import Kit, check_fit, load_kit
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting, Shot
from forescale.engine.solve.built import stand_group
from forescale.engine.solve.focus_zone import focus_group
from forescale.engine.solve.lens_setup import lens_setup
from forescale.engine.solve.line_up import come_back_group, corrections
from forescale.engine.solve.picture import picture_group
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.solve.scale_lineup import lineup_group, scale_group
from forescale.engine.solve.slip_check import slip_group
from forescale.engine.solve.speed_light import light_group, speed_group
from forescale.engine.solve.survey_group import survey_group
from forescale.engine.solve.timing import timing_group
from forescale.engine.solve.view import view_of
from forescale.engine.units import UnitSystem

__all__ = ["Answer", "Finding", "answer", "answer_file"]


def answer(setting: Setting, kit: Kit, system: UnitSystem, where: str = "", *, with_contrast: bool = True) -> Answer:
    """Return the answer to a shot with its kit; raises BadInput where it asks what kit or optics rule out."""
    check_fit(setting, kit, where)
    setup = lens_setup(setting, kit, where)
    view = view_of(setting, kit, setup)
    speeds = speed_group(setting, kit, setup, view)
    zone = focus_group(kit, setup, with_contrast, moves=view.moves)
    sun = None
    if setting.sun.date is not None:  # most shots ask for none, and then nothing of it is loaded
        from forescale.engine.solve.sun_group import sun_group

        sun = sun_group(setting, setup, view)
    corrected = corrections(setting, kit, setup, view, where)
    found = Answer(
        setting=setting,
        kit=kit,
        system=system,
        setup=setup,
        scale=scale_group(setting, kit, setup, system, with_contrast),
        lineup=lineup_group(setting, kit, setup, view),
        speed=speeds,
        focus=zone,
        light=light_group(setting, kit, setup, speeds),
        slip=slip_group(setting, kit, setup, view, where),
        survey=survey_group(setting, kit, setup),
        picture=picture_group(setting, kit, setup, view, zone, speeds, corrected, where),
        correction=corrected.get(None),
        come_back=come_back_group(setting, setup, view),
        auto=frozenset(path for path in LEFT_OPEN if edit.value_at(setting, path) is None),
        stand=stand_group(setting, kit, setup, speeds),
        sun=sun,
        timing=timing_group(setting, setup.ratio, speeds),
    )
    return found._replace(findings=findings.findings_on(found))


def answer_file(path: Path, system: UnitSystem | None = None) -> tuple[Shot, Answer]:
    """Return the shot in a file and its answer, in the shot's units or another; raises BadInput with every fault."""
    shot = library.load_shot(path)
    return shot, answer(shot, load_kit(shot.kit, str(path)), system or shot.units, str(path))
