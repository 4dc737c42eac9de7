"""The only place where text becomes a length or a pitch, and a length becomes text.

Exact: every number is a Fraction until it is handed over as inches. What could mean two things is
refused with the question a person would ask ("5-3: 5 feet 3 inches, or 5/3?").

    7' 4 1/2"     feet mark   whole inches   fraction      = 88.5
    10-1/2        a hyphen joins a whole number and its fraction, never two whole numbers
    161.2 cm      a number and its unit
"""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction
from typing import Literal

from lapwright.errors import BadLength, BadPitch, OutOfRange

Unit = Literal["in", "mm"]

MM_PER_INCH = Fraction(127, 5)
"""25.4 mm to the inch, exactly. Source: international inch, 1959 agreement, from memory."""

LONGEST_TEXT = 40
"""Longer text than this is no length. [characters]"""

FARTHEST = 1_000_000
"""A length beyond this is a slip of the keyboard. [in]"""

_INCHES = {
    "'": Fraction(12), "ft": Fraction(12), "foot": Fraction(12), "feet": Fraction(12),
    '"': Fraction(1), "in": Fraction(1), "inch": Fraction(1), "inches": Fraction(1),
    "mm": 1 / MM_PER_INCH, "cm": 10 / MM_PER_INCH, "m": 1000 / MM_PER_INCH,
}  # fmt: skip
_FEET = {"'", "ft", "foot", "feet"}
_METRIC = {"mm", "cm", "m"}

_ALIKE = str.maketrans({
    "\u2032": "'", "\u2018": "'", "\u2019": "'", "\u00b4": "'", "`": "'",
    "\u2033": '"', "\u201c": '"', "\u201d": '"',
    "\u2044": "/", "\u2215": "/",
    "\u2212": "-", "\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-",
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2007": " ",
})  # fmt: skip

_TAPE = re.compile(rf"""[0-9a-z .,'"/+-]{{1,{LONGEST_TEXT}}}""")

# One letter of `shape` per token: w whole, d decimal, f fraction, ' feet, " inches, M metric,
# - a hyphen that touches both neighbours, ~ a hyphen with a space beside it, ? anything else.
_TOKEN = re.compile(
    r"""(?P<f>[0-9]+/[0-9]+) | (?P<d>[0-9]+\.[0-9]*|\.[0-9]+) | (?P<w>[0-9]+)
      | (?P<mark>['"]|[a-z]+\.?) | (?P<dash>\s*-\s*) | \s+ | (?P<other>.)""",
    re.VERBOSE,
)
_FEET_ALONE = re.compile(r"(?P<feet>d|f|w-?f|w)'")
_LENGTH = re.compile(r"""(?:(?P<feet>w)'[-~]?)?(?P<rest>d|f|w-?f|w)(?P<unit>["M]?)""")
_NUMBER = r"(?P<{}>[0-9]+\.[0-9]*|\.[0-9]+|(?:[0-9]+(?:\s+|-))?[0-9]+/[0-9]+|[0-9]+)"
_RATIO = re.compile(_NUMBER.format("rise") + r"\s*(?::|\bin\b|\bon\b)\s*" + _NUMBER.format("run"))
_SLASH = re.compile(r"(?P<rise>[0-9]+(?:\.[0-9]*)?)\s*/\s*(?P<run>[0-9]+)")
_ANGLE = re.compile(_NUMBER.format("angle") + r"\s*(?:°|deg\.?|degrees?)")
_PERCENT = re.compile(_NUMBER.format("percent") + r"\s*(?:%|percent)")
_LOOSE = re.compile(r"(?P<a>[0-9.]+)(?:\s*[-\s]\s*(?P<b>[0-9.]+))?")


def read_length(value: str | int | float, bare: Unit) -> float:
    """Read what the tape said, as a number or as text, into inches.

    Takes `7' 4 1/2"`, `7'4-1/2"`, `24' 0`, `10-1/2`, `10 1/2`, `88.5`, `7 ft 4 in`, `1612 mm`,
    `161.2 cm`, `1.612 m`, the typeset marks and fractions, and a leading minus. Refuses `5-3`,
    `5' 13"`, `4.5' 3"`, `10 5/4`, `1,612`, and a bare fraction in a job in mm.

    Args:
        value: The number or the text.
        bare: What a number without a unit means: "in" or "mm".

    Returns:
        The length, exact to the last bit of a float; may be negative. [in]

    Raises:
        BadLength: it is no length, or could be two; its sentence asks which.

    >>> read_length("7' 4 1/2\\"", "in"), read_length("1612.9 mm", "in"), read_length(254, "mm")
    (88.5, 63.5, 10.0)
    """
    if isinstance(value, str):
        return float(_within(_read_text(value, bare), _short(value.strip())))
    if isinstance(value, bool) or (isinstance(value, float) and not math.isfinite(value)):
        raise BadLength("units.not_length", text=str(value).lower())
    if abs(value) > FARTHEST * MM_PER_INCH:
        raise BadLength("units.too_far", text=f"{float(min(abs(value), 10**300)):.3g}")
    # repr, not the float itself: 0.1 in the file means one tenth, not the nearest binary number
    size = Fraction(repr(value)) * _INCHES[bare]
    return float(_within(size, repr(value)))


