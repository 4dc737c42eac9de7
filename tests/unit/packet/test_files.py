"""The packet's files: all there, named safely, equal to plan.json, the same bytes twice."""

from __future__ import annotations

import io
import json
from dataclasses import replace

import ezdxf
import pytest

from hand_made import PIECES, HandMade, hand_made
from lapwright.packet.drawings import file_name
from lapwright.packet.files import packet_files


@pytest.fixture(scope="module")
def job() -> HandMade:
    # without steps: their phrases are another fixture's
    return replace(hand_made(), steps=())


@pytest.fixture(scope="module")
def files(job: HandMade) -> dict[str, bytes]:
    return packet_files(job)


def test_every_file_of_the_contract_is_there_and_nothing_else(files: dict[str, bytes]) -> None:
    names = set(files)
    papers = {"packet.pdf", "templates.pdf", "quote.pdf"}
    loose = papers | {"packet.html", "plan.json", "cutlist.csv", "takeoff.csv", "quote.csv", "model.glb"}
    assert loose <= names
    rest = names - loose
    assert {n.rpartition("/")[0] for n in rest} == {"drawings", "cut"}
    assert {n for n in rest if n.startswith("cut/")} == {f"cut/{i}.dxf" for i in ("P1", "C1", "K1", "U1", "sheet-1")}
    assert {f"drawings/{n}.svg" for n in ("roof", "opening-1", "blank-P1", "blank-U1")} <= rest


def test_every_file_is_the_same_twice(job: HandMade, files: dict[str, bytes]) -> None:
    again = packet_files(job)
    assert [n for n in files if files[n] != again[n]] == []
    assert set(files) == set(again)


@pytest.mark.parametrize("piece", ["P1", "C1", "K1"])
def test_a_blanks_cut_file_is_as_large_as_plan_json_says(files: dict[str, bytes], piece: str) -> None:
    row = next(p for p in json.loads(files["plan.json"])["pieces"] if p["id"] == piece)
    drawing = ezdxf.read(_lines(files[f"cut/{piece}.dxf"]))
    rings = [e for e in drawing.modelspace().query("LWPOLYLINE") if e.closed]
    widest = max(max(p[0] for p in r) - min(p[0] for p in r) for r in rings)
    highest = max(max(p[1] for p in r) - min(p[1] for p in r) for r in rings)
    assert widest == pytest.approx(row["blank"]["width"], abs=1e-3)
    assert highest == pytest.approx(row["blank"]["height"], abs=1e-3)


def _lines(dxf: bytes) -> io.StringIO:
    return io.StringIO(dxf.decode("utf-8").replace("\r\n", "\n"))


@pytest.mark.parametrize(
    ("given", "safe"),
    [("1-apron", "1-apron"), ("../../etc/x", "etc-x"), ("a b/c", "a-b-c"), ("..", "unnamed"), ("ß", "unnamed")],
)
def test_an_id_becomes_a_file_name_that_stays_in_its_folder(given: str, safe: str) -> None:
    assert file_name(given) == safe


def test_a_piece_with_a_wild_id_stays_in_its_folder() -> None:
    wild = replace(PIECES[1], id="../../up")
    names = packet_files(replace(hand_made(), pieces=(wild,), panels=(), steps=()))
    assert "cut/up.dxf" in names and not any(".." in n for n in names)
