"""Render every page of every example on both papers, to be looked at: python bench/look.py FOLDER [EXAMPLE ...]

Writes one sheet of small pages per packet into FOLDER and prints what a machine can see: letters printed over
letters, letters under 8 points, letters nearer to the edge than a quarter inch.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from PIL import Image

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests"))
ACROSS, SCALE = 6, 0.9


def sheet(pages: list[Any]) -> Image.Image:
    """All pages of a packet, side by side."""
    images = [page.render(scale=SCALE).to_pil() for page in pages]
    wide, high = max(i.width for i in images), max(i.height for i in images)
    out = Image.new("RGB", (wide * min(ACROSS, len(images)), high * -(-len(images) // ACROSS)), "white")
    for n, image in enumerate(images):
        out.paste(image, (n % ACROSS * wide, n // ACROSS * high))
    return out


def faults(pages: list[Any]) -> list[str]:
    """What is wrong with the letters of a packet, a line per page."""
    from pdf_reading import letters, overlaps

    out = []
    for n, page in enumerate(pages, 1):
        width, height = page.get_size()
        over = len(overlaps(page))
        small = sum(letter.size < 7.99 for letter in letters(page))
        outside = sum(
            min(x0, y0, width - x1, height - y1) < 17 for x0, y0, x1, y1 in (letter.box for letter in letters(page))
        )
        if over or small or outside:
            out.append(f"  page {n}: {over} over each other, {small} under 8 pt, {outside} at the edge")
    return out


def main() -> None:
    """Make the sheets and print the faults."""
    from lapwright.verbs.plan import plan_file
    from pdf_reading import pages

    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    cases = sys.argv[2:] or sorted(p.parent.name for p in (ROOT / "examples").glob("*/job.toml"))
    wrong = 0
    for case in cases:
        files = plan_file(ROOT / "examples" / case / "job.toml", "both").files
        for name in sorted(n for n in files if n.endswith(".pdf")):
            packet = pages(files[name])
            sheet(packet).save(folder / f"{case}-{Path(name).stem}.png")
            found = faults(packet)
            wrong += len(found)
            print(f"{case} {name}: {len(packet)} pages", *found, sep="\n")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
