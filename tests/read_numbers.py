"""Numbers as they stand in what is shown, read back: for tests that hold them to the numbers of the answer."""

from __future__ import annotations

import re

from forescale.engine.units import FORCE, ILLUMINANCE, SPEED, WEIGHT, parse_length, parse_quantity

LENGTH = r"\d+ ft(?: \d+)?(?: \d+/\d+)? in|\d+ \d+/\d+ in|\d+/\d+ in|\d[\d.]* (?:mm|m|km|in|ft|mi)\b(?!/)"
NUMBER = re.compile(
    rf"(?P<length>{LENGTH})|(?P<other>[\d.]+ (?:lx|fc|m/s|ft/s|mph|kg|lb|lbf|N)\b)|(?P<ms>[\d.]+) ms|1/(?P<part>\d+)"
    r"|(?P<gb>[\d.]+) GB|1:(?P<ratio>[\d.]+)|(?P<plain>[\d.]*\d)"
)
INCH = 25.4
KINDS = {"lx": ILLUMINANCE, "fc": ILLUMINANCE, "kg": WEIGHT, "lb": WEIGHT, "N": FORCE, "lbf": FORCE}


def read(text: str) -> list[tuple[float, float]]:
    """Return the numbers of a text, each with what one more in its last digit would be.

    Lengths are in mm, light in lux, speeds in mm/s, 1/240 is what it is, others are bare. What stands in brackets says
    the same in another unit.
    """
    found = []
    for number in NUMBER.finditer(re.sub(r"\([^)]*\)", "", text)):
        digits = re.match(r"[\d.]+", number[0])
        assert digits
        last = digits[0].rstrip("0") if "." not in digits[0] and digits[0].strip("0") else digits[0]
        one = 10.0 ** (len(digits[0]) - len(last) - len(digits[0].partition(".")[2]))
        if number["length"]:
            value = parse_length(number["length"])
            one = max(INCH, 0.03 * value) if "ft" in number[0] or "/" in number[0] else one * value / float(digits[0])
        elif number["other"]:
            value = parse_quantity(number["other"], KINDS.get(number["other"].split()[1], SPEED))
            one *= value / float(digits[0])
        elif number["part"]:
            value, one = 1 / float(number["part"]), 0.0
        elif number["gb"]:  # in megabytes
            value, one = 1000 * float(number["gb"]), 1000 * one
        elif number["ms"]:
            value, one = float(number["ms"]) / 1000, one / 1000
        else:
            value = float(number["ratio"] or number["plain"])
        found.append((value, one))
    return found
