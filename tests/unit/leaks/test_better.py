"""Which single change raises a way most: each prediction is held against the change really made in the job."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from lapwright.leaks import audit as auditing
from lapwright.leaks.better import Bench, Better, bench_of, improvements
from lapwright.leaks.seals import Seals, standard_seals
from lapwright.leaks.search import DECK, OUTSIDE, Crossing, weakest
from lapwright.leaks.telling import kind_of
from lapwright.metal.model import Body
from leaking import Case, cases_of, examples
from sabotage import lean, moved

BESIDE = (100.0, 0.0, 0.0)
"""A place with no corner near it. [in]"""


def bench(theta_deg: float = 30.0) -> Bench:
    """A roof with a square-faced opening, its one corner at the origin; patches reach 1 in and hold 3."""
    theta = math.radians(theta_deg)
    return Bench(math.sin(theta), math.cos(theta), (0.0, 0.0, 1.0), ((0.0, 0.0, 0.0),), 1.0, (3.0, "patch"))


def told(crossings: list[Crossing], theta_deg: float = 30.0) -> list[tuple[str, str, float]]:
    way = weakest(crossings, None)
    assert way is not None
    found = improvements(crossings, None, way, bench(theta_deg))
    return [(b.change, kind_of(b.at.seam.split(">")[0]), round(b.head, 3)) for b in found]


def test_the_change_that_raises_most_comes_first_and_one_that_gains_nothing_is_left_out() -> None:
    # Mouth at 10; hidden end at 10.5: a lap, 2 in longer at 30 degrees is 1 higher, 1.5; a bead of 2 on it gives
    # 2.5, one on the mouth 2: the bead on the end is best. A place at 3 ends what any can give.
    found = told([
        Crossing(OUTSIDE, "gap", 10.0, 10.0, 0.0, "1-back-pan>panel-6-side", BESIDE),
        Crossing("gap", DECK, 10.5, 10.5, 0.0, "1-side-wall-left>panel-6-side", BESIDE, shape="end"),
        Crossing(OUTSIDE, DECK, 13.0, 10.0, 0.0, "1-apron>wall", BESIDE, 1.0, shape="upturn"),
    ])  # fmt: skip
    assert found == [("seal", "side-wall", 2.5), ("seal", "back-pan", 2.0), ("lap", "side-wall", 1.5)]


def test_an_inch_more_upturn_counts_square_to_the_roof_and_is_no_seam_to_seal() -> None:
    # 1 in square to a roof of 60 degrees is cos 60 = .5 in of water up a square face.
    found = told([
        Crossing(OUTSIDE, DECK, 10.25, 10.0, 0.0, "1-apron>wall", BESIDE, 1.0, shape="upturn"),
        Crossing(OUTSIDE, DECK, 13.0, 10.0, 0.0, "1-back-pan>wall", BESIDE, 1.0, shape="upturn"),
    ], 60.0)  # fmt: skip
    assert found == [("upturn", "apron", 0.75)]


def test_a_longer_patch_covers_what_shows_beside_its_corner_and_no_further() -> None:
    # Patches reach 1 in; an inch more covers what lies within 2 of the corner: 1.9 up, not 2.2.
    def tab(up: float) -> list[Crossing]:
        at = (0.0, 0.0, up)
        return [Crossing(OUTSIDE, DECK, 10.0, 10.0, 2.0, "1-back-pan>1-side-wall-left", at, 0.0, how="bead")]

    assert told(tab(1.9)) == [("longer-patch", "back-pan", 3.0)]
    assert told(tab(2.2)) == []
    # Where a patch belongs and none holds it is a patch that is missing, not a longer one.
    assert told(tab(0.9)) == [("patch", "back-pan", 3.0)]


@pytest.mark.parametrize("over", ["panel-7-upper", "1-counterflashing-left"])
def test_sealing_what_has_to_slide_is_never_proposed(over: str) -> None:
    assert told([Crossing(OUTSIDE, DECK, 10.0, 10.0, 0.0, f"{over}>1-back-pan", BESIDE)]) == []


def test_the_edge_of_a_patch_is_no_upturn() -> None:
    edge = Crossing(OUTSIDE, DECK, 10.0, 9.0, 0.0, "1-corner-patch-back-left>edge", BESIDE, 0.0, shape="upturn")
    assert told([edge]) == []


# ---- predicted and made ---------------------------------------------------------------------------


def example(name: str) -> Case:
    return next(c for c in examples() if c.name.startswith(name))


def with_measures(case: Case, **measures: float) -> Case:
    """The same opening with other measures in its job: laid out, decided, folded and audited anew."""
    o = case.d.opening
    changed = [replace(x, measures=replace(x.measures, **measures)) if x.name == o.name else x  # type: ignore[arg-type]
               for x in case.site.openings]  # fmt: skip
    return next(c for c in cases_of(replace(case.site, openings=tuple(changed))) if c.d.opening.name == o.name)


def best(case: Case, how: str, change: str) -> Better:
    way = getattr(case.sound, how)
    level = case.sound.level if how == "standing" else None
    found = improvements(case.sound.crossings, level, way, bench_of(case.site, case.d))
    return next(b for b in found if b.change == change)


@pytest.mark.parametrize(
    ("name", "how", "change", "made"),
    [
        # A lap 2 in longer: the side panels run 6 + 2 past the back face; the pan 18 + 2, or 12 + 2, up from it.
        ("cider-barn", "running", "lap", {"overrun": 8.0}),
        ("forge-lean-to", "standing", "lap", {"extent": 20.0}),
        ("kiln-shed", "standing", "lap", {"extent": 14.0}),
        ("kiln-shed", "running", "lap", {"extent": 14.0}),
        # Patches of 2 reach 1 in from the corner; 1 in more each way makes them 4.
        ("boat-store", "standing", "longer-patch", {"patch": 4.0}),
        ("must-stop", "standing", "longer-patch", {"patch": 4.0}),
        ("orchard-studio", "standing", "longer-patch", {"patch": 4.0}),
    ],
)
def test_a_change_made_in_the_job_gives_the_head_that_was_said(
    name: str, how: str, change: str, made: dict[str, float]
) -> None:
    case = example(f"{name}:")
    said = best(case, how, change)
    assert said.head > getattr(case.sound, how).head
    assert getattr(with_measures(case, **made).sound, how).head == pytest.approx(said.head, abs=1e-6)


@pytest.mark.parametrize("case", [c for c in examples() if c.d.pipe is None], ids=lambda c: c.name)
def test_over_an_open_corner_a_patch_helps_most_and_gives_sound_work_again(case: Case) -> None:
    how = "running" if case.d.method == "cricket" else "standing"
    bare = replace(case, sound=case.as_feared("open-corner"))
    said = best(bare, how, "patch")
    assert said.gain > 0
    assert said.head == pytest.approx(getattr(case.sound, how).head, abs=0.05)


def an_inch_higher(body: Body, tan: float) -> Body:
    """The upper edge of an upstand an inch further off the roof, on its wall."""
    edge = max(p[2] for f in body.faces for p in f.corners) - 0.05
    return moved(body, lambda p: (p[0], p[1] + tan * (p[2] > edge), p[2] + 1.0 * (p[2] > edge)))


@pytest.mark.parametrize(("name", "how"), [("boat-store", "running"), ("orchard-studio", "standing"),
                                           ("orchard-studio", "running")])  # fmt: skip
def test_an_upstand_an_inch_higher_gives_the_head_that_was_said(name: str, how: str) -> None:
    low = with_measures(example(f"{name}:"), upstand=3.0)
    said = best(low, how, "upturn")
    assert kind_of(said.at.seam.split(">")[0]) == "side-wall"
    mine: Callable[[str], bool] = lambda k: "side-wall" in k  # noqa: E731
    higher = {k: an_inch_higher(b, lean(low)) if mine(k) else b for k, b in low.bodies.items()}
    assert getattr(low.audit(bodies=higher), how).head == pytest.approx(said.head, abs=1e-6)


@pytest.mark.parametrize(("name", "how", "lap"), [("boat-store", "standing", ("back-pan", "side-wall")),
                                                  ("kiln-shed", "standing", ("back-pan", "side-wall")),
                                                  ("weir-cottage", "running", ("cricket", "side-wall"))])  # fmt: skip
def test_a_bead_where_there_was_none_gives_the_head_that_was_said(
    name: str, how: str, lap: tuple[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def less(join: str) -> Seals:
        whole = standard_seals(join)
        return replace(whole, laps={k: v for k, v in whole.laps.items() if k != lap})

    def more(join: str) -> Seals:
        whole = standard_seals(join)
        return replace(whole, laps=dict(whole.laps) | {lap: "bead"})

    case = example(f"{name}:")
    monkeypatch.setattr(auditing, "standard_seals", less)
    bare = replace(case, sound=case.audit())
    said = best(bare, how, "seal")
    monkeypatch.setattr(auditing, "standard_seals", more)
    made: Any = getattr(case.audit(), how)
    assert made.head == pytest.approx(said.head, abs=1e-6)
