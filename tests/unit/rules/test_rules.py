"""Every rule has its words, its source and a boundary that cuts where its document says."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright import rules, sources
from lapwright.words import Speaker, phrases

ALL = tuple(rules.rules().values())
WITH_LIMIT = tuple(r for r in ALL if r.limit is not None)
SAMPLE = {
    "where": "flue stack",
    "yours": 29.0,
    "limit": 30.0,
    "document": "a code",
    "section": "1",
    "printed": "30 in",
    "past": "findings.cricket.past.over",
    "reason": "findings.cricket.off.tall",
    "metal": "metals.steel-24",
    "other": "metals.copper-16",
    "rib": 78.0,
    "diameter": 8.0,
    "gap": 1.0,
    "first": 7.5,
    "next": 8.75,
    "what": "ribs.what.waste",
    "more": 2,
    "side": "findings.side.left",
    "relief": 19.0,
    "kind": "pipe",
    "pieces": "a, b",
    "part": "findings.part.apron",
    "piece": "pieces.apron",
    "bend": "base/tongue",
    "count": 3,
    "water": "leaks.water.standing",
    "over": "pieces.apron",
    "under": "leaks.sheet.side",
    "x": 92.0,
    "y": 103.0,
}


@pytest.mark.parametrize("row", ALL, ids=lambda r: r.id)
def test_a_rule_has_its_words_and_its_source(row: rules.Rule) -> None:
    for key in ("name", "asks", "why"):
        assert Speaker().say(f"rules.{row.id}.{key}", limit=row.limit)
    for key in ("says", "cure"):
        assert Speaker().say(f"findings.{row.id}.{key}", **SAMPLE)
    assert row.source == sources.HOUSE or row.source in sources.sources()
    assert (row.seen == "house rule") == (row.source == sources.HOUSE)
    assert rules.cite(row)


def test_no_sentence_belongs_to_a_rule_that_is_not_there() -> None:
    own = {f"findings.{r.id}.{key}" for r in ALL for key in ("says", "cure")}
    own |= {f"rules.{r.id}.{key}" for r in ALL for key in ("name", "asks", "why")}
    spare = (
        "findings.side.",
        "findings.part.",
        "findings.cricket.past.",
        "findings.cricket.off.",
        "findings.cricket.tall",
        "rules.seen.",
        "rules.level.",
        "rules.cite",
        "rules.house",
        "rules.unknown",
        "rules.explained",
    )
    said = {k for k in phrases() if k.startswith(("findings.", "rules."))}
    assert sorted(k for k in said - own if not k.startswith(spare)) == []


@pytest.mark.parametrize("word", ["complies", "compliant", "compliance"])
def test_nothing_here_says_that_a_roof_complies(word: str) -> None:
    assert [k for k, text in phrases().items() if word in text.lower()] == []


@pytest.mark.parametrize("row", WITH_LIMIT, ids=lambda r: r.id)
def test_the_limit_itself_is_kept(row: rules.Rule) -> None:
    assert row.limit is not None
    assert not rules.breaks(row, row.limit)


@pytest.mark.parametrize("row", WITH_LIMIT, ids=lambda r: r.id)
def test_a_hair_past_the_limit_is_not_a_break_but_a_thousandth_is(row: rules.Rule) -> None:
    assert row.limit is not None
    past = -1 if row.sense in ("min", "below") else 1
    assert not rules.breaks(row, row.limit + past * 1e-9)
    assert rules.breaks(row, row.limit + past * 1e-3)


@given(st.floats(0, 100), st.floats(0, 100))
def test_asking_at_least_and_biting_below_cut_the_same_way(limit: float, measured: float) -> None:
    least = rules.with_limit("stock.width", limit)
    most = rules.with_limit("room.upslope", limit)
    assert not (rules.breaks(least, measured) and rules.breaks(most, measured))


def test_a_rule_without_a_limit_cannot_be_measured_against() -> None:
    with pytest.raises(ValueError, match="no limit"):
        rules.breaks(rules.rule("stock.width"), 1.0)
    with pytest.raises(ValueError, match="not decided by a number"):
        rules.breaks(rules.with_limit("order.cycle", 1.0), 1.0)


def test_a_chimney_of_exactly_30_needs_no_cricket_and_one_sixteenth_more_does() -> None:
    assert rules.cricket_asked("irc-2021", "masonry-chimney", 30.0, 30.0) is None
    asked = rules.cricket_asked("irc-2021", "masonry-chimney", 30.0625, 30.0)
    assert asked is not None
    assert (asked[0].limit, asked[0].edition, asked[0].level, asked[1]) == (30.0, "2021", "stop", 30.0625)


def test_where_the_book_says_wider_or_equal_the_limit_itself_bites() -> None:
    assert rules.cricket_asked("regional-24", "curb", 24.0, 30.0) is not None
    assert rules.cricket_asked("regional-24", "curb", 23.9375, 30.0) is None


def test_a_unit_skylight_is_let_off_by_the_model_codes_only() -> None:
    assert rules.cricket_asked("irc-2021", "skylight", 44.0, 30.0) is None
    assert rules.cricket_asked("house", "skylight", 44.0, 30.0) is not None


def test_ontario_speaks_of_chimneys_only() -> None:
    assert rules.cricket_asked("obc-2012", "curb", 60.0, 30.0) is None
    assert rules.cricket_asked("obc-2012", "framed-chimney", 60.0, 30.0) is not None


def test_ontario_lets_off_a_chimney_flashed_a_sixth_of_its_width() -> None:
    # W 48: W/6 = 8, more than 150 mm (5.906). 8 up wall and roof let it off; 7 15/16 up either does not.
    def asked(up_wall: float, up_roof: float) -> bool:
        found = rules.cricket_asked("obc-2012", "masonry-chimney", 48.0, 30.0, up_wall, up_roof)
        return found is not None

    assert not asked(8.0, 8.0)
    assert asked(7.9375, 8.0)
    assert asked(8.0, 7.9375)


def test_new_zealand_asks_by_slope_too_and_says_which() -> None:
    by_slope = rules.cricket_asked("nz-cop-3", "curb", 10.0, 9.9)
    assert by_slope is not None
    assert (by_slope[0].id, by_slope[0].limit, by_slope[0].unit, by_slope[1]) == (
        "cricket.low-pitch",
        10,
        "deg",
        9.9,
    )
    assert rules.cricket_asked("nz-cop-3", "curb", 10.0, 10.0) is None


def test_a_forced_flat_pan_is_a_stop_that_names_the_book() -> None:
    asked = rules.cricket_asked("obc-2012", "masonry-chimney", 32.0, 30.0)
    assert asked is not None
    found = rules.cricket_finding("flue stack", "obc-2012", *asked, flat_pan_asked=True)
    assert (found.rule, found.level, found.source, found.measured) == (
        "method.forbidden",
        "stop",
        "obc",
        32.0,
    )
    assert "Ontario Building Code" in rules.says(found, Speaker())
    assert rules.cure(found, Speaker())


def test_the_sentence_names_the_books_own_number() -> None:
    for book, words in (("obc-2012", "anything wider than 750 mm"), ("regional-24", "a width of 24 in")):
        asked = rules.cricket_asked(book, "masonry-chimney", 40.0, 30.0)
        assert asked is not None
        found = rules.cricket_finding("flue stack", book, *asked, flat_pan_asked=False)
        assert words in rules.says(found, Speaker())


def test_a_finding_carries_the_row_and_the_job() -> None:
    found = rules.finding("headlap", "flue stack", 2.5, part="findings.part.back-pan")
    assert (found.rule, found.level, found.measured, found.limit, found.unit) == (
        "headlap",
        "stop",
        2.5,
        3.0,
        "in",
    )
    assert (found.source, found.edition) == ("ufgs-07-60-00", "about 2003")
    assert found.mended == "findings.headlap.cure"
    assert rules.says(found, Speaker()) == (
        'flue stack: the headlap of the back pan under the panels above is 2-1/2"; 3" is asked.'
    )
    assert rules.says(found, Speaker("mm")) == (
        "flue stack: the headlap of the back pan under the panels above is 63.5 mm; 76.2 mm is asked."
    )


def test_a_finding_may_be_milder_than_its_row() -> None:
    assert rules.finding("metals.contact", "apron", level="caution").level == "caution"


def test_an_unknown_rule_is_our_bug_in_a_stage() -> None:
    with pytest.raises(KeyError):
        rules.finding("hedlap", "x")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("headlaps", "headlap"),
        ("stock_width", "stock.width"),
        ("RIB.CORNER", "rib.corner"),
        ("cricket", "cricket.required"),
        ("lift", "panel.lift"),
        ("", None),
        ("qqqq", None),
    ],
)
def test_the_nearest_name_is_offered(typed: str, meant: str | None) -> None:
    assert rules.nearest(typed) == meant
