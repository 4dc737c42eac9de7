"""How deep water stands behind one opening, and how deep its pan and laps allow."""

from __future__ import annotations

import math

from lapwright.detail.model import Water
from lapwright.layout.model import Bay
from lapwright.site.model import Defaults, Opening, Site
from lapwright.tables import rows
from lapwright.water.flow import INCH, channel_depth, trough

WALL_SHARE = 0.5
"""Share of a wall's face that counts as plan area for driven rain. Source: IPC 1106.4, from memory."""


def water_of(site: Site, opening: Opening, bay: Bay, m: Defaults, cricket: bool) -> Water:
    """Water behind one opening.

    Supply: rain on the roof upslope of the back face as wide as the opening, the roof above that drains here,
    and half the back face. A cricket leaves no level trough: depth 0, the supply runs off by both valleys.

    Source: closed form of water/flow.py; limit is a house rule.
    """
    theta = site.roof.theta
    tall = opening.height if opening.framed or opening.kind == "masonry-chimney" else 0.0
    run = site.roof.slope - opening.back + site.weather.roof_above + WALL_SHARE * tall / math.cos(theta)
    stands = trough(site.weather.rain, opening.width, run, theta)
    ratings = rows("ratings")
    limit = min(m.rib_turn_up or 0.0, float(ratings["bead"])) - float(ratings["less"])
    channel = min(opening.left - bay.left, bay.right - opening.right)
    side = channel_depth(stands.supply_gpm / 2, max(channel, INCH), theta) if stands.supply_gpm else 0.0
    return Water(
        supply_gpm=stands.supply_gpm,
        depth=0.0 if cricket else stands.depth,
        run_up=stands.run_up,
        design=stands.run_up if cricket else stands.design,
        limit=limit,
        reach=0.0 if cricket else stands.reach,
        side_depth=side,
    )
