"""Rain that falls in a few minutes, by place: what a number for `[site] rain` may be taken from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from lapwright.tables import rows


@dataclass(frozen=True, slots=True)
class RainRow:
    """What falls at a place once in so many years. depths: by minutes. [in]  source: key of sources.py."""

    place: str
    years: int
    depths: Mapping[int, float]
    volume: str
    source: str

    def rate(self, minutes: int) -> float:
        """Intensity over so many minutes. [in/h]

        >>> round(rain_rows()["houston", 100].rate(5), 1)
        16.4
        """
        return self.depths[minutes] * 60.0 / minutes


@cache
def rain_rows() -> Mapping[tuple[str, int], RainRow]:
    """Every row by its key and its years, wettest 5 minutes first.

    Source: data/rain.toml, NOAA Atlas 14 by place.
    """
    found = {
        (key, int(years)): RainRow(
            row["place"],
            int(years),
            MappingProxyType({int(m): float(d) for m, d in depths.items()}),
            row["volume"],
            row["source"],
        )
        for key, row in rows("rain").items()
        for years, depths in row["depth"].items()
    }
    return MappingProxyType(dict(sorted(found.items(), key=lambda kv: -kv[1].depths[5])))