def _within(size: Fraction, text: str) -> Fraction:
    if abs(size) > FARTHEST:
        raise BadLength("units.too_far", text=text)
    return size


def _read_text(value: str, bare: Unit) -> Fraction:
    text, shown = _plain(value), _short(value.strip())
    if not _TAPE.fullmatch(text):
        raise BadLength("units.not_length", text=shown)
    if "," in text:
        bare_text = text.replace(",", "")
        raise BadLength("units.comma", text=shown, without=bare_text, point=text.replace(",", "."))
    sign = -1 if text[0] == "-" else 1
    shape, parts = _tokens(text[1:].lstrip() if text[0] in "+-" else text)
    _ask_if_unclear(shape, parts, shown)
    alone = _FEET_ALONE.fullmatch(shape)
    if alone:
        return sign * 12 * _number(parts[: alone.end("feet")], shown)
    found = _LENGTH.fullmatch(shape)
    if not found:
        raise BadLength("units.not_length", text=shown)
    rest = _number(parts[found.start("rest") : found.end("rest")], shown)
    if found["feet"]:
        return sign * _feet_and(Fraction(parts[0]), rest, found["unit"], shown)
    if not found["unit"] and bare == "mm" and "f" in shape:
        raise BadLength("units.fraction_of_what", text=shown, mm=f"{float(rest):g}")
    return sign * rest * _INCHES[parts[-1] if found["unit"] else bare]


def _plain(value: str) -> str:
    """The text in typewriter marks: one kind of prime, hyphen, space and fraction."""
    out = []
    for char in value[: LONGEST_TEXT * 4]:
        if unicodedata.decomposition(char).startswith("<fraction>"):
            # 10½ is 10 1/2; without the space the digits would run together
            char = " " + unicodedata.normalize("NFKC", char)
        out.append(char)
    text = "".join(out).translate(_ALIKE).replace("''", '"').lower()
    return text.strip()


def _tokens(text: str) -> tuple[str, list[str]]:
    shape, parts = "", []
    for found in _TOKEN.finditer(text):
        if found.lastgroup is None:
            continue
        part = found.group()
        if found.lastgroup == "mark":
            part = part.rstrip(".")
            letter = "'" if part in _FEET else "M" if part in _METRIC else '"' if part in _INCHES else "?"
        elif found.lastgroup == "dash":
            letter = "-" if part == "-" else "~"
        else:
            letter = {"w": "w", "d": "d", "f": "f"}.get(found.lastgroup, "?")
        shape += letter
        parts.append(part)
    return shape, parts


def _ask_if_unclear(shape: str, parts: list[str], shown: str) -> None:
    """Refuse the shapes that two people would read in two ways."""
    numbers = [part for letter, part in zip(shape, parts, strict=True) if letter in "wdf"]
    if re.fullmatch(r"w[-~]?w", shape):
        key = "units.two_numbers" if int(numbers[1]) else "units.feet_unmarked"
        raise BadLength(key, text=shown, a=numbers[0], b=numbers[1])
    if re.fullmatch(r"w[-~]?w[-~]?[wf]", shape):
        raise BadLength("units.three_numbers", text=shown, a=numbers[0], b=numbers[1], c=numbers[2])
    if re.fullmatch(r"""w~f["M]?""", shape):
        whole, fraction = Fraction(numbers[0]), _fraction(numbers[1], shown)
        less = show_length(float(whole - fraction), "in").rstrip('"')
        raise BadLength("units.less_or_joined", text=shown, a=numbers[0], b=numbers[1], less=less)
    if re.match(r"(?:d|f|w-?f)'.", shape):
        raise BadLength("units.part_feet", text=shown)


def _fraction(text: str, shown: str) -> Fraction:
    above, below = text.split("/")
    if int(below) == 0:
        raise BadLength("units.not_length", text=shown)
    return Fraction(int(above), int(below))


def _number(parts: list[str], shown: str) -> Fraction:
    """A decimal, a whole number, a fraction, or a whole number and its fraction."""
    if "/" not in parts[-1]:
        return Fraction(parts[-1])
    fraction = _fraction(parts[-1], shown)
    if len(parts) == 1:
        return fraction
    if fraction >= 1:
        raise BadLength("units.whole_fraction", text=shown, fraction=parts[-1])
    return int(parts[0]) + fraction


def _feet_and(feet: Fraction, inches: Fraction, unit: str, shown: str) -> Fraction:
    if unit == "M":
        raise BadLength("units.not_length", text=shown)
    if inches >= 12:
        total = show_length(float(feet * 12 + inches), "in", feet=True)
        raise BadLength("units.inches_over", text=shown, total=total)
    return feet * 12 + inches


