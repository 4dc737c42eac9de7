"""The server: on this machine only unless asked, a taken port is a sentence, Ctrl-C is clean."""

from __future__ import annotations

import os
import re
import signal
import socket
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import httpx
import pytest

from lapwright.verbs import jobs
from lapwright.web import serve as page
from lapwright.web.serve import PORT, PortTaken
from page_server import Program


def test_it_serves_and_ctrl_c_is_clean(tmp_path: Path) -> None:
    program = Program(tmp_path)
    assert program.address.startswith("http://127.0.0.1:")
    with httpx.Client() as browser:  # a connection kept open must not hold it
        assert browser.get(program.address).status_code == 200
        assert program.stop(signal.SIGINT) == (0, "")


def test_no_answer_waits_for_packets_to_be_gathered() -> None:
    # asyncio sets TCP_NODELAY only on what says it is TCP; a connection has that from the socket it came to
    with page._listen("127.0.0.1", 0) as listening:
        assert listening.proto == socket.IPPROTO_TCP


def test_a_taken_port_is_a_sentence_with_a_free_one(tmp_path: Path, lapwright: Callable[..., Any]) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        taken = other.getsockname()[1]
        ran = lapwright("serve", "--port", taken, "--data", tmp_path / "jobs")
    assert (ran.code, ran.out) == (2, "")
    assert f"Port {taken} is taken" in ran.err
    free = int(ran.err.rpartition(" ")[2])
    assert free != taken
    page._listen("127.0.0.1", free).close()
    assert not (tmp_path / "jobs").exists()


def test_a_shelf_that_cannot_be_opened_is_a_sentence(tmp_path: Path, lapwright: Callable[..., Any]) -> None:
    (tmp_path / "file").write_text("")
    ran = lapwright("serve", "--port", 0, "--data", tmp_path / "file")
    assert ran.code == 2
    assert "cannot be opened" in ran.err and "Traceback" not in ran.err


def test_only_this_machine_reaches_it_unless_asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    bound: list[str] = []

    def listen(host: str, port: int) -> socket.socket:
        bound.append(host)
        raise PortTaken("page.serve.taken", port=port, free=1)

    monkeypatch.setattr(page, "_listen", listen)
    for lan in (False, True):
        with pytest.raises(PortTaken):
            page.serve(tmp_path, lan=lan)
    assert bound == ["127.0.0.1", "0.0.0.0"]
    assert PORT == 8765


def test_a_shared_page_answers_whoever_has_the_address_printed(tmp_path: Path) -> None:
    program = Program(tmp_path, "--lan")
    try:
        port, token = re.findall(r":(\d+)/\?token=([\w-]{22})$", program.address)[0]
        with httpx.Client(base_url=f"http://127.0.0.1:{port}") as browser:
            assert browser.get("/").status_code == 401
            assert browser.get(f"/?token={token}", follow_redirects=True).status_code == 200
            assert browser.get("/").status_code == 200
    finally:
        program.stop()


def test_a_shared_page_prints_its_key_once_made_and_keeps_it(tmp_path: Path) -> None:
    first = page._token(tmp_path)
    assert len(first) == 22
    assert page._token(tmp_path) == first
    file = tmp_path / "lan-token"
    if os.name == "posix":
        assert stat.S_IMODE(file.stat().st_mode) == 0o600
    for cut_short in ("", first[:5], first + "\n", "é" * 22):
        file.write_text(cut_short, encoding="utf-8")
        assert page._token(tmp_path) not in (cut_short, first)


@pytest.mark.parametrize(
    ("platform", "environment", "expected"),
    [
        ("linux", {}, ".local/share/lapwright"),
        ("linux", {"XDG_DATA_HOME": "/srv/data"}, "/srv/data/lapwright"),
        ("linux", {"XDG_DATA_HOME": "not/absolute"}, ".local/share/lapwright"),
        ("darwin", {"XDG_DATA_HOME": "/srv/data"}, "Library/Application Support/Lapwright"),
        ("win32", {}, "AppData/Local/Lapwright"),
        ("win32", {"LOCALAPPDATA": "/c/Local"}, "/c/Local/Lapwright"),
    ],
)
def test_jobs_lie_where_each_system_keeps_such_data(
    monkeypatch: pytest.MonkeyPatch, platform: str, environment: dict[str, str], expected: str
) -> None:
    for name in ("XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys, "platform", platform)
    assert jobs.data_folder() == Path.home() / expected


def test_help_and_version_do_not_load_the_server() -> None:
    script = (
        "import sys\nfrom lapwright.cli.app import app\n"
        "heavy = {'fastapi', 'uvicorn', 'jinja2', 'sqlite3', 'tomlkit'} & set(sys.modules)\n"
        "sys.exit(', '.join(sorted(heavy)) or 0)"
    )
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    assert (ran.returncode, ran.stderr) == (0, "")
