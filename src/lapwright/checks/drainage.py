"""Where the water goes upslope of an opening: does a book ask for a cricket, does a level trough ice up?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from lapwright.checks.case import Case
from lapwright.detail.choose import PLANNED
from lapwright.detail.model import OpeningDetail
from lapwright.findings import Finding
from lapwright.rules import cricket_asked, cricket_finding, finding


def cricket(case: Case) -> Iterator[Finding]:
    """Does the job's rule set ask for a cricket?

    A note where one is planned, so that the reason is printed; otherwise the finding stops the job, and
    where the job itself forces a flat pan it says so.
    """
    book, theta = case.site.weather.rule_set, case.site.roof.theta
    for d in case.detail.openings:
        o = d.opening
        if o.kind not in PLANNED:
            continue
        asked = cricket_asked(
            book,
            o.kind,
            o.width,
            math.degrees(theta),
            up_wall=_up_wall(d, theta),
            up_roof=(d.measures.extent or 0.0) * math.sin(theta),
        )
        if asked is not None:
            found = cricket_finding(o.name, book, *asked, flat_pan_asked=o.method == "flat-pan")
            yield replace(found, level="note") if d.method == "cricket" else found


def _up_wall(d: OpeningDetail, theta: float) -> float:
    """How far the flashing goes up the back face, as a rise. [in]"""
    up = min(d.measures.upstand, d.opening.height)
    return up / math.cos(theta) if d.opening.face == "plumb" else up * math.cos(theta)


def snow(case: Case) -> Iterator[Finding]:
    """Is a flat pan, a level trough, planned in snow country?"""
    if case.site.weather.snow:
        for d in case.detail.openings:
            if d.method == "flat-pan":
                yield finding("pan.snow", d.opening.name)
