"""A blank's card: heading, the whole blank and its close-ups, as small as they can be read.

    +-- id, name, hand, metal --+      several cards stand on one page, under one legend;
    |  whole blank, figures     |      a card by itself carries its legend (`legend_of`)
    |  A      B      C          |
    +---------------------------+
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lapwright.draw.blank import Item, holds_metal, title_of
from lapwright.draw.callout import Label, write_inside
from lapwright.draw.card_layout import Laid, layouts
from lapwright.draw.close_up import draw_spot, frame_spots, letter_spots
from lapwright.draw.display import Display, Mark, Text, text_width
from lapwright.draw.fit import FULL_SIZE
from lapwright.draw.heading import ROW, fold, sample
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import Sheet
from lapwright.draw.view import View, draw_datum, draw_view, label_view
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank, Piece
from lapwright.words import Speaker

SAMPLE = 22.0
"""Length of a line in the legend. [pt]"""
LONGEST = "x" * 22
"""As long as the words about a drawing's scale get."""
TITLE, BODY, LEAD, UNDER = 10.0, 8.0, 1.36, 6.0
"""Type of the heading, its leading, and the room under it. [pt]"""


@dataclass(frozen=True, slots=True)
class Card:
    """A card without its legend, the layers its legend must explain, and how its metal lies on the paper."""

    display: Display
    layers: tuple[str, ...]
    views: tuple[View, ...]


def draw_card(item: Item, speaker: Speaker) -> tuple[Card, ...]:
    """Draw a blank with all its close-ups: on one card, or the blank on one and its close-ups on others.

    Args:
        item: A piece, or a panel that carries a blank.
        speaker: Language and unit of the job.

    Raises:
        ValueError: the panel has no blank.
    """
    blank = _blank_of(item)
    begun: list[tuple[Laid, Sheet]] = []
    for made in layouts(blank, item.bends, speaker, lambda width: _head(item, width, speaker)):
        drawn = [(laid, *_begin(item, laid, speaker)) for laid in made]
        begun = [(laid, sheet) for laid, sheet, _ in drawn]
        if all(complete for _, _, complete in drawn):
            break
    return tuple(_finish(item, laid, sheet, speaker) for laid, sheet in begun)


def _begin(item: Item, laid: Laid, speaker: Speaker) -> tuple[Sheet, bool]:
    """A card as far as the labels of the whole blank, and whether every bend found room for its own."""
    sheet, view = Sheet(laid.width, laid.height), laid.view
    _write_head(sheet, item, laid, speaker)
    complete = True
    if view is not None:
        sheet.crowd.low, sheet.crowd.high = view.low, view.high
        draw_datum(sheet, view)
        draw_view(sheet, view, speaker, laid.elsewhere)
        frame_spots(sheet, view, laid.spots)
        start = len(sheet.marks)
        label_view(sheet, view, speaker)
        complete = _labelled(item.bends, sheet.marks[start:])
    return sheet, complete


def _finish(item: Item, laid: Laid, sheet: Sheet, speaker: Speaker) -> Card:
    """The rest of a card that is begun: letters of its fine places, and their close-ups."""
    view = laid.view
    if view is not None:
        letter_spots(sheet, view, laid.spots, speaker)
        write_inside(sheet, _grid(view), Label("", speaker.say("draw.painted_here")))
    for spot, near in laid.near:
        draw_spot(sheet, near, spot, speaker)
    display = sheet.finish(PENS, title_of(item, speaker))
    views = (*([view] if view is not None else []), *(near for _, near in laid.near))
    return Card(display, tuple(_layers(_blank_of(item), item.bends, laid)), views)


def _labelled(bends: Sequence[Bend], marks: Sequence[Mark]) -> bool:
    """Does every bend's number stand among these marks?"""
    return {str(b.order) for b in bends} <= {m.text for m in marks if isinstance(m, Text)}


def legend_of(layers: Sequence[str], width: float, speaker: Speaker) -> Display:
    """The legend of one card, or of a page of them: a row of samples with short words, and how to read figures.

    Args:
        layers: Lines to explain, each with a phrase `draw.short.<layer>`.
        width: Of the paper. [pt]
        speaker: Who says it.
    """
    names = [speaker.say(f"draw.short.{layer.replace('-', '_')}") for layer in layers]
    rows = list(_rows([SAMPLE + text_width(n, 8.0) + 14.0 for n in names], width))
    notes = fold(speaker.say("draw.card_note"), 8.0, width - 6)
    sheet = Sheet(width, ROW * (len(rows) + len(notes)) + 6.0)
    sheet.line((0, sheet.height - 1), (width, sheet.height - 1), "table")
    y = sheet.height - 3.0 - ROW / 2
    for row in rows:
        for i, x in row:
            sheet.marks += sample(layers[i], x + 2.0, y, SAMPLE)
            sheet.text(Text((x + SAMPLE + 6.0, y), names[i], "text", 8.0))
        y -= ROW
    for note in notes:
        sheet.text(Text((2.0, y), note, "text", 8.0))
        y -= ROW
    return sheet.finish(PENS, "")


