"""The rain table: depths as printed, rates from them."""

import pytest

from lapwright import sources
from lapwright.water.rain import rain_rows


def test_a_rate_is_the_depth_by_the_hour() -> None:
    # 1.37 in in 5 minutes is 16.44 in/h; 4.38 in in an hour is 4.38.
    assert rain_rows()["houston", 100].rate(5) == pytest.approx(16.44)
    assert rain_rows()["fort-myers", 100].rate(60) == pytest.approx(4.38)


def test_five_minutes_rain_harder_than_an_hour_by_what_the_page_says() -> None:
    # 13.8 / 4.38 = 3.15 and 9.864 / 3.13 = 3.15: "3.1 to 3.3".
    for row in (rain_rows()["fort-myers", years] for years in (10, 100)):
        assert 3.1 <= row.rate(5) / row.rate(60) <= 3.3


def test_longer_rain_is_weaker_and_rarer_rain_is_harder() -> None:
    for row in rain_rows().values():
        rates = [row.rate(m) for m in sorted(row.depths)]
        assert rates == sorted(rates, reverse=True)
    for (key, years), row in rain_rows().items():
        if years == 10:
            assert row.depths[5] < rain_rows()[key, 100].depths[5]


def test_every_row_names_its_source() -> None:
    assert {row.source for row in rain_rows().values()} <= set(sources.sources())
