"""What every drawing of a blank says of its item, and where on the paper its metal lies."""

from __future__ import annotations

from lapwright.draw.view import View
from lapwright.geom.space import Flat
from lapwright.metal.model import Piece, RoofPanel
from lapwright.words import Speaker

Item = Piece | RoofPanel


def title_of(item: Item, speaker: Speaker) -> str:
    """Id and name of a piece or a panel, as its drawings say them."""
    if isinstance(item, Piece):
        name = speaker.say(item.name) if speaker.knows(item.name) else item.name
        return speaker.say("draw.title_piece", id=item.id, name=name)
    return speaker.say(f"draw.title_{item.role}", id=item.id, strip=item.strip + 1)


def holds_metal(view: View, at: Flat) -> bool:
    """Does a point of the sheet lie on the metal (even-odd rule)? [pt]"""
    ring = [view.at(p) for p in view.blank.outline]
    odd = False
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (a[1] > at[1]) != (b[1] > at[1]) and at[0] < a[0] + (at[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1]):
            odd = not odd
    return odd
