"""The tables are whole, cite something, and their columns agree with the documents they cite."""

import dataclasses
import math

import pytest

from lapwright import sources, tables
from lapwright.site.model import Weather
from lapwright.words import Speaker

METALS = tables.metals().values()
AZ50_PSF = 0.50 / 16  # 0.50 oz/ft2, both sides together
GALVANIZED_PSF = 2.5 / 16  # 2.5 oz/ft2
KG_PER_M2 = 0.204816  # lb/ft2 in one kg/m2


def test_the_metals_a_job_may_name_are_all_there() -> None:
    asked = {
        "steel-22",
        "steel-24",
        "steel-26",
        "galv-24",
        "galv-26",
        "aluminium-032",
        "aluminium-040",
        "copper-16",
        "copper-20",
        "zinc-07",
        "zinc-08",
        "stainless-24",
        "stainless-26",
    }
    assert asked <= set(tables.metals())


@pytest.mark.parametrize("metal", METALS, ids=lambda m: m.key)
def test_a_metal_is_thin_sheet_with_a_name_and_a_source(metal: tables.Metal) -> None:
    assert 0.015 <= metal.base <= metal.coated <= 0.07
    assert 0.4 <= metal.weight_psf <= 4.5
    assert 6e-6 <= metal.alpha <= 17e-6
    assert metal.source in sources.sources()
    assert metal.seen in ("secondary copy", "memory")
    assert Speaker().knows(f"metals.{metal.key}")
    assert Speaker().knows(f"metals.family.{metal.family}")


@pytest.mark.parametrize(
    ("key", "coating"),
    [
        ("steel-22", AZ50_PSF),
        ("steel-24", AZ50_PSF),
        ("steel-26", AZ50_PSF),
        ("galv-24", GALVANIZED_PSF),
        ("galv-26", GALVANIZED_PSF),
    ],
)
def test_steel_weighs_its_gage_and_its_coating(key: str, coating: float) -> None:
    # 24 ga Al-Zn: 41.82 x 0.0239 = 0.99950, + 0.03125 = 1.03075; galvanized + 0.15625 = 1.15575.
    metal = tables.metals()[key]
    assert metal.weight_psf == pytest.approx(tables.steel_weight(metal.base) + coating, abs=0.002)


def test_coated_steel_is_thicker_by_its_coating() -> None:
    # AZ50: 0.50 oz/ft2 = 152.6 g/m2, at 3.75 g/cm3 that is 40.7 um = 0.0016 in.
    for key in ("steel-22", "steel-24", "steel-26"):
        assert tables.metals()[key].coated - tables.metals()[key].base == pytest.approx(0.0016, abs=1e-9)


@pytest.mark.parametrize(
    ("key", "lb_per_in3"),
    [
        ("copper-16", 0.3214),
        ("copper-20", 0.3214),
        ("aluminium-032", 0.0983),
        ("aluminium-040", 0.0983),
        ("stainless-24", 0.29),
        ("stainless-26", 0.29),
        ("lead-4", 0.4097),
    ],
)
def test_other_metals_weigh_their_density(key: str, lb_per_in3: float) -> None:
    metal = tables.metals()[key]
    assert metal.weight_psf == pytest.approx(144 * lb_per_in3 * metal.base, rel=0.005)


def test_zinc_weighs_seven_point_two_kilograms_a_millimetre() -> None:
    # 0.8 mm x 7.2 = 5.76 kg/m2 x 0.204816 = 1.1797 lb/ft2.
    assert tables.metals()["zinc-08"].weight_psf == pytest.approx(5.76 * KG_PER_M2, abs=0.001)
    assert tables.metals()["zinc-08"].base == pytest.approx(0.8 / 25.4, abs=0.0001)


def test_rows_cannot_be_changed_by_whoever_reads_them() -> None:
    with pytest.raises(TypeError):
        tables.metals()["steel-24"] = next(iter(METALS))  # type: ignore[index]
    with pytest.raises(dataclasses.FrozenInstanceError):
        next(iter(METALS)).base = 1.0  # type: ignore[misc]


def test_a_table_that_is_not_there_is_our_bug() -> None:
    with pytest.raises(FileNotFoundError):
        tables.rows("no such table")


def test_hems_name_what_they_leave_inside() -> None:
    assert {"open", "closed", "teardrop"} == set(tables.hems())
    for hem in tables.hems().values():
        assert hem.gap_t <= 2 * hem.radius_t + 1e-9, "a fold cannot hold more than its two radii"
        assert hem.turn_deg >= 180 and hem.least > 0


def test_every_rule_set_of_the_contract_is_there_and_the_default_is_one() -> None:
    assert {"irc-2021", "ibc-2021", "obc-2012", "nz-cop-3", "regional-24", "house"} == set(tables.rule_sets())
    assert Weather().rule_set in tables.rule_sets()


def test_a_metric_width_is_held_in_inches() -> None:
    # 750/25.4 = 29.527559; 600/25.4 = 23.622047; 30 stays 30.
    assert tables.rule_sets()["obc-2012"].limit == pytest.approx(29.527559, abs=1e-6)
    assert tables.rule_sets()["nz-cop-3"].limit == pytest.approx(23.622047, abs=1e-6)
    assert tables.rule_sets()["irc-2021"].limit == 30.0


def test_touching_works_both_ways_and_draining_one() -> None:
    assert tables.touching("copper", "zinc") == tables.touching("zinc", "copper")
    assert tables.touching("copper", "zinc") is not None
    assert tables.draining("copper", "zinc") is not None
    assert tables.draining("zinc", "copper") is None


@pytest.mark.parametrize("metal", METALS, ids=lambda m: m.key)
def test_a_metal_gets_on_with_itself(metal: tables.Metal) -> None:
    assert tables.touching(metal.family, metal.family) is None
    assert tables.draining(metal.family, metal.family) is None


@pytest.mark.parametrize("metal", METALS, ids=lambda m: m.key)
def test_nothing_may_drain_copper_but_copper_stainless_and_lead(metal: tables.Metal) -> None:
    attacked = metal.family in ("steel-al-zn", "steel-galv", "aluminium", "zinc")
    found = tables.draining("copper", metal.family)
    assert (found is not None and found.level == "stop") == attacked


def test_every_source_is_named_by_its_key_and_a_house_rule_by_itself() -> None:
    for key, source in sources.sources().items():
        assert source.key == key and source.document and source.edition and source.section
        assert source.seen in ("secondary copy", "from memory")
        assert sources.document(key) == source.document
    assert sources.document("house rule") == "house rule"
    with pytest.raises(KeyError):
        sources.document("hearsay")


def test_every_row_cites_a_source_that_exists() -> None:
    cited = [s.source for s in tables.rule_sets().values()] + [h.source for h in tables.hems().values()]
    cited += [row["source"] for kind in tables.rows("contacts").values() for row in kind]
    assert [key for key in cited if key != sources.HOUSE and key not in sources.sources()] == []


def test_the_steel_gage_weight_is_not_the_coil_weight() -> None:
    # 41.82 against 40.8 lb/ft2 per inch: 2.5 % apart.
    assert math.isclose(tables.steel_weight(1.0) / 40.8, 1.025, abs_tol=0.0005)
