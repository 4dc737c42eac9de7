"""The shop drawing of a blank: everything the person at the shear and the brake reads off one sheet."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.draw.callout import Label, write_inside
from lapwright.draw.close_up import dense_spots, draw_close_ups, frame_spots, letter_spots
from lapwright.draw.display import Display
from lapwright.draw.features import whole
from lapwright.draw.fit import FULL_SIZE, fit, spare
from lapwright.draw.heading import Words, write_heading, write_legend
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import HEIGHT, Sheet
from lapwright.draw.view import View, draw_datum, draw_view, label_view
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank, Piece, RoofPanel
from lapwright.words import Speaker

Item = Piece | RoofPanel

SMALL = 3.0
"""A blank no larger than this may be drawn at twice its size. [in]"""
LEAST_HEIGHT = 300.0
"""No sheet is lower than this. [pt]"""


def draw_blank(item: Item, speaker: Speaker) -> Display:
    """Draw a blank to scale with running dimensions, bends, slits, holes and a legend.

    Args:
        item: A piece, or a panel that carries a blank.
        speaker: Language and unit of the job.

    Returns:
        A sheet 7 inches wide and at most 8 1/2 high; long plain runs are broken out and it says so.

    Raises:
        ValueError: the panel has no blank.
    """
    blank = _blank_of(item)
    tall = _view(Sheet(), item, blank, speaker)
    sheet = Sheet(height=max(LEAST_HEIGHT, HEIGHT - spare(tall)))
    view = _view(sheet, item, blank, speaker)
    write_legend(sheet, _layers(blank, item.bends, view), speaker, _notes(view, speaker))
    draw_datum(sheet, view)
    draw_view(sheet, view, speaker)
    spots = dense_spots(view)
    frame_spots(sheet, view, spots)
    label_view(sheet, view, speaker)
    letter_spots(sheet, view, spots, speaker)
    _say_side(sheet, view, speaker)
    return sheet.finish(PENS, title_of(item, speaker))


def draw_blank_close(item: Item, speaker: Speaker) -> tuple[Display, ...]:
    """Enlarged views of the places too fine to read on `draw_blank`; none for a plain blank.

    Raises:
        ValueError: the panel has no blank.
    """
    blank = _blank_of(item)
    view = _view(Sheet(), item, blank, speaker)
    title = speaker.say("draw.close_up_title", title=title_of(item, speaker))
    note = speaker.say("draw.close_up_datum")
    words = Words(title, tuple(facts_of(item, speaker)), tuple(_layers(blank, item.bends, None)), (note,))
    return draw_close_ups(view, dense_spots(view), words, speaker)


def _blank_of(item: Item) -> Blank:
    if item.blank is None:
        raise ValueError(f"{item.id} has no blank")
    return item.blank


def _view(sheet: Sheet, item: Item, blank: Blank, speaker: Speaker) -> View:
    """Write the heading, and fit the blank between it and the longest legend it may need."""
    upper = write_heading(sheet, title_of(item, speaker), facts_of(item, speaker))
    layers = [*_layers(blank, item.bends, None), "break", "datum"]
    lower = write_legend(Sheet(), layers, speaker, _notes(None, speaker))
    room = (2.0, lower, sheet.width - 2.0, upper)
    largest = FULL_SIZE if max(blank.width, blank.height) > SMALL else 2 * FULL_SIZE
    return fit(blank, item.bends, whole(blank), room, speaker, largest, may_break=True)


def title_of(item: Item, speaker: Speaker) -> str:
    """Id and name of a piece or a panel, as its sheet says them."""
    if isinstance(item, Piece):
        name = speaker.say(item.name) if speaker.knows(item.name) else item.name
        return speaker.say("draw.title_piece", id=item.id, name=name)
    return speaker.say(f"draw.title_{item.role}", id=item.id, strip=item.strip + 1)


def facts_of(item: Item, speaker: Speaker) -> list[str]:
    """Quantity, hand, painted side; metal and thickness; the sheet to start from."""
    blank = _blank_of(item)
    quantity = item.quantity if isinstance(item, Piece) else 1
    hand = item.hand if isinstance(item, Piece) else ""
    rows = [speaker.say("draw.quantity", count=quantity), speaker.say("draw.painted")]
    if hand:
        rows.insert(1, speaker.say(f"draw.hand_{hand}"))
    source = item if isinstance(item, Piece) else item.body
    metal = []
    if source is not None:
        key = f"metals.{source.metal}"
        known = speaker.say(key) if speaker.knows(key) else source.metal
        metal = [speaker.say("draw.metal", metal=known, thick=source.thickness)]
    size = speaker.say("draw.overall", width=blank.width, height=blank.height)
    return [speaker.say("draw.and").join(rows), speaker.say("draw.and").join([*metal, size])]


def _notes(view: View | None, speaker: Speaker) -> list[str]:
    """How to measure and how far to trust the picture."""
    scale = FULL_SIZE / max(view.scale, 1e-9) if view else 1.0
    broken = bool(view and (view.u.breaks or view.v.breaks))
    key = "scale" if scale > 1.005 else "scale_full" if scale > 0.995 else "scale_larger"
    key = "draw.scale_broken" if broken else f"draw.{key}"
    return [speaker.say("draw.datum"), speaker.say(key, scale=f"{scale:.1f}", larger=f"{1 / scale:.1f}")]


def _layers(blank: Blank, bends: tuple[Bend, ...], view: View | None) -> list[str]:
    """The lines this sheet's legend explains."""
    out = ["cut"]
    out += ["slit"] if blank.cuts else []
    out += ["hole"] if blank.holes else []
    out += [f"bend-{way}" for way in ("up", "down") if any(b.way == way for b in bends)]
    out += ["balloon"] if bends else []
    out += ["datum"] if view else []
    out += ["break"] if view and (view.u.breaks or view.v.breaks) else []
    return [*out, "window"] if view is None or dense_spots(view) else out


def _say_side(sheet: Sheet, view: View, speaker: Speaker) -> None:
    """Write which side is up on the metal itself, where there is a free place."""
    write_inside(sheet, _grid(view), Label("", speaker.say("draw.painted_here")))


def _grid(view: View) -> Iterator[Flat]:
    """Places on the metal, from its middle outward."""
    x0, y0, x1, y1 = view.frame
    for ring in (0.0, 0.2, 0.4, 0.6, 0.8):
        for du, dv in ((0, -1), (0, 1), (1, 0), (-1, 0), (1, 1), (-1, 1), (1, -1), (-1, -1)):
            at = ((x0 + x1 + ring * du * (x1 - x0)) / 2, (y0 + y1 + ring * dv * (y1 - y0)) / 2)
            if holds_metal(view, at):
                yield at


def holds_metal(view: View, at: Flat) -> bool:
    """Does a point of the sheet lie on the metal (even-odd rule)? [pt]"""
    ring = [view.at(p) for p in view.blank.outline]
    odd = False
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (a[1] > at[1]) != (b[1] > at[1]) and at[0] < a[0] + (at[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1]):
            odd = not odd
    return odd
