"""One page of a PDF as a PDF of its own. The typesetter takes it from a file: the whole stands on the disk awhile."""

from __future__ import annotations

import tempfile
from pathlib import Path

from lapwright.packet.compose import NEVER, BadPage, Paper

_SIZES: dict[Paper, str] = {"us-letter": "width: 8.5in, height: 11in", "a4": "width: 210mm, height: 297mm"}


def one_page(pdf: bytes, number: int, paper: Paper) -> bytes:
    """Take a page out of a packet; its text stays text and its size true.

    Args:
        pdf: A packet this program set.
        number: Which page, from 1.
        paper: What the packet is printed on.

    Raises:
        BadPage: there is no such page.
    """
    import typst

    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "whole.pdf").write_bytes(pdf)
        page = f'#set page({_SIZES[paper]}, margin: 0pt)\n#image("whole.pdf", page: {number}, width: 100%)'
        Path(folder, "page.typ").write_text(page, encoding="utf-8")
        try:
            out = typst.Compiler(Path(folder, "page.typ"), root=folder).compile(format="pdf", timestamp=NEVER)
        except typst.TypstError as refused:
            raise BadPage(str(refused)) from refused
    if not isinstance(out, bytes):
        raise BadPage(number)
    return out
