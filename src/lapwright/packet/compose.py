"""packet.pdf: the pages, set by the typesetter from plain data. The same job gives the same bytes.

The job's text goes in as data and is never read as markup. No clock, no fonts of the machine: the date
is fixed and the two faces used lie beside this file or inside the typesetter.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib.resources import as_file, files
from typing import Any, Literal

from lapwright.packet.contents import contents
from lapwright.packet.drawings import Drawing, draw_all
from lapwright.packet.worked import WorkedJob

Paper = Literal["us-letter", "a4"]

NEVER = 0
"""Creation time written into every packet, so that it does not change from run to run. [s since 1970]"""


class BadPage(Exception):
    """A page could not be set, or only with a warning: our bug."""


def compose(job: WorkedJob, paper: Paper | None = None, drawings: Sequence[Drawing] | None = None) -> bytes:
    """Set the whole packet.

    Args:
        job: A worked-out job, stopped or not; a stopped one is stamped on every page.
        paper: The sheet to print on; left out, Letter for a job in inches and A4 for one in mm. The
            pages are the same on both, only the margins differ.
        drawings: The job's drawings, when they are made already; made here, there is no cover picture.

    Returns:
        A PDF.

    Raises:
        BadPage: the typesetter refused or warned.
    """
    drawn = draw_all(job) if drawings is None else drawings
    return set_pages(contents(job, drawn), paper or usual_paper(job))


def usual_paper(job: WorkedJob) -> Paper:
    """Letter for a job in inches, A4 for one in mm."""
    return "us-letter" if job.site.units == "in" else "a4"


def sheet_names(job: WorkedJob, drawings: Sequence[Drawing], paper: Paper | None = None) -> list[str]:
    """What each page of the packet is called in its title block, in order.

    Raises:
        BadPage: the typesetter refused.
    """
    import typst

    with _typesetter(contents(job, drawings), paper or usual_paper(job), "main.typ") as typesetter:
        try:
            names = json.loads(typesetter.query("<sheet>", field="value"))
        except typst.TypstError as refused:
            raise BadPage(str(refused)) from refused
    return [str(name or "") for name in names]


def set_pages(data: dict[str, Any], paper: Paper, page: str = "main.typ") -> bytes:
    """Set already spoken contents (see contents.py and quote.py); page: the file under pages/ to start from."""
    import typst

    with _typesetter(data, paper, page) as typesetter:
        try:
            pdf, warnings = typesetter.compile_with_warnings(format="pdf", timestamp=NEVER)
        except typst.TypstError as refused:
            raise BadPage(str(refused)) from refused
    if warnings or not isinstance(pdf, bytes):
        raise BadPage("; ".join(str(w) for w in warnings))
    return pdf


@contextmanager
def _typesetter(data: dict[str, Any], paper: Paper, page: str) -> Iterator[Any]:
    """The typesetter, with the two faces and what is said."""
    import typst

    packet = files("lapwright.packet")
    with as_file(packet.joinpath("fonts")) as fonts, as_file(packet.joinpath("pages")) as pages:
        faces = typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[fonts])
        inputs = {"job": json.dumps(data), "paper": paper}
        yield typst.Compiler(pages / page, root=pages, font_paths=faces, sys_inputs=inputs)
