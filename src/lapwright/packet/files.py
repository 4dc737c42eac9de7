"""Every file of a packet, by its name inside the packet's folder."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from lapwright.draw.dxf import blank_to_dxf
from lapwright.draw.dxf_sheet import Marks, sheet_to_dxf
from lapwright.geom.clip import Line
from lapwright.metal.marks import cleat_marks
from lapwright.metal.model import Piece, RoofPanel
from lapwright.packet.compose import Paper, compose, usual_paper
from lapwright.packet.contents import contents
from lapwright.packet.drawings import Drawing, cut_items, draw_all, draw_sheets, file_name
from lapwright.packet.offline import packet_html
from lapwright.packet.quote import quote_csv, quote_pdf
from lapwright.packet.record import to_json
from lapwright.packet.scene import model_glb, nodes_of
from lapwright.packet.sheets import cutlist_csv, takeoff_csv
from lapwright.packet.templates import templates, templates_pdf
from lapwright.packet.worked import WorkedJob
from lapwright.shop.nest.job import JobNest

Papers = Literal["letter", "a4", "both"]


def packet_files(
    job: WorkedJob, papers: Papers | None = None, drawings: Sequence[Drawing] | None = None
) -> dict[str, bytes]:
    """Make everything that is handed over; nothing is written here.

    Args:
        job: A worked-out job.
        papers: What to print on; left out, Letter for a job in inches and A4 for one in mm. "both" adds a
            second PDF that names its paper.
        drawings: Its drawings, when they are made already (see drawings.draw_all).

    Returns:
        plan.json, packet.pdf, packet.html, templates.pdf (none where every blank is a plain rectangle), quote.pdf,
        model.glb, cutlist.csv, takeoff.csv, quote.csv, drawings/*.svg, and cut/*.dxf (one per blank and one per sheet
        of the cutting plan, 1:1 in the job's unit). The same job gives the same bytes.
    """
    drawn = draw_all(job, tuple(nodes_of(job))) if drawings is None else drawings
    pages = page_files(job, papers, drawn) | offline_file(job, drawn)
    return pages | drawing_files(drawn) | told_files(job, papers) | metal_files(job)


def page_files(job: WorkedJob, papers: Papers | None, drawings: Sequence[Drawing]) -> dict[str, bytes]:
    """packet.pdf, once or twice."""
    return {f"packet{end}.pdf": compose(job, paper, drawings) for end, paper in _pdfs(job, papers)}


def drawing_files(drawings: Sequence[Drawing]) -> dict[str, bytes]:
    """drawings/*.svg."""
    return {f"drawings/{d.file}.svg": (d.whole or d.svg).encode("utf-8") for d in drawings}


def offline_file(job: WorkedJob, drawings: Sequence[Drawing]) -> dict[str, bytes]:
    """packet.html, the pages of packet.pdf for a telephone."""
    return {"packet.html": packet_html(contents(job, drawings))}


def told_files(job: WorkedJob, papers: Papers | None) -> dict[str, bytes]:
    """What tells the findings, the cutting plan, the takeoff and the price, and needs no drawing."""
    true_size = templates(job)
    out = {"plan.json": to_json(job)}
    for end, paper in _pdfs(job, papers):
        out[f"quote{end}.pdf"] = quote_pdf(job, paper)
        if true_size:
            out[f"templates{end}.pdf"] = templates_pdf(job, true_size, paper)
    out |= {"cutlist.csv": cutlist_csv(job), "takeoff.csv": takeoff_csv(job), "quote.csv": quote_csv(job)}
    return out | _sheet_dxfs(job, job.cutting, {item.id: marks_on(job, item) for item in cut_items(job)})


def metal_files(job: WorkedJob) -> dict[str, bytes]:
    """What shows the metal alone: the model and every blank to cut."""
    out = {"model.glb": model_glb(job)}
    for item in cut_items(job):
        if item.blank is not None:
            dxf = blank_to_dxf(item.id, item.blank, item.bends, job.site.units, marks_on(job, item))
            out[f"cut/{file_name(item.id)}.dxf"] = dxf
    return out


def sheet_files(job: WorkedJob, cutting: JobNest) -> dict[str, bytes]:
    """The drawings and cutting files of a cutting plan alone, one of each for every sheet."""
    marks = {p.id: marks_on(job, p) for p in job.pieces}
    drawn = {f"drawings/{d.file}.svg": d.svg.encode("utf-8") for d in draw_sheets(cutting, job.site.units)}
    return drawn | _sheet_dxfs(job, cutting, marks)


def _sheet_dxfs(job: WorkedJob, cutting: JobNest, marks: Marks) -> dict[str, bytes]:
    sheets = enumerate(cutting.sheets, 1)
    return {f"cut/sheet-{n}.dxf": sheet_to_dxf(sheet, job.site.units, marks) for n, sheet in sheets}


def marks_on(job: WorkedJob, item: Piece | RoofPanel) -> tuple[Line, ...]:
    """What is scribed on a blank: the cleat line on a pan."""
    own = (d for d in job.detail.openings if d.opening.name == item.opening)
    return tuple(m for d in own if isinstance(item, Piece) for m in cleat_marks(item, d.cleat_line))


def _pdfs(job: WorkedJob, papers: Papers | None) -> list[tuple[str, Paper]]:
    """End of the file name, and the paper, of every PDF."""
    usual = usual_paper(job)
    if papers is None:
        return [("", usual)]
    if papers != "both":
        return [("", "a4" if papers == "a4" else "us-letter")]
    other: tuple[str, Paper] = ("-letter", "us-letter") if usual == "a4" else ("-a4", "a4")
    return [("", usual), other]
