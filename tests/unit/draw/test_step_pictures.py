"""A picture for every step of every roof: complete, legible, and true to the marks it draws."""

from __future__ import annotations

import math
from collections import Counter
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from shapely.geometry import Polygon
from shapely.strtree import STRtree

from lapwright.detail.pipe import rib_end
from lapwright.draw.display import SMALLEST_TEXT, Display, Text
from lapwright.draw.step_model import MarkView, StepView
from lapwright.draw.step_runs import Laid, laid_with
from lapwright.draw.svg import to_svg
from lapwright.job import Job, run
from lapwright.metal.panel import edge_at
from lapwright.metal.pipe_hole import axes
from lapwright.packet.model import Mark, Step
from lapwright.packet.say import Voice
from lapwright.packet.step_marks import EDGES, Pulled, letters_of, marks_of
from lapwright.packet.step_pictures import step_pictures, step_views
from lapwright.shop.beads import sealant_runs, tape_runs
from lapwright.shop.fixings import dam_screws, panel_fixings, screws
from lapwright.site.model import Opening, Panel, Roof, Site
from lapwright.site.read import read_job
from lapwright.words import Speaker, phrases

EXAMPLES = Path(__file__).parents[3] / "examples"
NAMES = sorted(p.parent.name for p in EXAMPLES.glob("*/job.toml"))


def invented(kind: str, lay: str, name: str, panel: float, left: float, work: str, count: int) -> Site:
    """A roof 60 ft long with narrow or wide panels, one opening or two, under a hostile name."""
    holes = tuple(
        Opening(f"{name}{k}", kind, left + 240 * k, 70, 23, 30, 40, "plumb", "flat-pan")  # type: ignore[arg-type]
        for k in range(count)
    )
    roof = Roof(7, 720, 210, work=work)  # type: ignore[arg-type]
    return Site("Barn", "in", roof, Panel(panel, 1.75, first_rib=6, lay=lay), openings=holes)  # type: ignore[arg-type]


INVENTED = {
    "narrow panels": invented("masonry-chimney", "left-to-right", "flue", 12, 92, "new", 1),
    "two openings": invented("skylight", "right-to-left", "light ", 18, 98, "new", 2),
    "long name": invented(
        "framed-chimney", "left-to-right", "<script>alert(1)</script> & " * 12, 19, 130, "existing", 2
    ),
}
CASES = [*NAMES, *INVENTED]


@cache
def job_of(case: str) -> Job:
    if case in INVENTED:
        return run(INVENTED[case])
    path = EXAMPLES / case / "job.toml"
    return run(read_job(path.read_text(encoding="utf-8"), str(path)))


@cache
def pictures_of(case: str) -> dict[int, Display]:
    return step_pictures(job_of(case))


def views_of(case: str) -> tuple[StepView, ...]:
    job = job_of(case)
    return step_views(job, Speaker(job.site.units))


def written(display: Display) -> Counter[str]:
    return Counter(t.text for t in display.texts())


@pytest.mark.parametrize("case", CASES)
def test_every_step_has_its_picture_of_a_size_that_shares_a_page(case: str) -> None:
    pictures = pictures_of(case)
    assert sorted(pictures) == [s.n for s in job_of(case).steps]
    # 6.9 by 3.6 inches
    assert all(p.width <= 6.9 * 72 and p.height <= 3.6 * 72 for p in pictures.values())


@pytest.mark.parametrize("case", CASES)
def test_no_two_steps_share_a_picture(case: str) -> None:
    # the heading says the number, so it is left out: what is drawn must differ
    seen: dict[str, int] = {}
    for n, display in pictures_of(case).items():
        marks = tuple(m for m in display.marks if not (isinstance(m, Text) and m.bold and m.size > 9))
        drawn = to_svg(Display(display.width, display.height, marks, display.pens))
        assert drawn not in seen, f"steps {seen.get(drawn)} and {n} are drawn alike"
        seen[drawn] = n


@pytest.mark.parametrize("case", CASES)
def test_no_text_lies_on_another_or_leaves_the_sheet_or_is_too_small(case: str) -> None:
    for n, display in pictures_of(case).items():
        texts = display.texts()
        boxes = [Polygon(t.box()) for t in texts]
        tree = STRtree(boxes)
        for i, box in enumerate(boxes):
            for k in (int(k) for k in tree.query(box) if k > i):
                shared = box.intersection(boxes[k]).area
                assert shared < 0.01, f"step {n}: {texts[i].text!r} lies on {texts[k].text!r}"
        assert min(t.size for t in texts) >= SMALLEST_TEXT
        x0, y0, x1, y1 = display.extents()
        assert x0 >= 0 and y0 >= 0 and x1 <= display.width and y1 <= display.height, f"step {n} leaves its sheet"


