"""From a keystroke to the new drawing on the page: python bench/keystroke.py [examples/malt-house/job.toml]

A real server and a real chromium. The clock starts at the field's input event and stops when the new drawing
stands in the page; what lies between is everything: the request, the edit, the save (one fdatasync), the form, the
layout, the drawing, the answer. Nothing waits on purpose (no debounce). Bars (house rule): median under 100 ms,
95 of 100 under 250 ms. Without a file: the example with the most openings and, of those, the longest drawings.
"""

from __future__ import annotations

import re
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from lapwright.verbs.form import form_of
from lapwright.verbs.measured import drawings

ROOT = Path(__file__).resolve().parents[1]
CHROMIUM = "/usr/bin/chromium"
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"]  # fmt: skip
START = "import sys; sys.argv[0] = 'lapwright'; from lapwright.cli import main; main()"
FIELDS = ("opening-0-length", "roof-eave", "opening-0-left")
KEYS, WARM_UP = 40, 5
"""How often a figure is typed to the end of each field and taken away again, and how often before it counts."""
MEDIAN_BAR, P95_BAR = 100.0, 250.0

WATCH = """() => {
  document.addEventListener('input', () => { window.began = performance.now(); }, true);
  new MutationObserver(() => { window.took ??= performance.now() - window.began; })
    .observe(document.querySelector('.drawn'), { childList: true, subtree: true });
}"""


def largest() -> Path:
    """The example with the most openings and, of those, the longest drawings."""

    def size(path: Path) -> tuple[int, int]:
        text = path.read_text(encoding="utf-8")
        site = form_of(text).site
        return (len(site.openings) if site else 0, sum(map(len, drawings(text, 0).values())))

    return max((ROOT / "examples").glob("*/job.toml"), key=size)


def keystrokes(page: Page) -> list[float]:
    """Milliseconds from each keystroke to its drawing."""
    page.evaluate(WATCH)
    took = []
    for id in FIELDS:
        page.focus(f"#f-{id}")
        page.keyboard.press("End")
        for n in range(2 * (KEYS + WARM_UP)):
            page.evaluate("window.took = undefined")
            page.keyboard.press("Backspace" if n % 2 else "1")
            page.wait_for_function("() => window.took !== undefined")
            if n >= 2 * WARM_UP:
                took.append(page.evaluate("window.took"))
    return took


def measure(path: Path) -> list[float]:
    """The same over a new shelf, a new server and a new browser."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        words = [sys.executable, "-u", "-c", START, "serve", "--data", folder, "--port", "0"]
        server = subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
        try:
            assert server.stdout is not None
            found = re.search(r"http://[^\s/]+", server.stdout.readline())
            assert found, "the server did not say where it is"
            browser = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
            page = browser.new_page(viewport={"width": 1280, "height": 800})
            page.goto(found[0])
            page.set_input_files("input[type=file]", path)
            page.locator("form", has=page.locator("input[type=file]")).locator("button").click()
            page.wait_for_selector("#f-roof-eave")
            took = keystrokes(page)
            browser.close()
            return took
        finally:
            server.terminate()
            server.wait(10)


def main() -> None:
    """Measure one job and print the table; 1 when a bar is missed."""
    path = Path(sys.argv[1]) if len(sys.argv) > 1 else largest()
    took = sorted(measure(path))
    middle, late = statistics.median(took), took[int(0.95 * len(took))]
    print(f"{path.parent.name}: {len(took)} keystrokes, input event to new drawing in the page, no debounce")
    for name, value, bar in (("median", middle, MEDIAN_BAR), ("95 of 100", late, P95_BAR)):
        print(f"  {name:<10}{value:8.1f} ms   bar {bar:.0f} ms{'' if value < bar else '   OVER'}")
    print(f"  {'longest':<10}{took[-1]:8.1f} ms")
    sys.exit(middle >= MEDIAN_BAR or late >= P95_BAR)


if __name__ == "__main__":
    main()
