"""Take away: the files `plan` writes, made once, named after their job; a sentence where there is none."""

from __future__ import annotations

import asyncio
import io
import threading
import zipfile
from collections.abc import Iterator
from pathlib import Path

import httpx
import pypdfium2
import pytest

from lapwright.store.shelf import Kept, Shelf
from lapwright.verbs.jobs import example, examples
from lapwright.verbs.plan import plan
from lapwright.web import making
from lapwright.web.making import Making
from lapwright.web.working import Working
from page_server import page

Served = tuple[httpx.Client, Shelf]


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    with page(tmp_path) as both:
        yield both


@pytest.fixture
def kiln(served: Served) -> Kept:
    return served[1].add(example("kiln-shed"), "")


@pytest.mark.parametrize("case", examples())
def test_what_is_taken_is_what_the_command_line_writes(served: Served, case: str) -> None:
    browser, shelf = served
    kept = shelf.add(example(case), case)
    files = dict(plan(example(case), "job.toml").files)
    answer = browser.get(f"/jobs/{kept.id}/take/packet.zip")
    with zipfile.ZipFile(io.BytesIO(answer.content)) as found:
        assert {n.partition("/")[2]: found.read(n) for n in found.namelist()} == files
    for name in ("packet.pdf", "packet.html", "plan.json", "model.glb", "takeoff.csv"):
        assert browser.get(f"/jobs/{kept.id}/take/{name}").content == files[name]
    with zipfile.ZipFile(io.BytesIO(browser.get(f"/jobs/{kept.id}/take/cut.zip").content)) as found:
        assert {n: found.read(n) for n in found.namelist()} == {n: c for n, c in files.items() if n[:4] == "cut/"}


def test_the_other_paper_is_the_command_line_s_too(served: Served, kiln: Kept) -> None:
    files = plan(example("kiln-shed"), "job.toml", "both").files
    answer = served[0].get(f"/jobs/{kiln.id}/take/packet.pdf?paper=a4")
    assert answer.content == files["packet-a4.pdf"]
    assert 'filename="Kiln-shed-packet-a4.pdf"' in answer.headers["content-disposition"]


def test_a_file_is_named_after_its_job_and_kept_by_nobody_on_the_way(served: Served) -> None:
    browser, shelf = served
    kept = shelf.add(example("kiln-shed").replace('"Kiln shed"', "\"Höfli; /x 'N'\""), "")
    headers = browser.get(f"/jobs/{kept.id}/take/takeoff.csv").headers
    # RFC 6266: ö as its two bytes of UTF-8 in the second, left out of the first
    named = "attachment; filename=\"Hfli-x-N-takeoff.csv\"; filename*=UTF-8''H%C3%B6fli-x-N-takeoff.csv"
    assert headers["content-disposition"] == named
    assert headers["cache-control"] == "no-store"
    assert headers["content-type"] == "text/csv; charset=utf-8"


def test_a_page_is_taken_by_itself(served: Served, kiln: Kept) -> None:
    alone = pypdfium2.PdfDocument(served[0].get(f"/jobs/{kiln.id}/take/page/1").content)
    assert len(alone) == 1 and "Kiln shed" in alone[0].get_textpage().get_text_bounded()


@pytest.mark.parametrize("what", ["nothing.pdf", "page/9999", "page/0", "cut/", "..%2Fjob.toml", "drawings/no.svg"])
def test_what_is_not_there_is_a_sentence(served: Served, kiln: Kept, what: str) -> None:
    answer = served[0].get(f"/jobs/{kiln.id}/take/{what}")
    assert answer.status_code in (404, 422) and "<h1>" in answer.text


def test_a_job_that_cannot_be_planned_has_its_problems_instead(served: Served) -> None:
    browser, shelf = served
    kept = shelf.add('[job]\nname = "Half <b>"\n', "")
    answer = browser.get(f"/jobs/{kept.id}/take")
    assert "the table [roof] is missing" in answer.text and "<b>" not in answer.text
    assert browser.get(f"/jobs/{kept.id}/take/packet.pdf").status_code == 422


def test_a_job_that_must_stop_says_so_and_its_pages_are_stamped(served: Served) -> None:
    browser, shelf = served
    kept = shelf.add(example("must-stop"), "")
    assert "DO NOT CUT" in browser.get(f"/jobs/{kept.id}/take").text
    pdf = pypdfium2.PdfDocument(browser.get(f"/jobs/{kept.id}/take/packet.pdf").content)
    assert all("DO NOT CUT" in one.get_textpage().get_text_bounded() for one in pdf)


def test_who_asks_while_it_is_made_gets_the_same_packet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shelf = Shelf(tmp_path)
    kept = shelf.add(example("kiln-shed"), "")
    made: list[object] = []
    hold = threading.Event()

    def slow(job: object, paper: object) -> object:
        made.append(threading.current_thread().name)
        hold.wait(5)
        return made

    monkeypatch.setattr(making, "take", slow)
    desk = Making(Working())

    async def both() -> None:
        first, second = (asyncio.create_task(desk.packet(kept)) for _ in range(2))
        await asyncio.sleep(0.2)
        # the loop goes on meanwhile, and one who leaves does not take the packet along
        first.cancel()
        hold.set()
        assert await second is made
        assert await desk.packet(kept) is made

    asyncio.run(both())
    assert len(made) == 1 and str(made[0]).startswith("packet")
    shelf.close()


def test_a_packet_that_fails_is_said_and_made_again_when_asked_again(
    served: Served, kiln: Kept, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(job: object, paper: object) -> object:
        raise MemoryError("secret")

    real = making.take
    monkeypatch.setattr(making, "take", broken)
    answer = served[0].get(f"/jobs/{kiln.id}/take/packet.pdf")
    assert answer.status_code == 500
    assert "The packet could not be made" in answer.text and "secret" not in answer.text
    assert "secret" in capsys.readouterr().err
    listed = served[0].get(f"/jobs/{kiln.id}/take/single")
    assert listed.status_code == 200 and 'role="alert"' in listed.text
    monkeypatch.setattr(making, "take", real)
    assert served[0].get(f"/jobs/{kiln.id}/take/packet.pdf").status_code == 200
