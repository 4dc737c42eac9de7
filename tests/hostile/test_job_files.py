"""No job file, however broken or ill meant, crashes the reader, holds it up or goes unexplained.

As a program: `python tests/hostile/test_job_files.py 200000` reads that many broken files, prints the
slowest and the memory, and fails on the first that is not answered by problems with a place.
"""

from __future__ import annotations

import random
import re
import resource
import sys
import time
from collections.abc import Callable

import pytest

from lapwright.errors import JobProblems
from lapwright.site.read import read_job
from lapwright.verbs.new import starter_job
from lapwright.words import Speaker

SLOWEST_S = 1.0
JOB = starter_job()
# what a terminal or a page must never be handed raw
RAW = re.compile(r"[\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")

MONSTERS: dict[str, str | bytes] = {
    "nested arrays": "a = " + "[" * 30_000,
    "nested closed arrays": "a = " + "[" * 100_000 + "]" * 100_000,
    "nested tables": "a = " + "{b = " * 10_000,
    "nested behind a long quote": 'a = ["""x""""' + ", [" * 20_000,
    "dotted key": ".".join(["a"] * 30_000) + " = 1",
    "dotted header": "[" + ".".join(["a"] * 30_000) + "]",
    "dotted quoted key": ".".join(['"a"'] * 15_000) + " = 1",
    "spaced dotted key": " . ".join(["a"] * 15_000) + " = 1",
    "dotted inline key": "a = {" + ".".join(["a"] * 30_000) + " = 1}",
    "long integer": "a = " + "9" * 5_000,
    "long hex integer": JOB.replace("coverage = 16", "coverage = 0x" + "f" * 5_000),
    "long binary integer": "a = 0b" + "1" * 60_000,
    "long grouped integer": "a = " + "1_" * 20_000 + "1",
    "long float": "a = 0." + "1" * 60_000,
    "huge exponent": JOB.replace("coverage = 16", "coverage = 1e999999"),
    "a forty-digit integer": JOB.replace("coverage = 16", "coverage = " + "9" * 40),
    "nan": JOB.replace("coverage = 16", "coverage = nan"),
    "infinity": JOB.replace("coverage = 16", "coverage = -inf"),
    "duplicate key": JOB.replace("coverage = 16", "coverage = 16\ncoverage = 17"),
    "many unknown keys": "".join(f"k{n}=1\n" for n in range(7_000)),
    "many long unknown keys": "".join(f"{'leftedge' * 12}{n}=1\n" for n in range(600)),
    "many unknown tables": "".join(f"[k{n}]\n" for n in range(7_000)),
    "many openings": "[[opening]]\n" * 5_000,
    "many nested openings": "[[opening]]\n[opening.a]\n" * 2_500,
    "many deviations": JOB + "[[deviation]]\nopening=1\nwhat=1\n" * 1_500,
    "one long line": JOB.replace("coverage = 16", "coverage = " + " " * 60_000 + "?"),
    "one long key": "a" * 64_000 + " = 1",
    "one long name": JOB.replace("stove chimney", "x" * 60_000),
    "one long word": JOB.replace('"masonry-chimney"', '"' + "masonry" * 8_000 + '"'),
    "one long length": JOB.replace("coverage = 16", 'coverage = "' + "1 " * 30_000 + '"'),
    "one long array": "a = [" + "1," * 32_000 + "]",
    "one wide table": "a = {" + ",".join(f"k{n}=1" for n in range(8_000)) + "}",
    "open quotes": '"""\\' * 16_000,
    "open quotes in a row": 'a = "' + '"""' * 20_000,
    "open single quotes": "'''x" * 16_001,
    "backslashes": 'a = "' + "\\" * 60_001,
    "equals": "=" * 60_000,
    "brackets": "[]" * 30_000,
    "line ends": "\r" * 60_000,
    "dos line ends": "\r\n" * 30_000,
    "zero bytes": b"\0" * 60_000,
    "random bytes": random.Random(7).randbytes(60_000),
    "half a character": "name = 'å'".encode()[:-2],
    "utf-16": JOB.encode("utf-16"),
    "lone surrogate": 'a = "\ud800"\n"\udfff" = 1',
    "too big": "#" * 10_000_000,
    "too big bytes": b"#" * 10_000_000,
    "nothing": "",
    "only a mark": b"\xef\xbb\xbf",
    "terminal commands": '[job]\nname = "\\u001b[2J\\u0007"\n"\\u001b[31m" = 1\n',
    "a format string": '[job]\nname = "{0.__class__}{x}%s"\nunits = "{given!r}"\n"{x:len}" = "{}"\n',
    "a date": JOB.replace("coverage = 16", "coverage = 1979-05-27T07:32:00Z"),
    "minus nothing": JOB.replace("coverage = 16", "coverage = -0.0"),
    "true length": JOB.replace("coverage = 16", "coverage = true"),
    "tables as values": "job = [[[1]]]\nroof = 3\npanel = []\nopening = {}\ndeviation = [1]\n"
    "site = ''\ndefaults=nan\n",
}


