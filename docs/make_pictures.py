"""Draw the pages' pictures again: `.venv/bin/python docs/make_pictures.py`.

Everything is drawn by the program from an example roof: its own sheets as they stand in a packet, pages
of the packet itself, and two sketches made with its pens. Same program, same pictures; a test compares.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from lapwright import units
from lapwright.draw.display import Circle, Display, Fill, Line, Mark, Pen, Polyline, Text
from lapwright.draw.svg import to_svg
from lapwright.geom.space import Flat
from lapwright.job import Job, run
from lapwright.packet.files import packet_files
from lapwright.site.read import read_job
from lapwright.words import phrases

if TYPE_CHECKING:
    from PIL.Image import Image as Page

DOCS = Path(__file__).parent
PICTURES = DOCS / "pictures"
EXAMPLES = DOCS.parent / "examples"

SHEETS = {
    "roof-plan": ("kiln-shed", "roof"),
    "round-the-opening": ("kiln-shed", "opening-1"),
    "back-pan": ("kiln-shed", "blank-1-back-pan"),
    "round-a-cricket": ("malt-house", "opening-1"),
    **{f"section-{key}": ("kiln-shed", f"section-1-{key}") for key in ("upslope", "side", "apron", "rib", "corner")},
}
"""Picture -> example and the sheet's name in its packet's drawings folder."""

PAGES = {
    "page-cover": ("kiln-shed", ""),
    "page-do-not-cut": ("must-stop", ""),
    "page-findings": ("kiln-shed", "packet.label.findings"),
    "page-verify": ("kiln-shed", "packet.label.verify"),
    "page-cut-list": ("kiln-shed", "packet.label.cut_list"),
    "page-takeoff": ("kiln-shed", "packet.label.takeoff"),
    "page-step": ("kiln-shed", "steps.pan.title"),
    "page-sealing": ("kiln-shed", "packet.label.sealing"),
    "page-proving": ("kiln-shed", "packet.label.proving"),
}
"""Picture -> example and the phrase that heads the page; none = the first page."""

DOTS = 96
"""Of a page's picture, to the inch."""

PENS = (
    Pen("edge", 1.4), Pen("rib", 0.5), Pen("wall", 1.2), Pen("tape", 0.9), Pen("check", 0.9, (4, 2.5)),
    Pen("head", 0.5), Pen("balloon", 0.7), Pen("metal", 1.6), Pen("thin", 0.4), Pen("text", 0.3),
)  # fmt: skip
SIZE = 9.0


@cache
def job(example: str) -> Job:
    path = EXAMPLES / example / "job.toml"
    return run(read_job(path.read_text(encoding="utf-8"), path.name))


@cache
def packet(example: str) -> dict[str, bytes]:
    """Everything that is handed over, by its name inside the packet's folder."""
    return packet_files(job(example))


def svgs() -> dict[str, str]:
    """Every drawn picture by its file name."""
    out = {f"{name}.svg": packet(whose)[f"drawings/{file}.svg"].decode() for name, (whose, file) in SHEETS.items()}
    out["where-the-tape-goes.svg"] = to_svg(where_the_tape_goes())
    out["plumb-and-square.svg"] = to_svg(plumb_and_square())
    return out


def pages() -> dict[str, Page]:
    """Every picture of a packet page by its file name, in few greys. Needs what the tests need to read a PDF."""
    import pypdfium2
    from PIL import Image

    out = {}
    for example in sorted({example for example, _ in PAGES.values()}):
        document = pypdfium2.PdfDocument(packet(example)["packet.pdf"])
        texts = [page.get_textpage().get_text_range() for page in document]
        for name, (whose, label) in PAGES.items():
            if whose == example:
                page = next(i for i, text in enumerate(texts) if _headed(text, label))
                drawn = document[page].render(scale=DOTS / 72, grayscale=True).to_pil()
                out[f"{name}.png"] = drawn.quantize(16, dither=Image.Dither.NONE)
    return out


