"""What the title block and the stamp of every page are set from."""

from __future__ import annotations

from typing import Any

from lapwright import words
from lapwright.packet.identity import FORMAT, code_svg, code_text, job_hash
from lapwright.packet.say import breakable, shortened
from lapwright.packet.worked import WorkedJob


def title_block(job: WorkedJob, language: str = "en") -> dict[str, Any]:
    """Data for pages/frame.typ: the words of a page's frame, whose job it is, whether it must stop."""
    return {
        "w": labels("packet.label.", language),
        "name": breakable(job.site.name),
        "short_name": shortened(job.site.name, 24),
        "unit": job.site.units,
        "format": FORMAT,
        "hash": job_hash(job.site),
        "code": code_svg(code_text(job.site)),
        "stopped": job.stopped,
    }


def labels(start: str, language: str = "en") -> dict[str, str]:
    """Phrases whose keys begin so, by what follows."""
    return {k[len(start) :]: v for k, v in words.phrases(language).items() if k.startswith(start)}
