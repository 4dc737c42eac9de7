"""price: what a job costs, line by line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lapwright.job import Job, run
from lapwright.packet.quote import SUMS, money, one, quote_record, rates_say, said_item
from lapwright.packet.say import Voice
from lapwright.shop.price_list import Rates
from lapwright.site.read import read_job
from lapwright.store.inbox import read_job_file
from lapwright.verbs.rates import read_rates_file
from lapwright.words import Speaker


@dataclass(frozen=True, slots=True)
class Priced:
    """The quote line by line, and the same as plain values. stopped: the job has a STOP finding."""

    lines: tuple[str, ...]
    record: dict[str, Any]
    stopped: bool


def price(job_text: str | bytes, filename: str, rates: Rates | None = None) -> Priced:
    """Price a job.

    Args:
        job_text: The job file (TOML).
        filename: What to call it in a problem.
        rates: A shop's own; left out, the packaged ones.

    Raises:
        JobProblems: the job cannot be read or makes no sense; all its problems at once.
    """
    job = run(read_job(job_text, filename), rates)
    record = {"job": job.site.name, "stopped": job.stopped, "price": quote_record(job)}
    return Priced(tuple(_lines(job)), record, job.stopped)


def price_file(path: Path, rates: Path | None = None) -> Priced:
    """The same from files on the disk.

    Raises:
        JobProblems: one of them cannot be read or makes no sense; all its problems at once.
    """
    return price(read_job_file(path, str(path)), str(path), read_rates_file(rates))


def _lines(job: Job) -> Iterator[str]:
    voice, quote = Voice(Speaker(job.site.units)), job.price
    currency = quote.shop.currency
    yield job.site.name
    if job.stopped:
        yield f"{voice.say('packet.label.do_not_cut')}. {voice.say('price.says.stopped')}"
    yield rates_say(quote, voice)
    yield ""
    for q in quote.lines:
        values = {
            "item": said_item(q, voice), "quantity": f"{q.quantity:,.2f}".removesuffix(".00"),
            "unit": voice.say(f"shop.unit.{q.unit}"), "each": one(q.each), "amount": money(q.amount, currency, voice),
        }  # fmt: skip
        yield voice.say("price.show.line", values)
    yield ""
    shares = {"waste": quote.shop.waste, "markup": quote.shop.markup, "tax": quote.shop.tax}
    for what in SUMS:
        key = "price.show.sum_share" if what in shares else "price.show.sum"
        amount = money(getattr(quote, what), currency, voice)
        label = voice.say(f"price.label.{what}")
        yield voice.say(key, {"what": label, "share": shares.get(what, 0.0), "amount": amount})