@pytest.mark.parametrize("case", CASES)
def test_every_mark_is_drawn_with_its_own_distance_and_letter(case: str) -> None:
    job = job_of(case)
    speaker = Speaker(job.site.units)
    for step in job.steps:
        said = written(pictures_of(case)[step.n])
        wanted = Counter(speaker.length(m.distance, feet=True) for m in step.marks)
        assert wanted <= said, f"step {step.n} lacks {wanted - said}"
        # once on the line, once in the list
        for letter in filter(None, letters_of(step)):
            assert said[letter] == 2, f"step {step.n}: letter {letter}"


@pytest.mark.parametrize("case", CASES)
def test_every_piece_that_goes_on_is_named(case: str) -> None:
    for view in views_of(case):
        said = " ".join(written(pictures_of(case)[view.n]))
        if view.now and f"{view.now[0]} – {view.now[-1]}" in said:
            continue  # strips narrower than a letter is high: first and last are named
        assert [n for n in view.now if n not in said] == [], f"step {view.n}"


@pytest.mark.parametrize("case", CASES)
def test_a_picture_with_pieces_has_a_distance_from_a_rib_the_eave_or_a_face(case: str) -> None:
    for view in views_of(case):
        if view.now:
            assert [m for m in view.marks if m.axis in ("x", "y")], f"step {view.n}"


def corners_of(job: Job, view: StepView, axis: str) -> list[float]:
    """Where, along an axis, the things that a step sets have their corners. [in]"""
    index = "xyz".index(axis)
    known = {p.id: p for p in job.detail.parts}
    out = [n.to_y for p in job.panels if p.id in view.now for n in p.notches] if axis == "y" else []
    for made in (*job.pieces, *job.panels):
        if made.id in view.now and made.body is not None:
            copies = known[made.id].copies if axis == "x" else (0.0,)
            out += [p[index] + k for f in made.body.faces for p in f.corners for k in copies]
        elif made.id in view.now:
            out += [p[index] for p in made.outline]  # type: ignore[union-attr]
    out += [p[index] for a in (*view.areas, *view.lines) for p in getattr(a, "ring", None) or a.points if axis != "z"]
    d = job.detail.openings[view.opening] if view.opening >= 0 else None
    if d is None or axis == "z":
        return out
    if d.pipe is not None:  # the ends of its hole, across and along
        middle, half = d.pipe.centre["xy".index(axis)], axes(d.pipe)["xy".index(axis)]
        out += [middle - half, middle + half, *([rib_end(d)] if axis == "y" and d.pipe.rib is not None else [])]
    # the cleat line is marked at its turns and in line with the opening's sides
    line = list(d.cleat_line)
    return out + [p[index] for p in (*line, *((x, edge_at(line, x)) for x in (d.opening.left, d.opening.right)))]


@pytest.mark.parametrize("case", CASES)
def test_every_arrow_ends_on_a_corner_of_what_the_step_sets(case: str) -> None:
    job = job_of(case)
    checked = 0
    for view in views_of(case):
        for m in view.marks:
            if m.axis == "wall" or not m.listed:
                continue
            found = corners_of(job, view, m.axis)
            # a tape's sixteenth; pan screws, hems and leaning edges stand no farther off
            nearest = min((abs(v - m.at) for v in found), default=99.0)
            assert nearest <= 1 / 16 + 1e-9, f"step {view.n}: {m.what} ends {nearest:.3f} beside everything"
            assert abs(abs(m.at - m.from_at) - m.distance) < 1e-9
            checked += 1
    assert checked >= len([s for s in job.steps if s.marks])


def test_a_mark_from_an_edge_that_is_not_in_the_table_is_refused() -> None:
    job = job_of("kiln-shed")
    stray = Pulled(Mark("steps.mark.rib", "steps.from.moon", 3.0), "rib")
    with pytest.raises(KeyError, match="moon"):
        marks_of(job, None, (), [stray])


