"""The quote as it is handed over: quote.pdf on one page, quote.csv, and `price` of plan.json."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from lapwright import units, words
from lapwright.findings import Value
from lapwright.packet.compose import Paper, set_pages
from lapwright.packet.drawings import new_panels
from lapwright.packet.identity import FORMAT, job_hash
from lapwright.packet.say import Voice, breakable, shortened
from lapwright.packet.sheets import Cell, to_csv
from lapwright.packet.worked import WorkedJob
from lapwright.shop.price import LABOUR, Quote, QuoteLine
from lapwright.words import Speaker

SUMS = ("materials", "waste", "labour", "subtotal", "markup", "tax", "total")
"""The sums in the order in which they are added."""


def quote_pdf(job: WorkedJob, paper: Paper) -> bytes:
    """The quote on one page, stamped where the job is stopped.

    Raises:
        BadPage: the typesetter refused or warned.
    """
    return set_pages(quote_contents(job), paper, "quote.typ")


def quote_contents(job: WorkedJob) -> dict[str, Any]:
    """Everything the page prints, as plain data."""
    voice, quote = Voice(Speaker(job.site.units)), job.price
    lines = {kind: [_row(q, voice) for q in quote.lines if q.kind == kind] for kind in ("material", LABOUR)}
    currency, stood = quote.shop.currency, rates_say(quote, voice)
    sums = [
        [what, voice.say(f"price.label.{what}"), _beside(what, quote, voice), plain_money(getattr(quote, what))]
        for what in SUMS
    ]
    return {
        "w": _labels(voice.speaker.language),
        "name": breakable(job.site.name),
        "short_name": shortened(job.site.name, 40),
        "unit": job.site.units,
        "format": FORMAT,
        "hash": job_hash(job.site),
        "stopped": job.stopped,
        "stop_says": voice.say("price.says.stopped") if job.stopped else "",
        "roof": _roof(job, voice),
        "currency": currency,
        "materials": lines["material"],
        "labour": lines[LABOUR],
        "sums": sums,
        "total": money(quote.total, currency, voice),
        "warning": stood if quote.packaged else "",
        "included": list(_included(job, voice)),
        "not_included": [breakable(line) for line in _not_included(job, voice)],
        "defers": " ".join((*(() if quote.packaged else (stood,)), voice.say("price.says.defers"))),
    }


def _labels(language: str) -> dict[str, str]:
    said = words.phrases(language)
    both = [(k, v) for start in ("packet.label.", "price.label.") for k, v in said.items() if k.startswith(start)]
    return {k.split(".", 2)[2]: v for k, v in both}


def _roof(job: WorkedJob, voice: Voice) -> str:
    roof = job.site.roof
    line: dict[str, Value] = {"pitch": units.show_pitch(roof.rise), "eave": roof.eave, "slope": roof.slope}
    return f"{voice.say(f'packet.roof.work_{roof.work}')}. {voice.say('packet.roof.line', line)}."


def _row(q: QuoteLine, voice: Voice) -> list[str]:
    quantity = f"{q.quantity:,.0f}" if q.unit in ("each", "tube", "roll", "lot") else f"{q.quantity:,.2f}"
    unit = voice.say(f"shop.unit.{q.unit}")
    return [breakable(said_item(q, voice)), quantity, unit, one(q.each), plain_money(q.amount)]


def said_item(q: QuoteLine, voice: Voice) -> str:
    """What a line is for."""
    return voice.say(q.item, q.values)


def _beside(what: str, quote: Quote, voice: Voice) -> str:
    """What stands beside a sum: its share, or what it is of."""
    share = {"waste": quote.shop.waste, "markup": quote.shop.markup, "tax": quote.shop.tax}.get(what)
    if share is None:
        return ""
    return voice.say("price.says.waste" if what == "waste" else "price.money.share", {"share": share})


def rates_say(quote: Quote, voice: Voice) -> str:
    """Whose prices and times stood."""
    count: dict[str, Value] = {"packaged": quote.packaged, "rates": len(quote.rates)}
    if quote.packaged == len(quote.rates):
        return voice.say("price.says.packaged_all", count)
    named = "" if quote.rates_name else "_unnamed"
    name: dict[str, Value] = {"name": quote.rates_name}
    if not quote.packaged:
        return voice.say(f"price.says.own{named}", name)
    return f"{voice.say('price.says.packaged', count)} {voice.say(f'price.says.partly{named}', name)}"


def _included(job: WorkedJob, voice: Voice) -> Iterator[str]:
    if any(q.kind == "material" for q in job.price.lines):
        yield voice.say("price.included.metal")
        yield voice.say("price.included.fixings")
    yield voice.say("price.included.work", {"steps": len(job.steps)})
    if len(new_panels(job)) < len(job.panels):
        yield voice.say("price.included.no_panels")


def _not_included(job: WorkedJob, voice: Voice) -> Iterator[str]:
    kinds = {d.opening.kind for d in job.detail.openings}
    yield from (voice.say(f"price.excluded.{key}") for key in ("site", "deck", "trim"))
    if "masonry-chimney" in kinds:
        yield voice.say("price.excluded.stone")
    for d in job.detail.openings:
        if not d.planned:
            yield voice.say("price.excluded.opening", {"opening": shortened(d.opening.name, 40)})


def plain_money(amount: Decimal) -> str:
    """Money as figures alone, to the hundredth: 1,234.50."""
    return f"{amount:,.2f}"


def one(each: Decimal) -> str:
    """Money for one: two decimals, up to four where it has them."""
    text = f"{each:,.4f}"
    return text[:-2] if text.endswith("00") else text


def money(amount: Decimal, currency: str, voice: Voice) -> str:
    """Money with its currency; a currency in letters stands off the figures."""
    mark = f"{currency}\N{NO-BREAK SPACE}" if currency[-1:].isalnum() else currency
    return voice.say("price.money.line", {"currency": mark, "amount": plain_money(amount)})


def quote_csv(job: WorkedJob) -> bytes:
    """One row per line of the quote, then its sums; money as plain decimals, the currency in the header."""
    voice, quote = Voice(Speaker(job.site.units)), job.price
    at = quote.shop.currency
    rows: list[list[Cell]] = [["kind", "item", "quantity", "unit", f"each_{at}", f"amount_{at}"]]
    for q in quote.lines:
        unit = voice.say(f"shop.unit.{q.unit}")
        rows.append([q.kind, said_item(q, voice), q.quantity, unit, float(q.each), float(q.amount)])
    for what in SUMS:
        rows.append(["sum", voice.say(f"price.label.{what}"), "", "", "", float(getattr(quote, what))])
    return to_csv(rows)


def quote_record(job: WorkedJob) -> dict[str, Any]:
    """`price` of plan.json: money as numbers of hundredths, exact; what stood as rates beside it."""
    voice, quote = Voice(Speaker(job.site.units)), job.price
    return {
        "currency": quote.shop.currency,
        "lines": [
            {
                "kind": q.kind, "item": said_item(q, voice), "quantity": q.quantity,
                "unit": voice.say(f"shop.unit.{q.unit}"), "each": float(q.each), "amount": float(q.amount),
                "waste": float(q.waste), "rate": q.rate,
            }
            for q in quote.lines
        ],
        **{what: float(getattr(quote, what)) for what in SUMS},
        "percent": {"waste": quote.shop.waste, "markup": quote.shop.markup, "tax": quote.shop.tax},
        "rates": {
            "name": quote.rates_name,
            "packaged": quote.packaged,
            "rows": [{"rate": r.key, "value": r.value, "per": r.per, "own": r.own} for r in quote.rates],
        },
    }  # fmt: skip
