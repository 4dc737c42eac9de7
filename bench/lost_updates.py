"""Many windows on one job: python bench/lost_updates.py [WRITERS] [EDITS] [--last-wins]

Bar: 8 writers x 50 edits, 0 lost. Each writer reads the job file, adds a line, saves with the revision it read, and
when that is refused (412) does it again on the text as it stands. At the end every line must be there.
`--last-wins` is the mutant that must fail: a server that does not look at the revision.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import httpx

START = """
import sys
from lapwright.cli import main
if sys.argv.pop() == "last-wins":
    from lapwright.store.shelf import Shelf
    Shelf._standing = lambda shelf, id, base, sent=None: shelf.get(id)
main()
"""


def write(address: str, job: str, writer: int, edits: int) -> int:
    """One writer's edits; how often a save was refused and done again."""
    refused = 0
    with httpx.Client(base_url=address, headers={"origin": address}, timeout=60) as browser:
        for n in range(edits):
            while True:
                now = browser.get(f"{job}/job.toml")
                text = f"{now.text}# writer {writer} edit {n}\n"
                saved = browser.put(f"{job}/job.toml", content=text, headers={"if-match": now.headers["etag"]})
                if saved.status_code == 200:
                    break
                if saved.status_code != 412:
                    raise RuntimeError(f"{saved.status_code}: {saved.text}")
                refused += 1
    return refused


def race(writers: int, edits: int, last_wins: bool = False) -> tuple[int, int]:
    """Let them all write at once: how many edits are lost at the end, how many saves were refused."""
    with tempfile.TemporaryDirectory() as folder:
        words = ["serve", "--port", "0", "--data", folder, "last-wins" if last_wins else "careful"]
        server = subprocess.Popen([sys.executable, "-u", "-c", START, *words], stdout=subprocess.PIPE, text=True)
        try:
            address = _address(server)
            started = httpx.post(f"{address}/jobs", data={"start": "blank"}, headers={"origin": address})
            job = started.headers["location"]
            with ThreadPoolExecutor(writers) as pool:
                refused = sum(pool.map(lambda writer: write(address, job, writer, edits), range(writers)))
            text = httpx.get(f"{address}{job}/job.toml").text
        finally:
            server.kill()
            server.communicate()
    there = set(re.findall(r"# writer \d+ edit \d+", text))
    return writers * edits - len(there), refused


def _address(server: subprocess.Popen[Any]) -> str:
    assert server.stdout is not None
    found = re.search(r"http://\S+", server.stdout.readline())
    assert found
    return found[0].rstrip("/")


def main() -> None:
    """Print the figure."""
    words = [int(word) for word in sys.argv[1:] if word != "--last-wins"]
    writers, edits = (words + [8, 50][len(words) :])[:2]
    lost, refused = race(writers, edits, "--last-wins" in sys.argv)
    print(f"{writers} writers x {edits} edits: {lost} lost, {refused} saves refused and done again")
    sys.exit(1 if lost else 0)


if __name__ == "__main__":
    main()