def test_the_table_knows_every_edge_that_has_a_name() -> None:
    named = {key.rsplit(".", 1)[1] for key in phrases() if key.startswith("steps.from.")}
    assert named - set(EDGES) == set()


def test_the_standard_case_has_a_dozen_steps_each_with_tools_and_a_check() -> None:
    steps = job_of("kiln-shed").steps
    assert len(steps) >= 12
    assert [s.n for s in steps if not (s.tools and s.checks)] == []


@pytest.mark.parametrize("case", CASES)
def test_what_every_step_needs_can_be_said(case: str) -> None:
    job = job_of(case)
    voice = Voice(Speaker(job.site.units))
    for step in job.steps:
        lists = (step.tools, step.sealant, step.fasteners, step.checks)
        assert all(lists), f"step {step.n} {step.title} lacks a line"
        assert all(voice.say(key, step.values).endswith(".") for keys in lists for key in keys)


def test_patches_are_soldered_or_riveted_as_their_metal_asks() -> None:
    def tools(case: str) -> str:
        step = next(s for s in job_of(case).steps if s.title == "steps.patches.title")
        return step.tools[0]

    assert tools("chapel-cottage").endswith("tools_solder")  # copper
    assert tools("kiln-shed").endswith("tools_rivet")  # coated steel


def laid_in(job: Job) -> list[Laid]:
    """Everything that is gunned, taped and driven over all steps."""
    known = {p.id: p for p in job.detail.parts}
    made = {p.id: p for p in (*job.pieces, *job.panels)}
    return [r for s in job.steps for n in s.pieces for r in laid_with(job.site, job.detail, known[n], made[n])]


def length(runs: list[Laid], use: str) -> float:
    lines = [r.points for r in runs if r.use == use and r.kind != "screw"]
    return sum(math.dist(p, q) for ps in lines for p, q in pairwise(ps))


@pytest.mark.parametrize("case", ["kiln-shed", "orchard-studio", "two openings"])
def test_the_fixings_drawn_are_the_fixings_bought(case: str) -> None:
    job = job_of(case)
    runs = laid_in(job)
    drawn = Counter({r.use: 0 for r in runs})
    for r in runs:
        if r.kind == "screw":
            drawn[r.use] += len(r.points)
    for row in (*screws(job.detail, job.pieces), *dam_screws(job.detail, job.panels)):
        assert drawn[row.use] == row.count, row.use
    # the takeoff also counts a leading leg at a roof edge, and one beside an opening as long as its panel
    held = panel_fixings(job.site, job.panels)
    assert 0.88 * held.count <= drawn[held.use] <= held.count


@pytest.mark.parametrize("case", ["kiln-shed", "orchard-studio", "two openings"])
def test_the_beads_and_tapes_drawn_are_those_counted(case: str) -> None:
    job = job_of(case)
    runs = laid_in(job)
    counted = {r.use: r.length for r in (*sealant_runs(job.detail, job.pieces), *tape_runs(job.pieces, job.panels))}
    # the same lines: exact. Hems lie beside the cleat line, tapes on the cleats' bases: shorter by their mitres.
    for use in ("bead-pan-ribs", "bead-pan-laps", "tape-side-panels", "tape-hook-strips"):
        assert length(runs, use) == pytest.approx(counted[use], rel=0.01), use
    for use in ("bead-hems", "tape-side-hems"):
        assert length(runs, use) == pytest.approx(counted[use], rel=0.08), use
    assert 0.8 * counted["tape-cleats"] < length(runs, "tape-cleats") <= counted["tape-cleats"]


def test_marks_of_both_hands_mirror_each_other() -> None:
    # 4 + one sheet (0.0255) out from each side of a stack at 102 1/2 to 126
    view = next(v for v in views_of("kiln-shed") if "1-side-wall-left" in v.now)
    sides = [m for m in view.marks if m.axis == "x"]
    assert [(m.from_at, round(m.at, 4)) for m in sides] == [(102.5, 98.4745), (126.0, 130.0255)]


def test_distances_that_only_place_the_picture_have_no_letter() -> None:
    patches = next(v for v in views_of("kiln-shed") if "1-corner-patch-back-left" in v.now)
    # the stack stands 5 1/2 from the bay's left rib at 97
    assert patches.marks == (MarkView("x", 97.0, 102.5, pytest.approx(86.3), 5.5, "", "here", False),)
    step: Step = job_of("kiln-shed").steps[patches.n - 1]
    assert letters_of(step) == ()
