"""take: a worked-out job's packet in memory, whole or in parts, as a page hands it over."""

from __future__ import annotations

import io
import unicodedata
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from lapwright.job import Job
from lapwright.verbs.plan import packet_of

Paper = Literal["letter", "a4"]
PAPERS: tuple[Paper, ...] = ("letter", "a4")
LONGEST_NAME = 60
"""Letters of a job's name in the name of a file: some systems refuse long ones."""
_FIRST = (1980, 1, 1, 0, 0, 0)
"""The first moment a zip knows. The files in it carry no other, so that the same job gives the same bytes."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A packet.

    Attributes:
        files: As `plan` writes them, by their names inside the packet.
        paper: What its pages are printed on.
        sheets: What each page of packet.pdf is called.
        drawings: Each drawing's file name, without its ending, and its title.
    """

    files: Mapping[str, bytes]
    paper: Paper
    sheets: tuple[str, ...]
    drawings: tuple[tuple[str, str], ...]

    def page(self, number: int) -> bytes:
        """A page of packet.pdf by itself, from 1.

        Raises:
            KeyError: there is no such page.
        """
        from lapwright.store.one_page import one_page

        if not 1 <= number <= len(self.sheets):
            raise KeyError(number)
        return one_page(self.files["packet.pdf"], number, "a4" if self.paper == "a4" else "us-letter")

    def inside(self, folder: str) -> dict[str, bytes]:
        """The files of one folder of the packet; of the whole packet for ""."""
        return {name: content for name, content in self.files.items() if name.startswith(folder)}


def usual_paper(job: Job) -> Paper:
    """Letter for a job in inches, A4 for one in mm."""
    return "letter" if job.site.units == "in" else "a4"


def has_templates(job: Job) -> bool:
    """Is any cut no straight line from edge to edge, so that there is a templates.pdf?"""
    from lapwright.packet.templates import templates

    return bool(templates(job))


def take(job: Job, paper: Paper | None = None) -> Taken:
    """Make a job's packet, the same files `plan` writes.

    Args:
        job: A worked-out job.
        paper: What to print on; see `usual_paper`.
    """
    from lapwright.packet.compose import sheet_names

    paper = paper or usual_paper(job)
    files, drawings = packet_of(job, paper)
    sheets = sheet_names(job, drawings, "a4" if paper == "a4" else "us-letter")
    return Taken(files, paper, tuple(sheets), tuple((d.file, d.title) for d in drawings))


def zipped(files: Mapping[str, bytes], inside: str = "") -> bytes:
    """Files in one, always in the same order and with the same time.

    Args:
        files: By their names.
        inside: The folder they come out in.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as into:
        for name in sorted(files):
            entry = zipfile.ZipInfo(f"{inside}/{name}" if inside else name, _FIRST)
            entry.compress_type, entry.create_system, entry.external_attr = zipfile.ZIP_DEFLATED, 3, 0o644 << 16
            into.writestr(entry, files[name])
    return out.getvalue()


def name_of_files(job_name: str) -> str:
    """A job's name as the start of a file's: letters and digits of any language, dashes between.

    >>> name_of_files("Kiln shed / north")
    'Kiln-shed-north'
    """
    plain = unicodedata.normalize("NFC", job_name)
    words = "".join(c if unicodedata.category(c)[0] in "LNM" else " " for c in plain).split()
    return "-".join(words)[:LONGEST_NAME].strip("-") or "job"
