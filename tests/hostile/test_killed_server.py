"""The server killed in the middle of typing: what it had acknowledged is there when it runs again."""

from __future__ import annotations

import random
import threading
import time
from pathlib import Path

import httpx

from page_server import Program, client

KILLS = 2


def type_on(browser: httpx.Client, job: str, acknowledged: list[str]) -> None:
    """Type a name letter by letter, each letter a save, until nobody answers any more."""
    kept = browser.get(f"{job}/job.toml")
    revision, typed = kept.headers["etag"], ""
    for n in range(10**6):
        typed = f"{typed[-300:]}{n} "
        try:
            saved = browser.put(
                f"{job}/job.toml", content=f'[job]\nname = "{typed}"\n', headers={"if-match": revision}
            )
        except httpx.TransportError:
            return
        assert saved.status_code == 200, saved.text
        revision = saved.headers["etag"]
        acknowledged.append(typed)


def test_the_server_killed_while_typing_loses_nothing_it_acknowledged(tmp_path: Path) -> None:
    chance, program = random.Random(7), Program(tmp_path)
    with client(program.address) as browser:
        job = browser.post("/jobs", data={"start": "blank"}).headers["location"]
    try:
        for _ in range(KILLS):
            acknowledged: list[str] = []
            with client(program.address) as browser:
                typing = threading.Thread(target=type_on, args=(browser, job, acknowledged))
                typing.start()
                while len(acknowledged) < 20 and typing.is_alive():
                    time.sleep(0.01)
                time.sleep(chance.uniform(0.0, 0.02))
                program.stop()
                typing.join()
            program = Program(tmp_path)
            with client(program.address) as browser:
                now = browser.get(f"{job}/job.toml")
                # the save the kill fell into may be there too, without having been acknowledged
                assert acknowledged[-1][-200:] in now.text
                undone = browser.post(f"{job}/undo", headers={"if-match": now.headers["etag"]})
                assert undone.status_code == 303
    finally:
        program.stop()
