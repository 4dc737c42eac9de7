"""Every file of a packet, by its name inside the packet's folder."""

from __future__ import annotations

from lapwright.draw.dxf import blank_to_dxf
from lapwright.packet.compose import compose
from lapwright.packet.drawings import cut_items, draw_all, file_name
from lapwright.packet.record import to_json
from lapwright.packet.sheets import cutlist_csv, takeoff_csv
from lapwright.packet.worked import WorkedJob


def packet_files(job: WorkedJob) -> dict[str, bytes]:
    """Make everything that is handed over; nothing is written here.

    Returns:
        plan.json, packet.pdf, cutlist.csv, takeoff.csv, drawings/*.svg, and cut/*.dxf (one per blank,
        1:1 in the job's unit). The same job gives the same bytes.
    """
    drawings = draw_all(job)
    out = {
        "plan.json": to_json(job),
        "packet.pdf": compose(job, drawings=drawings),
        "cutlist.csv": cutlist_csv(job),
        "takeoff.csv": takeoff_csv(job),
    }
    for d in drawings:
        out[f"drawings/{d.file}.svg"] = d.svg.encode("utf-8")
    for item in cut_items(job):
        if item.blank is not None:
            dxf = blank_to_dxf(item.id, item.blank, item.bends, job.site.units)
            out[f"cut/{file_name(item.id)}.dxf"] = dxf
    return out
