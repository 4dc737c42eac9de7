"""Enlarged views of the places on a blank that are too fine to read at the sheet's scale."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from lapwright.draw.callout import Label, write_round
from lapwright.draw.display import Text
from lapwright.draw.features import Window, clip, edges
from lapwright.draw.sheet import Sheet
from lapwright.draw.view import View, draw_view, label_view
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank
from lapwright.words import Speaker

FINE = 7.0
"""A side or slit shorter than this on the sheet is too fine to read. [pt]"""
AROUND = 8.0
"""Room kept round the fine places. [pt]"""
LARGEST = 216.0
"""Points to the inch at 3 : 1; no close-up is larger."""


Side = tuple[Flat, Flat]


@dataclass(frozen=True, slots=True)
class Spot:
    """A fine place: its letter, its window [in], and whether it repeats one with that letter."""

    letter: str
    window: Window
    repeats: bool = False
    mirrored: bool = False


def dense_spots(view: View) -> tuple[Spot, ...]:
    """Find the fine places of a whole view; alike ones (moved or mirrored) share a letter."""
    fine = tuple(line for line in [*edges(view.blank), *view.blank.cuts] if _is_fine(view, *line))
    return _spots(view.blank, view.bends, fine, AROUND / view.scale)


@lru_cache(maxsize=32)
def _spots(blank: Blank, bends: tuple[Bend, ...], fine: tuple[Side, ...], pad: float) -> tuple[Spot, ...]:
    """The windows round fine lines, `pad` wider, with their letters; a blank is laid in many rooms, in few sizes."""
    windows = _joined([_window(line, pad) for line in fine])
    lines = list(_lines(blank, bends))
    seen: dict[Shape, tuple[str, Shape]] = {}
    spots = []
    for window in sorted(windows, key=lambda w: (w[0], w[1])):
        here = _seen(lines, window)
        shape, key = _shape(here, 1.0), _key(here)
        if key in seen:
            letter, first = seen[key]
            spots.append(Spot(letter, window, True, shape != first))
        else:
            letter = _letter(len(seen))
            seen[key] = (letter, shape)
            spots.append(Spot(letter, window))
    return tuple(spots)


def _is_fine(view: View, a: Flat, b: Flat) -> bool:
    return math.dist(view.at(a), view.at(b)) < FINE


def _window(line: Side, pad: float) -> Window:
    """The metal round a fine line. [in]"""
    us, vs = [p[0] for p in line], [p[1] for p in line]
    return (min(us) - pad, min(vs) - pad, max(us) + pad, max(vs) + pad)


def _joined(windows: list[Window]) -> list[Window]:
    """Grow overlapping windows together."""
    rest = list(windows)
    out: list[Window] = []
    while rest:
        here = rest.pop()
        meets = [w for w in [*rest, *out] if _overlap(here, w)]
        if meets:
            rest = [w for w in rest if w not in meets]
            out = [w for w in out if w not in meets]
            us0, vs0, us1, vs1 = zip(here, *meets, strict=True)
            rest.append((min(us0), min(vs0), max(us1), max(vs1)))
        else:
            out.append(here)
    return out


def _overlap(a: Window, b: Window) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


Seen = tuple[str, Side]
Shape = tuple[tuple[str, Flat, Flat], ...]


def _lines(blank: Blank, bends: Sequence[Bend]) -> Iterator[Seen]:
    """Every line of a blank with its kind."""
    yield from (("edge", edge) for edge in edges(blank))
    yield from (("slit", cut) for cut in blank.cuts)
    yield from ((f"{b.way} {b.angle_deg:.2f}", (b.start, b.end)) for b in bends)


def _seen(lines: Sequence[Seen], window: Window) -> list[Seen]:
    """What is seen in a window: each line's kind, and its two ends from the window's middle. [in]"""
    u0, v0, u1, v1 = window
    u, v = (u0 + u1) / 2, (v0 + v1) / 2
    out: list[Seen] = []
    for what, (a, b) in lines:
        if max(a[0], b[0]) < u0 or min(a[0], b[0]) > u1 or max(a[1], b[1]) < v0 or min(a[1], b[1]) > v1:
            continue
        part = clip(a, b, window)
        if part is not None:
            (au, av), (bu, bv) = part
            out.append((what, ((au - u, av - v), (bu - u, bv - v))))
    return out


def _shape(seen: list[Seen], su: float, sv: float = 1.0) -> Shape:
    """What is seen, perhaps mirrored, to 1/500 in."""
    rows = []
    for what, (p, q) in seen:
        a, b = _grid(p[0] * su, p[1] * sv), _grid(q[0] * su, q[1] * sv)
        rows.append((what, a, b) if a <= b else (what, b, a))
    return tuple(sorted(rows))


def _key(seen: list[Seen]) -> Shape:
    """The same for a place and its mirror images."""
    return min(_shape(seen, su, sv) for su in (1.0, -1.0) for sv in (1.0, -1.0))


def _grid(u: float, v: float) -> Flat:
    """A point to 1/500 in, with no negative nought."""
    return (round(u * 500) / 500 + 0.0, round(v * 500) / 500 + 0.0)


def _letter(n: int) -> str:
    return chr(ord("A") + n % 26) * (n // 26 + 1)


def frame_spots(sheet: Sheet, view: View, spots: Sequence[Spot]) -> None:
    """Frame each fine place on the whole view."""
    for spot in spots:
        a, b = _corners(view, spot)
        sheet.ring((a, (b[0], a[1]), b, (a[0], b[1])), "window", price=1.0)


def _corners(view: View, spot: Spot) -> tuple[Flat, Flat]:
    u0, v0, u1, v1 = spot.window
    return view.at((u0, v0)), view.at((u1, v1))


def letter_spots(sheet: Sheet, view: View, spots: Sequence[Spot], speaker: Speaker) -> None:
    """Write each fine place's letter beside its frame."""
    for spot in spots:
        a, b = _corners(view, spot)
        key = "draw.spot_mirrored" if spot.mirrored else "draw.spot"
        label = Label("", speaker.say(key, letter=spot.letter))
        write_round(sheet, a, b, label)


def draw_spot(sheet: Sheet, near: View, spot: Spot, speaker: Speaker) -> None:
    """Draw one close-up in the room its view was laid into, with its letter in the room's upper left corner."""
    (x0, y0), (x1, y1) = near.low, near.high
    sheet.text(Text((x0 + 2, y1 + 2), speaker.say("draw.spot", letter=spot.letter), "text", 11.0, bold=True))
    fx0, fy0, fx1, fy1 = near.frame
    sheet.ring(((fx0, fy0), (fx1, fy0), (fx1, fy1), (fx0, fy1)), "window", price=1.5)
    sheet.crowd.low, sheet.crowd.high = (x0, y0), (x1, y1 + 8)
    draw_view(sheet, near, speaker)
    label_view(sheet, near, speaker)
