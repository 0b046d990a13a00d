"""The day: the sun, and what is timed and cued."""

from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.sheet.blocks import Block, Row, Table
from forescale.engine.units import angle_text, fixed_text, number_text, stopwatch_text, time_text
from forescale.engine.units.compass import clock_text

DAYS_TOLD = 5
HOURS_TOLD = 8  # that a page holds beside one another


def local_time(voice: Words) -> str:
    """Say of which day and zone the times of the sun are."""
    there = voice.of.setting.sun
    return f"{there.date}, local time{'' if there.utc_offset is None else f', UTC {there.utc_offset / 3600:+g} h'}"


def sun(voice: Words) -> Iterator[Row]:
    """Yield where the sun stands and its day; nothing where the shot does not ask."""
    if (found := voice.of.sun) is None:
        return
    bearing = f"bearing {voice.sky(found.azimuth_deg)}, {voice.sky(found.elevation_deg)} up"
    yield Row(f"At {clock_text(voice.of.setting.sun.time or 0.0)}", bearing, found.side or "")
    if found.shadow_per_height is not None:
        yield Row("Shadows", f"{number_text(found.shadow_per_height)} times the height")
    yield Row("Rises", found.rise or "not on this day")
    yield Row("Highest", found.noon, f"{voice.sky(found.noon_elevation_deg)} up")
    yield Row("Sets", found.set or "not on this day")
    yield Row("Moves along the sky", f"{number_text(found.turns_deg_per_min)} deg a minute")
    if found.from_lens_deg is not None:
        hand = "right" if found.from_lens_deg > 0 else "left"
        yield Row("From the lens", f"{angle_text(abs(found.from_lens_deg))} {hand}")
        yield Row("Disc in the frame", "YES" if found.in_frame else "no", "anywhere in the move")
    if (shadow := found.rig_shadow) is not None:
        hand = "right" if shadow.aside_mm > 0 else "left"
        up = f"to {voice.length(shadow.up_mm)} up" if shadow.up_mm > 0 else "on the ground before"
        seen = {True: "IN THE PICTURE", False: "outside the picture", None: "lens height not known"}[shadow.in_frame]
        yield Row("Rig's shadow", f"{voice.length(abs(shadow.aside_mm))} {hand}, {up}", seen)


def hours(voice: Words) -> Iterator[Table]:
    """Yield the day in columns: how high the sun stands at some hours, and how far from the lens's bearing."""
    if (found := voice.of.sun) is None:
        return
    from forescale.engine.formulas.sun import from_bearing_deg  # loaded only where the shot asks for the sun
    from forescale.engine.solve.sun_group import path_of_day

    up = [(at, seen) for at, seen in path_of_day(voice.of.setting.sun, 24)[:24] if seen.elevation_deg > 0]
    shown = up[:: max(-(-len(up) // HOURS_TOLD), 1)]
    if not shown:
        return
    rows = [("Height", *(f"{fixed_text(seen.elevation_deg, 1)}°" for _, seen in shown))]
    if found.facing_deg is not None:
        asides = [from_bearing_deg(seen.azimuth_deg, found.facing_deg) for _, seen in shown]
        rows.append(("From the lens", *(f"{abs(aside):.0f}° {'R' if aside > 0 else 'L'}" for aside in asides)))
    heads = ("At", *(clock_text(at)[:2] for at, _ in shown))
    yield Table(heads, tuple(rows), frozenset(range(1, len(heads))))


def matches(voice: Words) -> Iterator[Block]:
    """Yield when the light is the same today, else when it comes nearest."""
    if (found := voice.of.sun) is None:
        return
    spells = " and ".join(f"{first} to {last}" for first, last in found.windows)
    yield Row("Same light today", spells or "never", "sun within 5 deg of where it stood")
    if found.windows:
        return
    today = found.nearest_today
    if today.misses_deg is not None:
        yield Row("Nearest today", f"{today.time}", f"misses by {fixed_text(today.misses_deg, 1)} deg")
    days = [(round(day.misses_deg, 1), day.date, day) for day in found.nearest_on if day.misses_deg is not None]
    if days:
        best = sorted(days, key=lambda day: day[:2])[:DAYS_TOLD]
        rows = tuple((date, day.time or "", f"{fixed_text(day.misses_deg or 0.0, 1)} deg") for _, date, day in best)
        yield Table(("Best days of the next 30", "at", "misses by"), rows, frozenset({2}))


def timing(voice: Words) -> Iterator[Block]:
    """Yield falls, swings and the cue list; nothing where nothing is timed."""
    if (timed := voice.of.timing) is None:
        return
    times = []
    for label, real, on_set, on_screen in (
        ("Fall", timed.fall_real_s, timed.fall_set_s, timed.fall_screen_s),
        ("Swing, to and fro", timed.swing_real_s, timed.swing_set_s, timed.swing_screen_s),
        ("Topple, 10 deg to lying", timed.topple_real_s, timed.topple_set_s, timed.topple_screen_s),
    ):
        if real is not None and on_set is not None and on_screen is not None:
            times.append((label, time_text(real), time_text(on_set), time_text(on_screen)))
    if times:
        yield Table(("", "full size", "on set", "on screen"), tuple(times), frozenset({1, 2, 3}))
    if timed.fall_screen_s is not None:
        left = voice.of.speed.screen_time_s - timed.fall_screen_s
        yield Row("Fall, screen time", time_text(abs(left)), "to spare" if left >= 0 else "TOO LONG")
    if timed.topple_let_go_set_s is not None:
        yield Row("Topple, let go at 10 deg", time_text(timed.topple_let_go_set_s), "on set")
    if timed.puff_hz is not None and timed.puff_real_hz is not None:
        puffs = f"{number_text(timed.puff_hz)} a second"
        yield Row("The fire puffs", puffs, f"the real one {number_text(timed.puff_real_hz)}")
    if timed.cues:
        rows = tuple(
            (cue.name, stopwatch_text(cue.screen_s), stopwatch_text(cue.set_s), str(cue.frame))
            for cue in sorted(timed.cues, key=lambda cue: cue.screen_s)
        )
        yield Table(("Cue", "on screen", "stopwatch", "frame"), rows, frozenset({1, 2, 3}))