def answer(source: str | bytes) -> float:
    """Seconds the reader took; fails unless it made a site or named at least one problem and its place."""
    start = time.perf_counter()
    try:
        read_job(source, "J.toml")
        return time.perf_counter() - start
    except JobProblems as problems:
        lines = problems.lines(Speaker(problems.unit))
    took = time.perf_counter() - start
    assert lines
    for line in lines:
        assert re.match(r"J\.toml:[1-9]\d*:[1-9]\d*: [^:]", line), line
        assert not RAW.search(line), ascii(line)
        assert len(line) < 1200, line
    return took


@pytest.mark.parametrize("name", MONSTERS)
def test_a_monster_is_answered_in_a_moment(name: str) -> None:
    assert answer(MONSTERS[name]) < SLOWEST_S


@pytest.mark.parametrize("name", [name for name in MONSTERS if name not in ("a format string",)])
def test_no_monster_is_taken_for_a_job(name: str) -> None:
    with pytest.raises(JobProblems):
        read_job(MONSTERS[name], "J.toml")


PIECES = [
    "[", "]", "{", "}", '"', "'", '"""', "'''", "\\", "\\u0000", "=", ".", ",", "#", "\n", "\r", "\t", "\0", "-",
    "1e9999", "nan", "-inf", "true", "[[opening]]", "[roof]", "left", "eave = ", "' ", "1/0", "5-3", "9" * 45,
    "½", "′",
    "\u202e", "1979-05-27", "0x", "_", "[[1],{a=1}]", "kind = 'pipe'\n", "diameter = 4\n", "[defaults]\n",
    "hem = 0\n", "é" * 9, "mm",
]  # fmt: skip


def cut(rng: random.Random, text: str) -> str:
    a, b = sorted(rng.randrange(len(text) + 1) for _ in range(2))
    return text[:a] + text[min(b, a + rng.randrange(40)) :]


def insert(rng: random.Random, text: str) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + "".join(rng.choices(PIECES, k=rng.randrange(1, 4))) + text[at:]


def repeat(rng: random.Random, text: str) -> str:
    a = rng.randrange(len(text) + 1)
    return text[:a] + text[a : a + rng.randrange(60)] * rng.choice([2, 3, 40]) + text[a:]


def swap_value(rng: random.Random, text: str) -> str:
    lines = text.split("\n")
    n = rng.randrange(len(lines))
    lines[n] = lines[n].split("=")[0] + "= " + rng.choice(PIECES) + rng.choice(["", " ", rng.choice(PIECES)])
    return "\n".join(lines)


def swap_lines(rng: random.Random, text: str) -> str:
    lines = text.split("\n")
    a, b = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines[a], lines[b] = lines[b], lines[a]
    return "\n".join(lines)


HARMS: list[Callable[[random.Random, str], str]] = [cut, insert, repeat, swap_value, swap_lines]
# comments make most of the starter; without them a harm hits something more often
BARE = re.sub(r"(?m)\s*#.*$", "", JOB)
SHOWN = re.sub(r"(?m)\s+# .*$", "", re.sub(r"(?m)^# (\w+ = \S)", r"\1", JOB))


def broken(rng: random.Random) -> str | bytes:
    text = rng.choice([BARE, BARE, SHOWN])
    for _ in range(rng.choice([1, 1, 2, 3, 6])):
        text = rng.choice(HARMS)(rng, text)
    if rng.random() < 0.1:
        raw = bytearray(text.encode("utf-8", "surrogatepass"))
        for _ in range(rng.randrange(1, 4)):
            raw[rng.randrange(len(raw))] = rng.randrange(256)
        return bytes(raw)
    return text


def fuzz(count: int, seed: int) -> float:
    """Read many broken jobs; the slowest. [s]"""
    rng = random.Random(seed)
    return max(answer(broken(rng)) for _ in range(count))


def test_thousands_of_broken_jobs_are_all_answered() -> None:
    assert fuzz(10_000, seed=20) < SLOWEST_S


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200_000
    start = time.perf_counter()
    slowest = fuzz(count, seed=count)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    took = time.perf_counter() - start
    print(f"{count} broken jobs in {took:.0f} s: 0 uncaught, slowest {slowest * 1000:.0f} ms, memory {peak:.0f} MB")
    if slowest >= SLOWEST_S or peak >= 256:
        sys.exit(1)


if __name__ == "__main__":
    main()
