"""packet.html: the whole packet as one file that asks for nothing, for a phone without a network. The same job, the
same bytes.

The page's own policy lets nothing be fetched and no script run but the one beside this file, which keeps the ticks.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Iterator
from functools import partial
from hashlib import sha256
from importlib.resources import files
from itertools import count, groupby
from typing import Any

from lapwright.draw.svg import PATTERNS
from lapwright.words import Speaker, phrases

OWN_PART = ("layout", "opening")
"""Drawings whose title names their part."""
_DEFINED = re.compile(r"<defs>.*?</defs>", re.DOTALL)


def packet_html(said: dict[str, Any], language: str = "en") -> bytes:
    """Set already spoken contents as one page.

    Args:
        said: What stands on the pages (see contents.py).
        language: Whose words the page's own are.
    """
    from jinja2 import DictLoader, Environment, StrictUndefined
    from markupsafe import Markup

    style, script = _beside("offline.css"), _beside("offline.js")
    setter = Environment(
        loader=DictLoader({"page": _beside("offline.html")}), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    setter.filters |= {"drawn": lambda svg: Markup(_drawn(svg)), "spoken": _spoken}
    job = _unbroken(said)
    drawn = list(_drawn_parts(job))
    page = setter.get_template("page").render(
        job=job, w=job["w"], said=_own_words(language), language=language, drawn_parts=drawn,
        parts=_parts(job, drawn), patterns=Markup("".join(PATTERNS.values())), number=partial(next, count(1)),
        style=Markup(style), style_hash=_hash(style), script=Markup(script), script_hash=_hash(script),
    )  # fmt: skip
    return page.lstrip().encode("utf-8", errors="replace")


def _beside(name: str) -> str:
    return files("lapwright.packet").joinpath("pages", name).read_text(encoding="utf-8")


def _hash(text: str) -> str:
    """How a policy names the one text it lets through. Source: Content Security Policy Level 3, from memory."""
    return "sha256-" + b64encode(sha256(text.encode()).digest()).decode()


def _own_words(language: str) -> dict[str, str]:
    speaker = Speaker(language=language)
    keys = (key for key in phrases(language) if key.startswith("offline."))
    return {key.removeprefix("offline."): speaker.say(key) for key in keys}


def _unbroken(value: Any) -> Any:
    """Without the places to break that the typesetter needs: a browser finds its own, and then finds the word too."""
    if isinstance(value, str):
        return value.replace("\u200b", "")
    if isinstance(value, dict):
        return {key: _unbroken(v) for key, v in value.items()}
    return [_unbroken(v) for v in value] if isinstance(value, list | tuple) else value


def _drawn(svg: str) -> str:
    """A drawing to stand among others: one picture with its title, its patterns those of the page. A legend has no
    title, and is read out as text."""
    bare = _DEFINED.sub("", svg)
    return bare if "<title></title>" in bare else bare.replace("<svg ", '<svg role="img" ', 1)


def _spoken(text: str) -> Any:
    """Words of the job file stand between back quotes and are set as they are typed."""
    from markupsafe import Markup, escape

    parts = text.split("`")
    if len(parts) % 2 == 0:
        return escape(text)
    return Markup().join(Markup("<code>{}</code>").format(p) if i % 2 else escape(p) for i, p in enumerate(parts))


def _drawn_parts(job: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Pages of drawings under the part they belong to."""
    for n, (title, pages) in enumerate(groupby(job["plates"], lambda page: _part_title(job, page)), 1):
        yield {"id": f"drawings-{n}", "title": title, "pages": list(pages)}


def _part_title(job: dict[str, Any], page: dict[str, Any]) -> str:
    title: str = page["rows"][0][0]["title"] if page["part"] in OWN_PART else job["w"][page["part"]]
    return title


def _parts(job: dict[str, Any], drawn: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What the page leads to, in its order."""
    w = job["w"]
    rows = [("findings", "findings"), ("cautions", "cautions"), ("verify", "verify"), ("order", "order")]
    rest = [("cut-list", "cut_list"), ("takeoff", "takeoff"), ("sealing", "sealing"), ("proving", "proving")]
    if job["cuts"]:
        rest.insert(0, ("cuts", "cuts"))
    if not job["sealing"]:
        rest.remove(("sealing", "sealing"))
    named = [{"id": id, "title": w[key]} for id, key in rows]
    return [*named, *drawn, *({"id": id, "title": w[key]} for id, key in rest)]
