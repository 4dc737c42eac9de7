"""step: a job file in, STEP files of its folded pieces out. Needs the optional solid kernel."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from lapwright.errors import LapwrightError
from lapwright.geom.space import Point, add
from lapwright.job import Job, run
from lapwright.metal.develop import develop
from lapwright.metal.model import Piece
from lapwright.metal.place import shift
from lapwright.metal.step import NotOneSheet, Placed, bent_volume, solid_volume, to_assembly, to_step
from lapwright.metal.work import at_bench
from lapwright.packet.drawings import file_name
from lapwright.site.read import read_job
from lapwright.store.inbox import read_job_file
from lapwright.store.loose import write_loose
from lapwright.words import Speaker

ASSEMBLY = "assembly"
"""Name of the file that holds all pieces in their places."""

CUBIC_CM = 2.54**3
"""Cubic centimetres to the cubic inch."""


class NoKernel(LapwrightError):
    """The optional solid kernel is not installed; the sentence says how to get it."""


class NoSuchPiece(LapwrightError):
    """No folded piece of that id; the sentence names those there are."""


class NotASolid(LapwrightError):
    """A folded piece is not one solid (our bug, told without a traceback)."""


@dataclass(frozen=True, slots=True)
class Volume:
    """A piece's volume: as the kernel measures the folded solid, and by its blank and bends on paper. [in3]"""

    id: str
    solid: float
    paper: float


@dataclass(frozen=True, slots=True)
class Solids:
    """The files by name, the volumes of the pieces, and the job that they are from."""

    job: Job
    files: Mapping[str, bytes]
    volumes: tuple[Volume, ...]

    @property
    def left_out(self) -> tuple[str, ...]:
        """Pieces that have no solid here: rolled ones, and those with a hole for a pipe."""
        return tuple(p.id for p in self.job.pieces if p.is_metal and p.body is not None and not _is_plain(p))


def step(job_text: str | bytes, filename: str, piece: str | None = None) -> Solids:
    """Fold every metal piece as an exact solid.

    Args:
        job_text: The job file (TOML).
        filename: What to call it in a problem.
        piece: The id of one piece; left out, every piece and all of them in their places.

    Raises:
        JobProblems: the job cannot be read or makes no sense.
        NoKernel: the kernel is not installed.
        NoSuchPiece: no folded piece has that id.
        NotASolid: a piece does not come to one solid.
    """
    job = run(read_job(job_text, filename))
    _ask_for_kernel()
    placed = {p.id: _placed(job, p) for p in job.pieces if p.is_metal and _is_plain(p)}
    if piece is not None and piece not in placed:
        raise NoSuchPiece("solid.unknown", given=piece[:60], known=", ".join(placed))
    if not placed:
        raise NoSuchPiece("solid.none")
    wanted = list(placed.values()) if piece is None else [placed[piece]]
    files, volumes = {}, []
    for one in wanted:
        try:
            files[f"{file_name(one.name)}.step"] = to_step(one.flat, one.name)
            volumes.append(Volume(one.name, solid_volume(one.flat), bent_volume(one.flat)))
        except NotOneSheet as why:
            raise NotASolid("solid.not_one", id=one.name, why=str(why)) from why
    if piece is None:
        files[f"{ASSEMBLY}.step"] = to_assembly(job.site.name, wanted)
    return Solids(job, files, tuple(volumes))


def step_file(path: Path, piece: str | None = None) -> Solids:
    """The same from the job file on the disk."""
    return step(read_job_file(path, str(path)), str(path), piece)


def step_folder(path: Path) -> Path:
    """Where the files go when nobody says: beside the job file, JOB-step."""
    return path.with_name(f"{path.stem}-step")


def told(made: Solids, folder: Path) -> tuple[str, ...]:
    """What was written, each piece's volume twice, and whether the job must stop."""
    unit = made.job.site.units
    say, scale = Speaker(unit).say, CUBIC_CM if unit == "mm" else 1.0
    lines = [say(f"solid.volume_{unit}", id=v.id, solid=v.solid * scale, paper=v.paper * scale) for v in made.volumes]
    if made.left_out:
        lines.append(say("solid.left_out", pieces=", ".join(made.left_out)))
    lines.append(say("solid.written", count=len(made.files), folder=str(folder)))
    return (*lines, say("solid.stopped")) if made.job.stopped else tuple(lines)


def hand_over(made: Solids, folder: Path) -> None:
    """Put the files on the disk, each whole or not at all; other files there stay as they are.

    Raises:
        OSError: the disk refused.
    """
    write_loose(folder, made.files)


def _ask_for_kernel() -> None:
    try:
        import OCP.STEPCAFControl  # noqa: F401
    except ImportError as why:
        raise NoKernel("solid.missing", why=str(why), python=sys.executable) from why


def _is_plain(piece: Piece) -> bool:
    """Is it flats joined by bends and nothing else? The kernel's fold knows no rolled sheet and no cut-out."""
    return piece.body is not None and not piece.body.rolled and not any(piece.body.cutouts)


def _placed(job: Job, piece: Piece) -> Placed:
    """A piece as it lies on the roof, once for every copy."""
    assert piece.body is not None
    part = next(p for p in job.detail.parts if p.id == piece.id)
    detail = next(d for d in job.detail.openings if d.opening.name == piece.opening)
    lifted = shift(at_bench(job.site, detail), part)
    moves: tuple[Point, ...] = tuple(add(lifted, (along, 0.0, 0.0)) for along in part.copies)
    return Placed(piece.id, develop(piece.body), moves)
