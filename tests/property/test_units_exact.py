"""Every mark a tape has reads and prints exactly, and no text at all makes the reader fall over."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from lapwright.errors import BadLength, BadPitch
from lapwright.units import read_length, read_pitch, show_length
from lapwright.words import Speaker


def test_every_sixteenth_to_100_feet_prints_and_reads_back_exactly() -> None:
    for n in range(100 * 12 * 16 + 1):
        value = n / 16
        assert value == read_length(show_length(value, "in"), "in")
        assert value == read_length(show_length(value, "in", feet=True), "in")


def test_every_half_millimetre_to_30_000_prints_and_reads_back_exactly() -> None:
    for n in range(30_000 * 2 + 1):
        # written here by hand: 3 -> "1.5 mm", 4 -> "2 mm"
        text = f"{n // 2}.5 mm" if n % 2 else f"{n // 2} mm"
        value = read_length(text, "in")
        assert text == show_length(value, "mm")
        assert value == float(Fraction(n, 2) / Fraction(254, 10))
        assert value == read_length(n / 2, "mm")


def test_a_number_with_a_decimal_means_that_decimal_and_not_its_binary_neighbour() -> None:
    for n in range(1, 20_000):
        assert read_length(f"{n // 10}.{n % 10} mm", "in") == read_length(n / 10, "mm")


@given(st.fractions(min_value=-12_000, max_value=12_000), st.sampled_from(["in", "mm"]), st.booleans())
def test_printing_moves_a_length_by_half_a_step_at_most(value: Fraction, unit: str, feet: bool) -> None:
    again = read_length(show_length(float(value), unit, feet=feet), "in")
    half_step = 1 / 32 if unit == "in" else 0.05 / 25.4
    assert abs(again - float(value)) <= half_step + 2e-6


@given(st.fractions(min_value=0, max_value=12_000))
def test_a_minus_sign_only_changes_the_sign(value: Fraction) -> None:
    shown = show_length(float(value), "in", feet=True)
    assert show_length(-float(value), "in", feet=True) in (f"-{shown}", '0"')
    assert -read_length(shown, "in") == read_length(f"-{shown}", "in")


tape_text = st.text(alphabet="0123456789 '\"-/.,½′″mcftin%:°deg\u202e\n", max_size=50)


@settings(max_examples=1500)
@given(st.one_of(tape_text, st.text(max_size=60)), st.sampled_from(["in", "mm"]))
def test_any_text_is_a_length_or_a_question(text: str, bare: str) -> None:
    try:
        assert abs(read_length(text, bare)) <= 1_000_000  # type: ignore[arg-type]
    except BadLength as error:
        assert error.said(Speaker()).isprintable()


@settings(max_examples=1000)
@given(st.one_of(tape_text, st.text(max_size=60), st.integers(), st.floats()))
def test_anything_is_a_pitch_or_a_question(value: str | int | float) -> None:
    try:
        assert read_pitch(value) >= 0
    except BadPitch as error:
        assert error.said(Speaker()).isprintable()
