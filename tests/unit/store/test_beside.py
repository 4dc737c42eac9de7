"""Work in a second process comes back the same, whatever becomes of that process."""

from __future__ import annotations

import subprocess
import sys

import pytest

from lapwright.store import beside as page
from lapwright.store.beside import beside

SCRIPT = """
import os, signal, sys
from lapwright.store import beside as page
page._may_fork = lambda: True
parent = os.getpid()

def there():
    if os.getpid() != parent:
        {child}
    return ("there", os.getpid() == parent)

print(page.beside(lambda: "here", there))
"""


def run(child: str) -> str:
    """What a fresh process prints that does this in its child."""
    done = subprocess.run([sys.executable, "-c", SCRIPT.format(child=child)], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_the_second_piece_of_work_is_done_in_another_process() -> None:
    assert run("pass") == "('here', ('there', False))"


@pytest.mark.parametrize(
    "child", ["os.kill(os.getpid(), signal.SIGKILL)", "os._exit(3)", "raise ValueError('no')", "return lambda: 0"]
)
def test_whatever_becomes_of_the_child_its_work_is_done(child: str) -> None:
    assert run(child) == "('here', ('there', True))"


def test_an_exception_of_the_second_piece_of_work_is_raised_here() -> None:
    def there() -> int:
        raise ValueError("a blank without a bend")

    with pytest.raises(ValueError, match="a blank without a bend"):
        beside(lambda: 1, there)


def test_once_a_page_was_set_in_this_process_the_two_are_done_one_after_the_other(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "typst", sys)
    monkeypatch.setattr(page.os, "fork", lambda: pytest.fail("no second process beside the typesetter's threads"))
    assert beside(lambda: "here", lambda: "there") == ("here", "there")


def test_on_one_core_the_two_are_done_one_after_the_other(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(page.os, "sched_getaffinity", lambda pid: {0}, raising=False)
    monkeypatch.setattr(page.os, "fork", lambda: pytest.fail("no second process on one core"))
    done: list[str] = []
    beside(lambda: done.append("here"), lambda: done.append("there"))
    assert done == ["here", "there"]