def _headed(text: str, key: str) -> bool:
    """Is this phrase, as far as its first value, near the head of the page? Every page has the empty one."""
    start = phrases()[key].split("{")[0].strip() if key else ""
    return any(start in line for line in text.splitlines()[:4])


# ---- the two sketches -----------------------------------------------------------------------------


def where_the_tape_goes() -> Display:
    """The kiln shed's roof with every tape a person pulls, lettered in the order of pulling."""
    at = Board(scale=1.5, origin=(44.0, 52.0))
    made = job("kiln-shed")
    roof, o, ribs = made.site.roof, made.site.openings[0], made.layout.ribs
    w, h, right, back = roof.eave, roof.slope, o.right, o.back
    marks: list[Mark] = [Line(at(x, 0), at(x, h), "rib") for x in ribs]
    marks.append(Polyline((at(0, 0), at(w, 0), at(w, h), at(0, h)), "edge", closed=True))
    corners = tuple(at(x, y) for x, y in ((o.left, o.up), (right, o.up), (right, back), (o.left, back)))
    marks.append(Polyline(corners, "wall", closed=True, fill="paper"))
    marks += [
        Text(at(w / 2, h + 6), "ridge", "text", SIZE, "middle"),
        Text(at(w / 2, -26), "eave", "text", SIZE, "middle"),
    ]
    level = (o.up + back) / 2
    pulls = (
        ("A", (0, -17), (w, -17), 0.75, "tape"),
        ("B", (-17, 0), (-17, h), 0.5, "tape"),
        ("C", (0, 30), (ribs[0], 30), 2.6, "tape"),
        ("D", (ribs[12], 45), (ribs[13], 45), 0.5, "tape"),
        ("E", (0, level), (o.left, level), 0.55, "tape"),
        ("F", (right - 5, 0), (right - 5, o.up), 0.5, "tape"),
        ("G", (o.left, o.up - 10), (right, o.up - 10), 0.3, "tape"),
        ("H", (right + 9, o.up), (right + 9, back), 0.5, "tape"),
        ("J", (o.left, o.up), (right, back), 0.5, "check"),
        ("K", (right, back - 4), (w, back - 4), 0.55, "check"),
        ("L", (o.left + 6, back), (o.left + 6, h), 0.55, "check"),
    )  # fmt: skip
    for letter, a, b, share, pen in pulls:
        marks += _pull(letter, at(*a), at(*b), share, pen)
    return Display(at(w, 0)[0] + 30, at(0, h)[1] + 30, tuple(marks), PENS, "Where the tape goes")


def plumb_and_square() -> Display:
    """A plumb chimney and a square curb on the kiln shed's slope, cut up the slope; the eave is to the left."""
    theta = job("kiln-shed").site.roof.theta
    marks: list[Mark] = []
    for x, lean, name in ((10.0, theta, "plumb: chimneys and walls"), (262.0, 0.0, "square: curbs and skylights")):
        marks += _cut_up_the_slope(Slope(x, 40.0, 4.6, theta), lean, name)
    return Display(512.0, 250.0, tuple(marks), PENS, "Plumb and square faces")


@dataclass(frozen=True)
class Slope:
    """From y up the roof and z square off it [in] to points of paper."""

    x: float
    y: float
    scale: float
    theta: float

    def __call__(self, y: float, z: float) -> Flat:
        cos, sin = math.cos(self.theta), math.sin(self.theta)
        return (self.x + self.scale * (y * cos - z * sin), self.y + self.scale * (y * sin + z * cos))


