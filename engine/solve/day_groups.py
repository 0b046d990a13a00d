"""The groups of an answer that belong to the day. Field names are those of the JSON answer; None is "not known"."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RigShadow:
    """Where the shadow of the rig's top lies at the model's distance: aside (right +), and up from the ground, mm."""

    aside_mm: float
    up_mm: float
    in_frame: bool | None


@dataclass(frozen=True, slots=True)
class SunNearest:
    """On a day: the local time at which the sun, up, comes nearest to where it stood, and by how much it misses."""

    date: str
    time: str | None
    misses_deg: float | None


@dataclass(frozen=True, slots=True)
class SunAnswer:
    """The sun at the time in hand, over its day, and against the sun of the plate; local times as text.

    `elevation_deg` is as seen, with refraction; `towards_azimuth_deg` and `towards_elevation_deg` are where the sun
    stood at the plate's time, or stands at the time in hand, to which `windows` and `nearest_on` count.
    `nearest_to_axis_deg` is the least angle between sun and lens axis over the move. `taken_utc_offset_s` is on the
    clock that the times are on.
    """

    azimuth_deg: float
    elevation_deg: float
    up: bool
    facing_deg: float | None
    from_lens_deg: float | None
    side: str | None
    shadow_per_height: float | None
    rise: str | None
    noon: str
    noon_elevation_deg: float
    set: str | None
    turns_deg_per_min: float
    in_frame: bool | None
    nearest_to_axis_deg: float | None
    rig_shadow: RigShadow | None
    towards_azimuth_deg: float
    towards_elevation_deg: float
    windows: tuple[tuple[str, str], ...]
    nearest_today: SunNearest
    nearest_on: tuple[SunNearest, ...]


@dataclass(frozen=True, slots=True)
class CueTimes:
    """A cue on screen, on the stopwatch, and the number of the frame that runs then, from 1."""

    name: str
    screen_s: float
    set_s: float
    frame: int


@dataclass(frozen=True, slots=True)
class TimingAnswer:
    """How long what is ruled by gravity takes: at full size, on set, on screen; times in s."""

    fall_real_s: float | None
    fall_set_s: float | None
    fall_screen_s: float | None
    fall_frames: float | None
    swing_real_s: float | None
    swing_set_s: float | None
    swing_screen_s: float | None
    topple_real_s: float | None
    topple_set_s: float | None
    topple_screen_s: float | None
    topple_let_go_set_s: float | None
    puff_real_hz: float | None
    puff_hz: float | None
    cues: tuple[CueTimes, ...]
