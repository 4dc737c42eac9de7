"""What a PDF really prints: every letter with its box and its size, every drawn path with its extent."""

from __future__ import annotations

import ctypes
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as raw

CELL = 24.0
STAMP = 60.0
"""Letters larger than this are the stamp, which lies over everything on purpose. [pt]"""


@dataclass(frozen=True)
class Letter:
    """One printed letter: its place in the text, its box [pt], its size [pt]."""

    n: int
    text: str
    box: tuple[float, float, float, float]
    size: float


def pages(pdf: bytes) -> list[Any]:
    return list(pypdfium2.PdfDocument(pdf))


def letters(page: Any) -> Iterator[Letter]:
    """Every letter of a page that leaves ink, the stamp's left out."""
    text = page.get_textpage()
    left, right, low, high = (ctypes.c_double() for _ in range(4))
    turn = raw.FS_MATRIX()
    for n in range(raw.FPDFText_CountChars(text)):
        code = raw.FPDFText_GetUnicode(text, n)
        if code <= 32 or code in (0xA0, 0x200B, 0xFFFE):
            continue
        raw.FPDFText_GetCharBox(text, n, left, right, low, high)
        raw.FPDFText_GetMatrix(text, n, turn)
        scale = math.sqrt(abs(turn.a * turn.d - turn.b * turn.c))
        size = raw.FPDFText_GetFontSize(text, n) * scale
        if size < STAMP:
            yield Letter(n, chr(code), (left.value, low.value, right.value, high.value), size)


def overlaps(page: Any) -> list[tuple[Letter, Letter]]:
    """Pairs of letters, not neighbours in a word, of which one covers a tenth of the other."""
    held: dict[tuple[int, int], list[Letter]] = {}
    out = []
    for a in letters(page):
        met: set[int] = set()
        for cell in _cells(a.box):
            for b in held.setdefault(cell, []):
                if b.n not in met and a.n - b.n > 3 and _covers(a.box, b.box):
                    out.append((a, b))
                met.add(b.n)
            held[cell].append(a)
    return out


def _cells(box: tuple[float, float, float, float]) -> list[tuple[int, int]]:
    x0, y0, x1, y1 = (int(v // CELL) for v in box)
    return [(i, j) for i in range(x0, x1 + 1) for j in range(y0, y1 + 1)]


def _covers(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    wide, high = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
    if wide <= 0.3 or high <= 0.3:
        return False
    least = min((r[2] - r[0]) * (r[3] - r[1]) for r in (a, b))
    return wide * high > 0.1 * least


def widths(page: Any) -> set[float]:
    """Printed widths of a page's own paths, to a hundredth. [pt]"""
    found = page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=4)
    return {round(right - left, 2) for left, _, right, _ in (o.get_bounds() for o in found)}
