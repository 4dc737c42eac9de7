"""water: how deep it stands behind each opening, and the rain table."""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from lapwright.detail.choose import choose
from lapwright.detail.model import OpeningDetail
from lapwright.layout.lay_out import lay_out
from lapwright.site.model import Site
from lapwright.site.read import read_job
from lapwright.store.inbox import read_job_file
from lapwright.water.flow import gathering
from lapwright.water.rain import rain_rows
from lapwright.words import Speaker


@dataclass(frozen=True, slots=True)
class WaterReport:
    """What is said, line by line, and the same as plain values (inches, gallons a minute)."""

    lines: tuple[str, ...]
    record: dict[str, Any]


def water(job_text: str | bytes, filename: str) -> WaterReport:
    """Work out the water behind every opening of a job.

    Args:
        job_text: The job file (TOML).
        filename: What to call it in a problem.

    Raises:
        JobProblems: the job cannot be read or makes no sense.
    """
    site = read_job(job_text, filename)
    detail = choose(site, lay_out(site))
    speaker = Speaker(site.units)
    planned = [d for d in detail.openings if d.water is not None]
    lines = [line for d in planned for line in (*opening_lines(site, d, speaker), "")]
    lines += [speaker.say("leaks.water.unplanned", name=d.opening.name) for d in detail.openings if d.water is None]
    lines += [speaker.say("leaks.water.uncertain"), "", *rain_table(speaker)]
    record = {
        "job": site.name,
        "rain": site.weather.rain,
        "openings": [{"name": d.opening.name, "method": d.method, **asdict(d.water)} for d in planned if d.water],
        "rain_table": [
            {"place": r.place, "years": r.years, "minutes": m, "depth": r.depths[m], "rate": r.rate(m)}
            for r in rain_rows().values()
            for m in sorted(r.depths)
        ],
    }
    return WaterReport(tuple(lines), record)


def water_file(path: Path) -> WaterReport:
    """The same from the job file on the disk.

    Raises:
        JobProblems: it cannot be read or makes no sense.
    """
    return water(read_job_file(path, str(path)), str(path))


def opening_lines(site: Site, d: OpeningDetail, speaker: Speaker) -> list[str]:
    """What is said of the water behind one opening; a title, then a line for each figure."""
    w, rain = d.water, site.weather.rain
    assert w is not None
    say, theta = speaker.say, site.roof.theta
    run = site.roof.slope - d.opening.back + site.weather.roof_above
    minutes = gathering(run, rain * math.cos(theta), math.sin(theta))
    stands = ("level_depth", {"depth": w.depth, "reach": w.reach}) if w.depth > 0 else ("dry", {})
    rows: list[tuple[str, dict[str, float]]] = [
        ("rain", {"rain": rain}),
        ("supply", {"gpm": w.supply_gpm}),
        ("gathers", {"minutes": minutes}),
        stands,
        ("run_up", {"run_up": w.run_up}),
        ("design", {"design": w.design}),
        ("limit", {"limit": w.limit}),
        ("side", {"depth": w.side_depth}),
    ]
    head = say("leaks.water.title", name=d.opening.name)
    return [head, *(f"  {say(f'leaks.water.{key}', **values)}" for key, values in rows)]


def rain_table(speaker: Speaker) -> list[str]:
    """The rain table, one line a place and a return period."""
    out = [speaker.say("leaks.water.table")]
    for row in rain_rows().values():
        cells = [speaker.say("leaks.water.cell", minutes=m, rate=row.rate(m)) for m in sorted(row.depths)]
        out.append("  " + speaker.say("leaks.water.row", place=row.place, years=row.years, rates=", ".join(cells)))
    return [*out, speaker.say("leaks.water.hour")]
