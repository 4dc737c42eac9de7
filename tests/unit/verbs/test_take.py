"""Taking away: names that are safe on every system, zips that are the same twice, a page by itself."""

from __future__ import annotations

import io
import unicodedata
import zipfile

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.verbs.jobs import example, worked_out
from lapwright.verbs.take import LONGEST_NAME, Taken, has_templates, name_of_files, take, zipped


@pytest.fixture(scope="module")
def taken() -> Taken:
    return take(worked_out(example("kiln-shed"), "job"))


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("Kiln shed", "Kiln-shed"), ("../../etc/passwd", "etc-passwd"), ("a\r\nb", "a-b"), ('x"; y=z', "x-y-z"),
        ("Chözegg 3½", "Chözegg-3½"), ("\u202egnp.exe", "gnp-exe"), ("<script>", "script"), ("...", "job"),
        ("", "job"), ("屋根", "屋根"),
    ],
)  # fmt: skip
def test_a_job_s_name_becomes_the_start_of_a_file_s(name: str, safe: str) -> None:
    assert name_of_files(name) == safe


@given(st.text())
def test_whatever_a_job_is_called_its_files_have_letters_digits_and_dashes(name: str) -> None:
    safe = name_of_files(name)
    assert 1 <= len(safe) <= LONGEST_NAME
    assert all(c == "-" or unicodedata.category(c)[0] in "LNM" for c in safe)


def test_a_zip_is_the_same_twice_and_opens_to_the_same_files() -> None:
    files = {"b/two.txt": b"2" * 1000, "a.txt": b"1"}
    zip = zipped(files, "roof")
    assert zip == zipped(dict(reversed(files.items())), "roof")
    with zipfile.ZipFile(io.BytesIO(zip)) as found:
        assert found.testzip() is None
        assert {i.filename: found.read(i) for i in found.infolist()} == {f"roof/{n}": c for n, c in files.items()}
        # the first moment a zip can tell
        assert {i.date_time for i in found.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_every_page_of_the_packet_has_a_name_and_can_be_taken_by_itself(taken: Taken) -> None:
    whole = pypdfium2.PdfDocument(taken.files["packet.pdf"])
    assert len(taken.sheets) == len(whole)
    number = 1 + taken.sheets.index("Takeoff")
    page = taken.page(number)
    assert page == taken.page(number)
    alone = pypdfium2.PdfDocument(page)
    assert len(alone) == 1
    assert alone[0].get_size() == pytest.approx(whole[number - 1].get_size(), abs=0.01)
    mine, theirs = (d[i].get_textpage().get_text_bounded().split() for d, i in ((alone, 0), (whole, number - 1)))
    assert sorted(mine) == sorted(theirs) and "Takeoff" in mine


@pytest.mark.parametrize("number", [0, -1, 1000])
def test_a_page_that_is_not_there_is_said(taken: Taken, number: int) -> None:
    with pytest.raises(KeyError):
        taken.page(number)


def test_whether_there_are_templates_is_known_before_they_are_made(taken: Taken) -> None:
    assert has_templates(worked_out(example("kiln-shed"), "job")) == ("templates.pdf" in taken.files)
