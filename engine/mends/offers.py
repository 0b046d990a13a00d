"""What may be offered for each finding, the likeliest first; what is offered is still to be tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from forescale.engine.mends import day, focus, light, line_up, picture, scale, slip, speed
from forescale.engine.solve.record import Answer, Finding, Mend

Offers = Callable[[Answer, Finding], Iterator[Mend]]

OFFERS: dict[str, Offers] = {
    "ratio-chosen": scale.keep_ratio,
    "size-mismatch": scale.size,
    "cover-endless": scale.less_sweep,
    "point-out-of-frame": picture.held,
    "outline-cut": picture.cut,
    "point-leaves-frame": picture.shorter_move,
    "outline-leaves-frame": picture.shorter_move,
    "points-miss": picture.meet,
    "line-up-misses": line_up.together,
    "come-back": line_up.back,
    "nearest-behind": scale.nearest,
    "rate-missing": speed.rate,
    "rate-low": speed.heavier,
    "rate-high": speed.rate,
    "judder": speed.slower_move,
    "readout-skew": speed.slower_move,
    "iso-missing": light.top_iso,
    "light-short": light.more,
    "light-over": light.less,
    "flicker": light.steady,
    "light-differs": day.even_light,
    "colour-differs": day.same_colour,
    "background-slow": day.still_behind,
    "light-not-now": day.in_window,
    "light-never-matches": day.another_day,
    "bands": light.steady_shutter,
    "size-hair": scale.matching,
    "zone-hair": focus.with_room,
    "slip-hair": slip.slide,
    "slide-to-set": slip.slide,
    "slip-over": slip.slide,
    "slip-uncertain": slip.slide_or_bench,
    "slide-none-holds": slip.turn_less,
    "slide-out-of-reach": slip.turn_less,
    "bench-contradicts": slip.reading_out,
    "stop-beyond-lens": focus.stop_on_lens,
    "inside-close-focus": focus.mark_on_lens,
    "zone-short": focus.hold_zone,
    "past-best-stop": focus.best_stop,
}
