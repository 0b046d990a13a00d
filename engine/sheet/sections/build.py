"""What is built: every part at model size, as the shop cuts it, the stock, and whether it stands."""

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas.stand import SAFETY
from forescale.engine.sheet.blocks import Block, Remark, Row, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.solve.built import Cutting, cutting, running
from forescale.engine.units import AREA, FORCE, INCH_MM, WEIGHT, measure_text, no_less_text, number_text, shop_length

MOST_TOLD = 40  # running dimensions on the sheet; the rod of the templates has them all


def build(voice: Words) -> Iterator[Block]:
    """Yield the ratio, the parts and the stock."""
    scale, other = voice.of.scale, voice.of.scale.compare_ratio
    yield Row("Scale", voice.ratio(scale.ratio), voice.to_the_foot(), "scale.ratio" in voice.of.auto)
    yield Row("A pixel covers", voice.small(scale.detail_model_mm), f"full size {voice.small(scale.detail_real_mm)}")
    if scale.finest_model_mm is not None and scale.finest_real_mm is not None:
        shown = f"what lens and pixels show; full size {voice.small(scale.finest_real_mm)}"
        yield Row("Finest detail seen", voice.small(scale.finest_model_mm), shown)
    heads = () if other is None else (f"At {voice.ratio(other)}",)
    if scale.build:
        cut, rows = cutting(voice.of), []
        for part in scale.build:
            off = off_text(voice, part.shop_error_real_mm) or "none"
            cut_to = "too small" if part.shop.split()[0] == "0" else part.shop
            sizes = voice.length(part.real_mm), exact_text(voice, part.model_mm), cut_to, off
            second = () if part.compare_shop is None else (part.compare_shop,)
            rows.append((clean(part.part), str(part.quantity), *sizes, *second))
        told = "Part", "No.", "Full size", "Model", "Cut to", "Off, at full size"
        yield Table((*told, *heads), tuple(rows), frozenset({1}))
        yield from _sizes(voice, cut)
        yield from _running(voice, cut)
        yield from _totals(voice, cut)
    if scale.stock:
        rows = []
        for item in scale.stock:
            second = () if item.compare_reads_as_mm is None else (voice.fine(item.compare_reads_as_mm),)
            rows.append((clean(item.item), voice.fine(item.size_mm), voice.fine(item.reads_as_mm), *second))
        yield Table(("Stock at hand", "Its size", "Reads as, at full size", *heads), tuple(rows))
    if other is not None:
        match, rate = scale.compare_match_distance_mm, scale.compare_ideal_fps
        if match is not None and math.isfinite(match):
            yield Row(f"At {voice.ratio(other)}, stand it at", voice.length(match))
        if rate is not None:
            yield Row(f"At {voice.ratio(other)}, run at", voice.rate(rate), "ideal")


def exact_text(voice: Words, mm: float) -> str:
    """Return a model's length before it is rounded for the shop, in decimals of one unit."""
    if voice.imperial:
        return f"{number_text(mm / INCH_MM, max(4, len(str(int(mm / INCH_MM))) + 3))} in"
    return f"{number_text(mm, max(4, len(str(int(mm))) + 2))} mm"


def off_text(voice: Words, error_mm: float) -> str:
    """Return what a rounding is worth at full size, with its sign; empty under a hundredth of a millimetre."""
    return f"{'+' if error_mm > 0 else '-'}{voice.small(abs(error_mm))}" if abs(error_mm) >= 0.01 else ""


def weight_shown(voice: Words, kg: float | None) -> str:
    """Return a weight in the shot's units, empty where it is not known."""
    return "" if kg is None else measure_text(kg, WEIGHT, voice.of.system)


def _sizes(voice: Words, cut: Cutting) -> Iterator[Table]:
    """Yield the sizes on the model, the material and the weight of the parts that have any of them."""
    rows = []
    for piece in cut.pieces:
        sizes = (piece.wide_mm, piece.deep_mm, piece.tall_mm)
        texts = ("" if mm is None else shop_length(mm, voice.of.scale.rounding).text for mm in sizes)
        rows.append((clean(piece.part), *texts, clean(piece.material or ""), weight_shown(voice, piece.weight_kg)))
    if told := tuple(row for row in rows if any(row[1:])):
        yield Table(("Part on the model", "Wide", "Deep", "Tall", "Material", "Weight"), told)


