"""A display list as SVG text: black on white, same list same bytes, true size. Knows no roofing word."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from html import escape

from lapwright.draw.display import SMALLEST_TEXT, Circle, Display, Line, Mark, Pen, Polyline, Text
from lapwright.geom.space import Flat

FAMILY = "DejaVu Sans Mono, Menlo, Consolas, monospace"
BASELINE = 0.365
"""Half the height of a capital over the type size. Source: DejaVu Sans Mono, OS/2 sCapHeight 1493/2048."""

_UNPRINTABLE = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_FILLS = {"": "none", "paper": "#fff", "ink": "#000", "hatch": "url(#hatch)", "dots": "url(#dots)"}
PATTERNS = {
    "hatch": '<pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse">'
    '<path d="M-1 7L7 -1" fill="none" stroke="#000" stroke-width="0.35"/></pattern>',
    "dots": '<pattern id="dots" width="5" height="5" patternUnits="userSpaceOnUse">'
    '<circle cx="2.5" cy="2.5" r="0.45" fill="#000"/></pattern>',
}


def to_svg(display: Display, width_in: float | None = None) -> str:
    """The sheet as an SVG that prints at its true size, or `width_in` wide.

    Args:
        display: The sheet.
        width_in: Printed width; left out, the sheet's own. [in]

    Raises:
        ValueError: at that width some text would print smaller than SMALLEST_TEXT.
    """
    scale = 1.0 if width_in is None else width_in * 72 / display.width
    _refuse_small_print(display, scale)
    w, h = number(display.width), number(display.height)
    size = f'width="{_inches(display.width * scale)}" height="{_inches(display.height * scale)}"'
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {w} {h}" font-family="{FAMILY}" '
        'fill="none" stroke="#000" stroke-linecap="round" stroke-linejoin="round">'
    )
    rows = [head, f"<title>{_plain(display.title)}</title>"]
    rows += _definitions(display.marks)
    rows.append(f'<rect width="{w}" height="{h}" fill="#fff" stroke="none"/>')
    rows += _layers(display)
    return "\n".join([*rows, "</svg>"]) + "\n"


def under(upper: Display, upper_svg: str, lower: Display, lower_svg: str) -> str:
    """One sheet of two made already, the second below the first: a drawing and its legend, say."""
    w, h, low = upper.width, upper.height + lower.height, number(upper.height)
    size = f'width="{_inches(w)}" height="{_inches(h)}" viewBox="0 0 {number(w)} {number(h)}"'
    out = [f'<svg xmlns="http://www.w3.org/2000/svg" {size}>']
    for display, svg, y in ((upper, upper_svg, "0"), (lower, lower_svg, low)):
        head, _, rest = svg.partition(" viewBox")
        place = f'y="{y}" width="{number(display.width)}" height="{number(display.height)}"'
        out.append(f"{head.split(' width=')[0]} {place} viewBox{rest}")
    return "\n".join(["".join(part) for part in out]) + "</svg>\n"


@lru_cache(maxsize=1 << 14)
def number(value: float) -> str:
    """A coordinate, to a hundredth of a point, without a trailing zero or a negative nought."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _inches(points: float) -> str:
    """A size as it prints, fine enough that nothing is scaled to fit it. [pt]"""
    return f"{points / 72:.5f}".rstrip("0").rstrip(".") + "in"


def _refuse_small_print(display: Display, scale: float) -> None:
    least = min((t.size for t in display.texts()), default=SMALLEST_TEXT)
    if least * scale < SMALLEST_TEXT - 1e-9:
        raise ValueError(f"text of {least * scale:.2f} pt; at least {SMALLEST_TEXT:g} pt is asked")


def _definitions(marks: Iterable[Mark]) -> list[str]:
    used = {m.fill for m in marks if isinstance(m, Polyline | Circle)}
    return ["<defs>", *(PATTERNS[k] for k in sorted(PATTERNS) if k in used), "</defs>"]


def _layers(display: Display) -> list[str]:
    """Marks in drawing order; neighbours of one layer share a group, which carries the pen."""
    pens = {p.layer: p for p in display.pens}
    rows: list[str] = []
    layer = None
    for mark in display.marks:
        if mark.layer != layer:
            rows += ["</g>"] if layer is not None else []
            layer = mark.layer
            rows.append(_group(pens.get(layer, Pen(layer, 0.5))))
        rows.append(_mark(mark, display.height))
    return [*rows, "</g>"] if layer is not None else rows


def _group(pen: Pen) -> str:
    dash = f' stroke-dasharray="{" ".join(number(d) for d in pen.dash)}"' if pen.dash else ""
    return f'<g class="{escape(pen.layer)}" stroke-width="{number(pen.weight)}"{dash}>'


def _mark(mark: Mark, height: float) -> str:
    if isinstance(mark, Line):
        (x1, y1), (x2, y2) = _page(mark.a, height), _page(mark.b, height)
        return f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>'
    if isinstance(mark, Polyline):
        points = " ".join(",".join(_page(p, height)) for p in mark.points)
        shape = "polygon" if mark.closed else "polyline"
        return f'<{shape} points="{points}"{_fill(mark.fill)}/>'
    if isinstance(mark, Circle):
        x, y = _page(mark.centre, height)
        return f'<circle cx="{x}" cy="{y}" r="{number(mark.radius)}"{_fill(mark.fill)}/>'
    return _text(mark, height)


def _page(p: Flat, height: float) -> tuple[str, str]:
    return (number(p[0]), number(height - p[1]))


def _fill(fill: str) -> str:
    return f' fill="{_FILLS[fill]}"' if fill else ""


def _text(mark: Text, height: float) -> str:
    x, y = _page(mark.at, height)
    turned = f' transform="rotate({number(-mark.angle)} {x} {y})"' if mark.angle else ""
    bold = ' font-weight="bold"' if mark.bold else ""
    lowered = number(height - mark.at[1] + BASELINE * mark.size)
    return (
        f'<text x="{x}" y="{lowered}" font-size="{number(mark.size)}" text-anchor="{mark.anchor}" '
        f'fill="#000" stroke="none"{bold}{turned}>{_plain(mark.text)}</text>'
    )


def _plain(text: str) -> str:
    """Any text as text: markup escaped, what XML cannot hold replaced."""
    return escape(_UNPRINTABLE.sub("\ufffd", text), quote=True)