def _cut_up_the_slope(at: Slope, lean: float, name: str) -> Iterator[Mark]:
    """Roof, opening, the metal up its upslope face and how it is measured."""
    up, back, upstand = 16.0, 34.0, 8.0
    tall = 21.0 if lean else 9.5

    def face(y: float, z: float, off: float = 0.0) -> Flat:
        """On a face that starts at y, z square to the roof, `off` upslope of it. [in]"""
        return at(y + z * math.tan(lean) + off, z)

    reach = tall + (back - up) * math.sin(lean) * math.cos(lean)
    outline = (face(up, 0), face(up, reach), face(back, tall), face(back, 0))
    yield Polyline(outline, "wall", closed=True, fill="hatch")
    yield Line(at(0, 0), at(59, 0), "edge")
    yield Polyline((at(back + 16, 0.6), at(back + 0.8, 0.6), face(back, upstand, 0.8)), "metal")
    yield from _measured(at(back + 9.5, 0.6), at(back + 9.5, upstand))
    yield Line(face(back, upstand, 1.6), at(back + 11, upstand), "thin")
    along = upstand / math.cos(lean)
    square, wall = (units.show_length(size, "in") for size in (upstand, along))
    for n, row in enumerate((f"{square} square to the roof,", f"{wall} up the wall")):
        yield Text((at.x + 242, at.y + 62 - 11 * n), row, "text", 8.0, "end")
    if lean:
        yield from _spirit_level(face(up, reach * 0.5), 34.0)
    else:
        yield Polyline((at(up - 2, 0), at(up - 2, 2), at(up, 2)), "thin")
    yield Text((at.x + 4, at.y - 14), "eave side", "text", 8.0)
    yield Text((at.x + 120, 10.0), name, "text", SIZE, "middle", bold=True)


def _measured(a: Flat, b: Flat) -> Iterator[Mark]:
    """A short dimension with a head at either end."""
    yield Line(a, b, "thin")
    yield from _head(a, b)
    yield from _head(b, a)


def _spirit_level(at: Flat, long: float) -> Iterator[Mark]:
    """A level held upright against a face at `at`, its bubble in the middle."""
    x, y = at
    ring = ((x - 8, y - long / 2), (x - 1, y - long / 2), (x - 1, y + long / 2), (x - 8, y + long / 2))
    yield Polyline(ring, "wall", closed=True, fill="paper")
    yield Circle((x - 4.5, y), 2.2, "thin", "ink")
    yield Text((x - 11, y), "level", "text", 8.0, "end")


class Board:
    """From inches of roof to points of paper."""

    def __init__(self, scale: float, origin: Flat) -> None:
        self.scale, self.origin = scale, origin

    def __call__(self, x: float, y: float) -> Flat:
        return (self.origin[0] + self.scale * x, self.origin[1] + self.scale * y)


def _pull(letter: str, a: Flat, b: Flat, share: float, pen: str) -> Iterator[Mark]:
    """A tape from a to b with its letter in a balloon; past 1 the balloon stands beyond the end."""
    yield Line(a, b, pen)
    yield from _head(a, b)
    yield from _head(b, a)
    at = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
    yield from _balloon(letter, at)


def _balloon(letter: str, at: Flat, fill: Fill = "paper") -> Iterator[Mark]:
    yield Circle(at, 7.0, "balloon", fill)
    yield Text(at, letter, "text", SIZE, "middle", bold=True)


def _head(tip: Flat, tail: Flat) -> Iterator[Mark]:
    """An arrow head at the tip."""
    long = math.hypot(tail[0] - tip[0], tail[1] - tip[1])
    ux, uy = (tail[0] - tip[0]) / long, (tail[1] - tip[1]) / long
    base = (tip[0] + 5 * ux, tip[1] + 5 * uy)
    yield Polyline(
        (tip, (base[0] - 1.6 * uy, base[1] + 1.6 * ux), (base[0] + 1.6 * uy, base[1] - 1.6 * ux)), "head", True, "ink"
    )


def main() -> None:
    PICTURES.mkdir(exist_ok=True)
    for name, svg in svgs().items():
        (PICTURES / name).write_text(svg, encoding="utf-8", newline="\n")
    for name, page in pages().items():
        page.save(PICTURES / name, optimize=True)


if __name__ == "__main__":
    main()