def _running(voice: Words, cut: Cutting) -> Iterator[Remark | Row]:
    """Yield running dimensions, each rounded on its own, and what a rounded pitch would add up to."""
    errors = {piece.part: piece.pitch_error_mm for piece in cut.pieces}
    for found in running(voice.of):
        count = len(found.places) + found.more
        left = count - min(len(found.places), MOST_TOLD)
        last = f" ... to {found.last.text}, {left} more" if left else ""
        yield Row("Set out from a datum", f"{count} of {clean(found.part)}")
        yield Remark("", ", ".join(place.text for place in found.places[:MOST_TOLD]) + last)
        off = errors[found.part] or 0.0
        if abs(off) >= 0.05:
            where = f"would put the last {voice.small(abs(off))} too {'far' if off > 0 else 'near'}"
            yield Remark("", f"One rounded pitch after another {where}: measure from the datum")


def _totals(voice: Words, cut: Cutting) -> Iterator[Table]:
    """Yield how much of each material the list takes."""
    rows = []
    for one in cut.totals:
        faces = measure_text(one.area_m2, AREA, voice.of.system) if one.area_m2 else ""
        length = voice.length(one.length_mm)
        rows.append((clean(one.material), str(one.pieces), length, faces, weight_shown(voice, one.weight_kg)))
    if rows:
        heads = ("Material", "Pieces", "Length in all, kerf counted", "Faces", "Weight")
        yield Table(heads, tuple(rows), frozenset({1}))


def stand(voice: Words) -> Iterator[Row]:
    """Yield what makes the model stand: weight, wind, ballast, sway, strength; nothing where the shot says nothing."""
    if (found := voice.of.stand) is None:
        return
    system, gust = voice.of.system, voice.of.setting.stand.gust
    if found.parts_weight_kg is not None and found.real_weight_kg is not None:
        lacking = f"; {found.unweighed} part{'s'[: found.unweighed - 1]} not weighed" if found.unweighed else ""
        stands_for = f"stands for {weight_shown(voice, found.real_weight_kg)}{lacking}"
        yield Row("The parts weigh", weight_shown(voice, found.parts_weight_kg), stands_for)
    if found.held_kg is not None:
        yield Row("On the foot", weight_shown(voice, found.held_kg), "model and ballast")
    if found.wind_n is not None and gust is not None:
        yield Row("Push of the gust", measure_text(found.wind_n, FORCE, system), f"at {voice.wind(gust)}")
    if (ballast := found.ballast_needed_kg) is not None:
        told = "guy it" if math.isinf(ballast) else no_less_text(ballast, WEIGHT, system)
        yield Row("Ballast needed in all", told, f"to hold {SAFETY:g} times that push")
    for label, mm_s in (("Tips at", found.tips_at_mm_s), ("Slides at", found.slides_at_mm_s)):
        if mm_s is not None:
            kept = f"gust, a margin of {SAFETY:g} kept"
            yield Row(label, "no wind" if math.isinf(mm_s) else voice.wind_to(mm_s), kept)
    if found.stop_gust_mm_s is not None and found.stop_mean_mm_s is not None:
        mean = f"gust; a mean reading of {voice.wind_to(found.stop_mean_mm_s)} has such gusts"
        yield Row("STOP AND CLEAR AT", voice.wind_to(found.stop_gust_mm_s), mean)
    if found.gust_reads_mm_s is not None:
        yield Row("The gust reads as", voice.wind(found.gust_reads_mm_s), "on smoke and cloth")
    if found.sway_mm is not None and found.sway_sudden_mm is not None:
        yield Row("Sways in the gust", voice.small(found.sway_mm), f"{voice.small(found.sway_sudden_mm)} when sudden")
        along = voice.within(voice.of.lineup.place_tolerance_mm)
        yield Row("What may pass", voice.within(found.sway_allowed_mm), f"across; {along} along the axis")
    crack = f"{number_text(found.crack_factor, 4)} times where a crack decides"
    yield Row("Too strong", f"{number_text(found.strength_factor, 4)} times", f"against its own weight; {crack}")