def _short(text: str) -> str:
    text = "".join(char if char.isprintable() else "?" for char in text[: LONGEST_TEXT + 1])
    return (text if len(text) <= LONGEST_TEXT else text[: LONGEST_TEXT - 3] + "...") or '""'


def show_length(value: float, unit: str, feet: bool = False) -> str:
    """Print a length as a tape shows it: to the nearest 1/16, or to 0.1 mm in a job in mm.

    A half goes away from zero, so a printed length is never short by more than the true half; a
    length within a millionth of the half counts as the half (float noise must not flip a mark).

    Args:
        value: The length. [in]
        unit: "in" prints inches, "mm" millimetres.
        feet: Print feet and inches from one foot up; not used for mm.

    Raises:
        OutOfRange: value is not a finite number within 1,000,000.

    >>> show_length(53.125, "in"), show_length(88.5, "in", feet=True), show_length(-0.5, "mm")
    ('53-1/8"', '7\\' 4-1/2"', '-12.7 mm')
    """
    if not abs(value) <= FARTHEST:
        raise OutOfRange("length", value, -FARTHEST, FARTHEST)
    if unit == "mm":
        tenths = _whole(abs(value) * 254)
        return f"{_minus(value, tenths)}{tenths // 10}{f'.{tenths % 10}' if tenths % 10 else ''} mm"
    sixteenths = _whole(abs(value) * 16)
    sign = _minus(value, sixteenths)
    if feet and sixteenths >= 192:
        part = _inches(sixteenths % 192)
        # 20' 1/16" is too easily read as 20-1/16"
        return f"{sign}{sixteenths // 192}' {'0-' if '/' in part and '-' not in part else ''}{part}\""
    return f'{sign}{_inches(sixteenths)}"'


def _whole(steps: float) -> int:
    return math.floor(steps + 0.5 + 1e-6)


def _minus(value: float, steps: int) -> str:
    return "-" if value < 0 and steps else ""


def _inches(sixteenths: int) -> str:
    whole, part = divmod(sixteenths, 16)
    if not part:
        return str(whole)
    fraction = Fraction(part, 16)
    return f"{whole}-{fraction}" if whole else str(fraction)


def read_pitch(value: str | int | float) -> float:
    """Read a roof pitch into rise per 12 of level run.

    Takes `7:12`, `7/12`, `7 in 12`, `7 1/2:12`, `30 deg` and `58 %`. A bare number, `7-12` and a
    run other than 12 are refused with a question: 1:4 is a rise to some and a run to others.

    Returns:
        Rise per 12 of level run, 0 or more. [in/12in]

    Raises:
        BadPitch: it is no pitch, or could be two; its sentence asks which.

    Source: tan of the angle; a percent is rise over run.

    >>> read_pitch("7:12"), read_pitch("45 deg"), read_pitch("50 %")
    (7.0, 12.0, 6.0)
    """
    if not isinstance(value, str):
        if isinstance(value, bool) or not abs(value) < FARTHEST:
            raise BadPitch("units.not_pitch", text=_short(str(value).lower() if value in (0, 1) else "?"))
        raise BadPitch("units.bare_pitch", text=f"{value:g}")
    text, shown = _plain(value), _short(value.strip())
    if len(text) > LONGEST_TEXT:
        raise BadPitch("units.not_pitch", text=shown)
    if found := (_SLASH.fullmatch(text) or _RATIO.fullmatch(text)):
        return _ratio(_mixed(found["rise"], shown), _mixed(found["run"], shown), shown)
    if found := _ANGLE.fullmatch(text):
        return _rise_of(float(_mixed(found["angle"], shown)), shown)
    if found := _PERCENT.fullmatch(text):
        return float(_mixed(found["percent"], shown) * 12 / 100)
    if (found := _LOOSE.fullmatch(text)) and found["b"]:
        raise BadPitch("units.joined_pitch", text=shown, a=found["a"], b=found["b"])
    if found:
        raise BadPitch("units.bare_pitch", text=shown)
    raise BadPitch("units.not_pitch", text=shown)


def _mixed(text: str, shown: str) -> Fraction:
    try:
        return _number(re.split(r"\s+|-", text), shown)
    except BadLength:
        raise BadPitch("units.not_pitch", text=shown) from None


def _ratio(rise: Fraction, run: Fraction, shown: str) -> float:
    if run == 12:
        return float(rise)
    if run == 0:
        raise BadPitch("units.not_pitch", text=shown)
    raise BadPitch("units.run_not_twelve", text=shown, twelfths=f"{float(rise / run * 12):.4g}")


def _rise_of(angle_deg: float, shown: str) -> float:
    if angle_deg >= 90:
        raise BadPitch("units.not_pitch", text=shown)
    # tan(45 deg) is a hair under 1 in floats; 15 digits is far inside any tape
    return round(12 * math.tan(math.radians(angle_deg)), 12)


def show_pitch(rise: float) -> str:
    """Print a pitch as roofers say it, to two decimals: `7:12`, `6.93:12`."""
    return f"{f'{rise:.2f}'.rstrip('0').rstrip('.')}:12"
