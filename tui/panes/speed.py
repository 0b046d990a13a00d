"""The Speed pane: rate, weight, run and screen time, the move, and the light that all of it needs."""

from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.light import light_wanted, steady_rate
from forescale.engine.findings.words import Words
from forescale.engine.units import filter_text, number_text, rounded_up, speed_text, time_text
from forescale.tui.diagrams import bars
from forescale.tui.panes.content import AnswerRow, PaneContent, fields, set_here


def content(answer: Answer) -> PaneContent:
    """Return what the pane holds for an answer."""
    run, over = answer.speed, answer.light.over_stops
    exposure = f"1/{number_text(1 / run.exposure_s, 3)} s" if run.exposure_s < 0.5 else time_text(run.exposure_s)
    light = "" if over is None else "just right" if abs(over) < 0.05 else f"{over:+.1f} stops"
    lamps = {None: "", True: "flicker-free", False: "will flicker"}[answer.light.flicker_safe]
    hints = {"action.fps": f"ideal {number_text(run.ideal_fps, 4)}", "action.shutter": exposure}
    hints |= {"light.available": light, "light.mains": lamps}
    return PaneContent(
        fields=fields("action.kind action.fps action.shutter light.iso light.available", hints),
        more_fields=fields(
            "light.nd light.mains action.screen_time action.playback_fps action.heft action.real_speed", hints
        ),
        to_set=set_here(answer, "speed.set_time_s", "speed.move_set_time_s"),
        answers=tuple(_answers(answer)),
        diagrams=(bars.rates,),
    )


def _answers(answer: Answer) -> Iterator[AnswerRow]:
    run, lit = answer.speed, answer.light
    action = answer.setting.action
    if run.model_speed_mm_s is not None and "driven" in action.kinds and not action.scaled:
        drive = f"drive the model at {speed_text(run.model_speed_mm_s, answer.system)}"
        yield AnswerRow(drive, "speed.model_speed_mm_s")
    elif action.scaled:
        yield AnswerRow(f"gravity looks {Words.weight(run.apparent_gravity)} × real", "speed.apparent_gravity")
    else:
        yield AnswerRow("nothing falls: any rate serves", "speed.apparent_gravity")
    yield AnswerRow(f"for {time_text(run.screen_time_s)} on the screen", "speed.screen_time_s")
    need = f"needs {light_wanted(answer)}"
    if lit.fit_stops:
        need += f", fit {filter_text(lit.fit_stops)}"
    yield AnswerRow(need, "light.lux_with_nd" if lit.nd_fitted else "light.lux_needed")
    if run.crossing_s is not None:
        yield AnswerRow(f"a thing crosses the frame in {time_text(run.crossing_s)}", "speed.crossing_s")
    if lit.flicker_safe is False:
        rate = steady_rate(answer)
        safe = [] if lit.safe_shutter_deg is None else [f"{number_text(lit.safe_shutter_deg, 4)}°"]
        safe += [] if rate is None else [f"{number_text(rate, 5)} fps"]
        yield AnswerRow(f"flicker-free at {' or '.join(safe) or 'no rate or shutter'}", "light.safe_fps")
    yield AnswerRow(f"smallest scale, top rate {Words.ratio_at_most(run.largest_ratio)}", "speed.largest_ratio")
    if lit.iso_needed is not None:
        yield AnswerRow(f"this light asks for ISO {number_text(rounded_up(lit.iso_needed, 3), 3)}", "light.iso_needed")
    yield AnswerRow(f"{number_text(run.frames, 5)} frames", "speed.frames")
    if run.data_mb is not None:
        yield AnswerRow(f"{number_text(run.data_mb, 3)} MB a take", "speed.data_mb")
