"""What the pages say is true, and nothing in the repository names a registry or a machine."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import make_pages
import make_pictures
import pytest
from PIL import Image, ImageChops, ImageStat

from lapwright.rules import rules
from lapwright.site.fields import FIELDS
from lapwright.units import show_length
from lapwright.words import phrases

ROOT = Path(__file__).parents[1]
PAGES = ["README.md", "ARCHITECTURE.md", "CONTRIBUTING.md", "CHANGELOG.md", "examples/README.md", *sorted(
    str(p.relative_to(ROOT)) for p in (ROOT / "docs").rglob("*.md")
)]  # fmt: skip
# Read as two halves so that this file does not find itself.
FORBIDDEN = [
    "pypi" + r"\.org", "files\\." + "pythonhosted", "registry\\." + "npmjs", "deb\\." + "debian",
    "index" + "-url", "(^|[^a-z.])/" + "work/", "(^|[^a-z.])/" + "tmp/", "/" + "root/", "/" + "home/",
]  # fmt: skip


def tracked() -> list[Path]:
    """The files of the repository; without git (an unpacked archive), every file beside the tests."""
    if shutil.which("git") and (ROOT / ".git").exists():
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True).stdout
        return [ROOT / name for name in listed.split("\0") if name and (ROOT / name).is_file()]
    return [p for d in ("src", "tests", "docs", "examples") for p in (ROOT / d).rglob("*") if p.is_file()]


def commands(text: str) -> list[str]:
    """Verbs called in code blocks and code spans: `lapwright plan ...`, `./lapwright test`."""
    code = "\n".join(re.findall(r"```.*?```|`[^`]+`", text, re.DOTALL))
    return re.findall(r"(?:^|`|\s)(?:\./)?lapwright ([a-z]+)", code)


def paths(text: str) -> list[str]:
    """Code spans that name a file or a folder of the repository, and links to one."""
    spans = re.findall(r"`([\w.\-]+/[\w.\-/]*|[\w\-]+\.(?:py|md|toml|txt))`", text)
    links = re.findall(r"\]\((?!https?:|#)([^)#]+)", text)
    return spans + links


@pytest.mark.parametrize("page", PAGES)
def test_the_commands_a_page_names_exist(page: str) -> None:
    from lapwright.cli.app import app

    verbs = {c.name or getattr(c.callback, "__name__", "") for c in app.registered_commands}
    assert set(commands((ROOT / page).read_text(encoding="utf-8"))) <= verbs | {"demo", "test"}


KINDS = {"panel", "wall", "apron", "side-wall", "back-pan", "cricket", "corner-patch", "counterflashing"}
KINDS |= {"offset-cleat"}


@pytest.mark.parametrize("page", PAGES)
def test_the_paths_a_page_names_exist(page: str) -> None:
    homes = [ROOT, (ROOT / page).parent, ROOT / "src" / "lapwright"]
    for name in paths((ROOT / page).read_text(encoding="utf-8")):
        if name.startswith(("drawings/", "cut/", "demo-packet")) or name in ("job.toml", "JOB.toml"):
            continue  # inside a packet, or the reader's own
        if set(name.split("/")) <= KINDS:
            continue  # a lap, over/under, as `lapwright leaks --without` takes it
        assert any((home / name).exists() for home in homes), f"{page}: there is no {name}"


def test_the_readme_opens_with_the_job_and_gives_the_two_commands() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    opening = readme.split("\n\n")[1]
    assert "standing-seam" in opening
    assert "./lapwright demo" in readme
    assert "./lapwright test" in readme


def test_architecture_names_every_folder_of_the_package() -> None:
    page = (ROOT / "ARCHITECTURE.md").read_text(encoding="utf-8")
    folders = [p.parent.name for p in (ROOT / "src" / "lapwright").glob("*/__init__.py")]
    assert [name for name in folders if f"`{name}/`" not in page] == []


def test_what_a_page_takes_from_the_program_is_what_the_program_says(golden_update: bool) -> None:
    if golden_update:
        make_pages.main()
    for page in make_pages.pages():
        text = page.read_text(encoding="utf-8")
        assert make_pages.remade(text) == text, f"{page.name} has drifted: docs/make_pages.py writes it again"


def test_every_field_and_every_rule_is_on_its_page() -> None:
    fields = (ROOT / "docs" / "job-file.md").read_text(encoding="utf-8")
    findings = (ROOT / "docs" / "findings.md").read_text(encoding="utf-8")
    assert [row.name for row in FIELDS if f"| `{row.name}` |" not in fields] == []
    assert [key for key in rules() if f"### {key}\n" not in findings] == []


def test_a_drifted_page_is_seen() -> None:
    page = "<!-- made: metals -->\n\nlead is light\n\n<!-- end -->\nthe rest stays\n"
    again = make_pages.remade(page)
    assert "lead is light" not in again
    assert again.endswith("<!-- end -->\nthe rest stays\n")
    assert make_pages.remade(again) == again


def test_the_drawn_pictures_are_the_programs_own(golden_update: bool) -> None:
    if golden_update:
        make_pictures.main()
    for name, svg in make_pictures.svgs().items():
        kept = (ROOT / "docs" / "pictures" / name).read_text(encoding="utf-8")
        assert kept == svg, f"{name} has drifted: docs/make_pictures.py draws it again; then look at it"


def test_the_pictures_of_pages_are_the_packets_own(golden_update: bool) -> None:
    if golden_update:
        make_pictures.main()
    for name, page in make_pictures.pages().items():
        kept = Image.open(ROOT / "docs" / "pictures" / name).convert("L")
        assert kept.size == page.size, name
        apart = ImageStat.Stat(ImageChops.difference(kept, page.convert("L"))).mean[0]
        assert apart < 0.5, f"{name} has drifted: docs/make_pictures.py draws it again; then look at it"


def test_every_picture_is_shown_on_some_page_and_is_small() -> None:
    text = "".join((ROOT / page).read_text(encoding="utf-8") for page in PAGES)
    for picture in sorted((ROOT / "docs" / "pictures").iterdir()):
        assert f"pictures/{picture.name})" in text, f"no page shows {picture.name}"
        assert picture.stat().st_size <= 120_000, picture.name


def test_the_standard_detail_names_every_kind_of_piece() -> None:
    page = (ROOT / "docs" / "the-standard-detail.md").read_text(encoding="utf-8").lower()
    kinds = {
        "cricket" if k.startswith("pieces.cricket") else k.split(".")[1] for k in phrases() if k.startswith("pieces.")
    }
    assert [kind for kind in sorted(kinds) if kind.replace("-", " ") not in page.replace("-", " ")] == []


def test_the_standard_detail_prints_the_defaults_there_are() -> None:
    page = (ROOT / "docs" / "the-standard-detail.md").read_text(encoding="utf-8")
    known = {row.name: row.default for row in FIELDS if row.table == "defaults" and isinstance(row.default, float)}
    wrong = []
    for name in sorted(set(re.findall(r"`([a-z_]+)`", page)) & set(known)):
        size = show_length(known[name], "in").rstrip('"')
        near = "|".join(page[max(0, m.start() - 120) : m.end() + 8] for m in re.finditer(f"`{name}`", page))
        if not re.search(rf"(?<![\d/-]){size}(?![\d/-])", near):
            wrong.append(f"{name} is {size}")
    assert wrong == []


def test_the_glossary_says_each_word_once() -> None:
    rows = re.findall(r"^\| ([^|]+) \|", (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8"), re.MULTILINE)
    words = [word.strip() for row in rows for word in row.split(",") if row.strip() not in ("word", "---")]
    assert sorted({word for word in words if words.count(word) > 1}) == []


def test_no_page_promises_what_only_an_inspector_can() -> None:
    for page in PAGES:
        text = (ROOT / page).read_text(encoding="utf-8")
        assert not re.search(r"\bcomplies\b|\bcode[- ]compliant\b", text), page


def test_the_repository_names_no_registry_and_no_machine() -> None:
    hit = re.compile("|".join(FORBIDDEN), re.MULTILINE)
    found = []
    for path in tracked():
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        found += [f"{path.relative_to(ROOT)}: {m.group().strip()}" for m in hit.finditer(text)]
    assert found == []
