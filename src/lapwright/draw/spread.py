"""Push labels along a margin until each has its own room, as little as possible."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], pitch: float, low: float, high: float) -> list[float]:
    """Places at least `pitch` apart inside low..high, nearest (least squares) to where they want to be.

    Args:
        wanted: Where each label would like to stand, ascending. [pt]
        pitch: Room one label needs. [pt]
        low, high: Ends of the margin. [pt]

    Returns:
        One place per label, ascending, `pitch` or more apart. [pt]

    Raises:
        ValueError: the margin is too short for so many labels.

    Source: isotonic regression by pooling adjacent violators, Ayer et al. 1955 (from memory).

    >>> spread([10.0, 11.0, 40.0], 8.0, 0.0, 100.0)
    [6.5, 14.5, 40.0]
    """
    if not holds(len(wanted), pitch, low, high):
        raise ValueError(f"{len(wanted)} labels do not fit between {low:g} and {high:g}")
    pools: list[tuple[float, int]] = []
    for i, w in enumerate(wanted):
        mean, count = w - i * pitch, 1
        while pools and pools[-1][0] > mean:
            other, n = pools.pop()
            mean, count = (mean * count + other * n) / (count + n), count + n
        pools.append((mean, count))
    last = high - (len(wanted) - 1) * pitch
    flat = [min(max(mean, low), last) for mean, count in pools for _ in range(count)]
    return [q + i * pitch for i, q in enumerate(flat)]


def holds(count: int, pitch: float, low: float, high: float) -> bool:
    """Does a margin hold that many labels? [pt]"""
    return (count - 1) * pitch <= high - low + 1e-9