def _rows(widths: Sequence[float], room: float) -> Iterator[list[tuple[int, float]]]:
    """Entries in rows no wider than the room: index and place of each. [pt]"""
    row: list[tuple[int, float]] = []
    x = 0.0
    for i, wide in enumerate(widths):
        if row and x + wide > room:
            yield row
            row, x = [], 0.0
        row.append((i, x))
        x += wide
    if row:
        yield row


def _head(item: Item, width: float, speaker: Speaker) -> float:
    """Height of the heading. [pt]"""
    return sum(size * LEAD for size, _, _ in _heading(item, "", width, speaker)) + UNDER


def _write_head(sheet: Sheet, item: Item, laid: Laid, speaker: Speaker) -> None:
    y = sheet.height - 7.0
    said = _scale(laid.view, speaker) if laid.view is not None else speaker.say("draw.close_ups")
    rows = _heading(item, said, sheet.width, speaker)
    for size, bold, text in rows:
        sheet.text(Text((2.0, y), text, "text", size, "start", 0.0, bold))
        y -= size * LEAD
    y += BODY * LEAD - BODY / 2 - 3.5
    sheet.line((0, y), (sheet.width, y), "table")


def _heading(item: Item, said: str, width: float, speaker: Speaker) -> list[tuple[float, bool, str]]:
    """Lines of the heading: size, bold, text. said: how large it is drawn; left out, as long as that can get."""
    out = [(TITLE, True, row) for row in fold(title_of(item, speaker), TITLE, width - 4)]
    for fact in _facts(item, said or LONGEST, speaker):
        out += [(BODY, False, row) for row in fold(fact, BODY, width - 4)]
    return out


def _facts(item: Item, said: str, speaker: Speaker) -> list[str]:
    """How many and of which hand, which side up, the sheet to start from; metal, and how large it is drawn."""
    blank = _blank_of(item)
    quantity = item.quantity if isinstance(item, Piece) else 1
    hand = item.hand if isinstance(item, Piece) else ""
    first = [speaker.say("draw.quantity", count=quantity)]
    first += [speaker.say(f"draw.hand_{hand}")] if hand else []
    first.append(speaker.say("draw.painted"))
    first.append(speaker.say("draw.overall", width=blank.width, height=blank.height))
    source = item if isinstance(item, Piece) else item.body
    second = []
    if source is not None:
        key = f"metals.{source.metal}"
        known = speaker.say(key) if speaker.knows(key) else source.metal
        second.append(speaker.say("draw.metal", metal=known, thick=source.thickness))
    return [speaker.say("draw.and").join(first), speaker.say("draw.and").join([*second, said])]


def _scale(view: View, speaker: Speaker) -> str:
    scale = FULL_SIZE / max(view.scale, 1e-9)
    said = f"1 : {scale:.1f}" if scale > 1.005 else f"{1 / scale:.1f} : 1"
    broken = bool(view.u.breaks or view.v.breaks)
    return speaker.say("draw.drawn_broken" if broken else "draw.drawn", scale=said)


def _blank_of(item: Item) -> Blank:
    if item.blank is None:
        raise ValueError(f"{item.id} has no blank")
    return item.blank


def _layers(blank: Blank, bends: Sequence[Bend], made: Laid) -> Iterator[str]:
    """The lines this card's legend explains."""
    yield "cut"
    if blank.cuts:
        yield "slit"
    if blank.holes:
        yield "hole"
    for way in ("up", "down"):
        if any(b.way == way for b in bends):
            yield f"bend-{way}"
    if bends:
        yield "balloon"
    yield "datum"
    if made.view is not None and (made.view.u.breaks or made.view.v.breaks):
        yield "break"
    if made.spots:
        yield "window"


def _grid(view: View) -> Iterator[Flat]:
    """Places on the metal, from its middle outward."""
    x0, y0, x1, y1 = view.frame
    for ring in (0.0, 0.2, 0.4, 0.6, 0.8):
        for du, dv in ((0, -1), (0, 1), (1, 0), (-1, 0), (1, 1), (-1, 1), (1, -1), (-1, -1)):
            at = ((x0 + x1 + ring * du * (x1 - x0)) / 2, (y0 + y1 + ring * dv * (y1 - y0)) / 2)
            if holds_metal(view, at):
                yield at
