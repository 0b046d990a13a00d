"""Every way to shoot it, tried: what depends on the body, on the lens and on both is worked out once each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from forescale.engine.formulas import contrast, focus, light, lineup, optics, scale
from forescale.engine.options.gates import SAME, Reason, Run, place, run
from forescale.engine.options.option import Option
from forescale.engine.options.quest import Quest
from forescale.engine.options.shelves import Body, Glass
from forescale.engine.solve.focus_zone import holds
from forescale.engine.solve.lamps import lux_there
from forescale.engine.solve.scale_lineup import slip_across_mm
from forescale.engine.solve.sight import Standing, frame_width_mm, shot_f_number
from forescale.engine.units import rounded_up


@dataclass(frozen=True, slots=True)
class Miss:
    """A way that fails, and why."""

    body: Body
    glass: Glass
    ratio: float
    reason: Reason


@dataclass(frozen=True, slots=True)
class Batch:
    """What became of the ways of one body with one lens; `misses` only where they were asked for."""

    tried: int
    options: tuple[Option, ...]
    dropped: dict[Reason, int]
    misses: tuple[Miss, ...] = ()


def search(quest: Quest, *, with_misses: bool = False) -> Iterator[Batch]:
    """Yield the ways, a lens and a body at a time; whoever takes them may stop at any time."""
    runs = [[run(quest, body, ratio) for ratio in quest.ratios] for body in quest.bodies]
    for glass in quest.glasses:
        places = [place(quest, glass, ratio) for ratio in quest.ratios]
        for body, body_runs in zip(quest.bodies, runs, strict=True):
            yield _batch(quest, body, glass, body_runs, places, with_misses)


def _batch(
    quest: Quest,
    body: Body,
    glass: Glass,
    runs: Sequence[Run | Reason],
    places: Sequence[Standing | Reason],
    with_misses: bool,
) -> Batch:
    options: list[Option] = []
    misses: list[Miss] = []
    dropped: dict[Reason, int] = {}
    pair = _Pair.of(quest, body, glass)
    for ratio, how, where in zip(quest.ratios, runs, places, strict=True):
        found = how if isinstance(how, str) else where if isinstance(where, str) else pair.solve(how, where)
        if isinstance(found, Option):
            options.append(found)
            continue
        dropped[found] = dropped.get(found, 0) + 1
        if with_misses:
            misses.append(Miss(body, glass, ratio, found))
    return Batch(len(runs), tuple(options), dropped, tuple(misses))


@dataclass(frozen=True, slots=True)
class _Pair:
    """A body with a lens on it: the frame's width and the slip across it that may pass, in mm."""

    quest: Quest
    body: Body
    glass: Glass
    frame_mm: float
    slip_mm: float

    @classmethod
    def of(cls, quest: Quest, body: Body, glass: Glass) -> _Pair:
        slip = slip_across_mm(quest.setting, body.mode, glass.lens)
        return cls(quest, body, glass, frame_width_mm(body.mode, glass.lens), slip)

    def solve(self, how: Run, where: Standing) -> Option | Reason:
        """Return the way, or why it fails; contrast, the slow part, is left to those that pass the rest."""
        build_mm, share = self._framed(where)
        if share is not None and (reason := self._misframed(share)):
            return reason
        lens, focal, coc = self.glass.lens, self.glass.focal_mm, self.body.coc_mm
        own, zone = where.pupil_magnification, (where.near_mm, where.far_mm, where.focus_mm)
        needed = focus.stop_for_limits(*zone, focal, coc, own)
        f_number = shot_f_number(self.quest.setting, lens, self.glass.f_numbers, needed)
        if not holds(f_number, needed):
            return "zone"
        t_working = optics.working_stop(lens.t_stop(f_number), where.magnification, own)
        iso, lux, base_lux, over = self._lit(how, t_working)
        if over is not None and over < -self.quest.setting.limits.short_stops - SAME:
            return "light"
        frequency = self.body.frequency_lpmm
        return Option(
            quest=self.quest,
            body=self.body,
            glass=self.glass,
            ratio=where.ratio,
            iso=iso,
            model_mm=where.tape(where.model_mm),
            build_mm=build_mm,
            frame_share=share,
            fps=how.fps,
            gravity=how.gravity,
            focus_mm=where.on_lens(where.focus_mm),
            f_number=f_number,
            worst_contrast=contrast.worst_contrast(*zone, focal, f_number, frequency, own),
            drift_tolerance_mm=lineup.drift_tolerance_mm(
                self.slip_mm, where.model_mm, where.background_mm, where.image_mm
            ),
            lux_needed=lux,
            base_lux=base_lux,
            over_stops=over,
        )

    def _framed(self, where: Standing) -> tuple[float | None, float | None]:
        """Return the size of the largest part, and the share of the frame's width that it fills."""
        if self.quest.largest_mm is None:
            return None, None
        build_mm = scale.model_length_mm(self.quest.largest_mm, where.ratio)
        return build_mm, build_mm / lineup.span_mm(self.frame_mm, where.model_mm, where.image_mm)

    def _misframed(self, share: float) -> Reason | None:
        limits = self.quest.setting.limits
        if limits.frame_min is not None and share < limits.frame_min * (1 - SAME):
            return "small"
        if limits.frame_max is not None and share > limits.frame_max * (1 + SAME):
            return "large"
        return None

    def _lit(self, how: Run, t_working: float) -> tuple[float, float, float, float | None]:
        """Return ISO, light needed at it, light needed at the set or base ISO (lux), and stops over.

        An ISO that is not set is raised as far as the light needs and the mode goes.
        """
        there, available = self.quest.setting.light, lux_there(self.quest.setting)
        base_lux = light.lux_needed(t_working, how.exposure_s, how.iso)
        if available is None:
            return how.iso, base_lux, base_lux, None
        iso, lux = how.iso, base_lux
        if there.iso is None and base_lux > available:
            iso = min(rounded_up(light.iso_needed(iso, available, base_lux)), self.body.mode.iso_max)
            lux = light.lux_needed(t_working, how.exposure_s, iso)
        return iso, lux, base_lux, light.over_stops(available, lux)
