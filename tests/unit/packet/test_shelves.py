"""Drawings share pages: two narrow ones side by side, none over the edge, none lost."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from lapwright.packet.shelves import GAP, Sized, shelve


def sized(*sizes: tuple[float, float]) -> list[Sized[int]]:
    return [Sized(i, w, h) for i, (w, h) in enumerate(sizes)]


def test_two_narrow_drawings_stand_side_by_side_and_a_wide_one_under_them() -> None:
    # 250 + 12 + 250 = 512 of 520 across; 200 + 12 + 300 = 512 of 600 up
    assert shelve(sized((250, 200), (250, 180), (520, 300)), 520, lambda some: 600) == [[[0, 1], [2]]]


def test_a_drawing_that_no_longer_fits_starts_a_page_and_a_later_small_one_moves_up() -> None:
    # 400 + 12 + 250 = 662 is too high for 600; 400 + 12 + 150 = 562 is not
    assert shelve(sized((520, 400), (520, 250), (520, 150)), 520, lambda some: 600) == [[[0], [2]], [[1]]]


def test_a_drawing_higher_than_any_page_has_one_of_its_own() -> None:
    assert shelve(sized((520, 900), (520, 100)), 520, lambda some: 600) == [[[0]], [[1]]]


def test_room_may_depend_on_what_stands_on_the_page() -> None:
    # a legend for the second drawing takes 100 of 600: 300 + 12 + 200 = 512 > 500
    room = lambda some: 500.0 if 1 in some else 600.0  # noqa: E731
    assert shelve(sized((520, 300), (520, 200)), 520, room) == [[[0]], [[1]]]


SIZES = st.tuples(st.sampled_from([254.0, 522.0]), st.floats(40, 600))


@given(st.lists(SIZES, max_size=30))
def test_every_drawing_stands_once_and_no_page_is_fuller_than_its_room(sizes: list[tuple[float, float]]) -> None:
    pages = shelve(sized(*sizes), 523.4, lambda some: 600.0)
    assert sorted(i for page in pages for shelf in page for i in shelf) == list(range(len(sizes)))
    for page in pages:
        high = sum(max(sizes[i][1] for i in shelf) for shelf in page) + GAP * (len(page) - 1)
        assert high <= 600.0 + 1e-6
        assert all(sum(sizes[i][0] for i in shelf) + GAP * (len(shelf) - 1) <= 523.4 + 1e-6 for shelf in page)
