"""Two pieces of work side by side, the second in a process of its own: a packet's drawings on two cores."""

from __future__ import annotations

import contextlib
import os
import pickle
import sys
import threading
from collections.abc import Callable
from typing import Any, TypeVar

T = TypeVar("T")
U = TypeVar("U")


def beside(here: Callable[[], T], there: Callable[[], U]) -> tuple[T, U]:
    """Do both, `there` in a child process while `here` runs; one after the other where that is not safe.

    Both must be pure, and what `there` returns must be plain data. Whatever becomes of the child (killed, out
    of memory, an exception), its work is then done here, so that the result is the same and so is what is
    raised.
    """
    if not _may_fork():
        return here(), there()
    out, into = os.pipe()
    child = os.fork()
    if child == 0:
        _work(there, out, into)
    os.close(into)
    try:
        mine = here()
        with open(out, "rb", closefd=False) as result:
            told = result.read()
    finally:
        os.close(out)
        with contextlib.suppress(ChildProcessError):
            os.waitpid(child, 0)
    done, value = _read(told)
    return mine, value if done else there()


def _may_fork() -> bool:
    """Are there two cores, and is this the only thread? (A fork copies one thread and every lock.)

    The typesetter's own threads, which Python does not count, stay after its first page; a child forked beside
    them waits for ever for a lock that one of them held.
    """
    if not hasattr(os, "fork") or not hasattr(os, "sched_getaffinity") or "typst" in sys.modules:
        return False
    return len(os.sched_getaffinity(0)) > 1 and threading.active_count() == 1


def _work(there: Callable[[], Any], out: int, into: int) -> None:
    """In the child: do the work, hand it over, and leave without tidying up what is the parent's."""
    try:
        os.close(out)
        told = pickle.dumps(there(), protocol=pickle.HIGHEST_PROTOCOL)
        with open(into, "wb") as result:
            result.write(told)
    except BaseException:
        os._exit(1)
    os._exit(0)


def _read(told: bytes) -> tuple[bool, Any]:
    """Whether the child's result came whole, and the result."""
    try:
        return True, pickle.loads(told)
    except (pickle.UnpicklingError, EOFError):
        return False, None
