"""What sinks in fuel: times, the sea's heavier drops, and drops whose skin gives way, against published laws."""

from __future__ import annotations

import pytest
from fluids.core import Reynolds
from fluids.drag import v_terminal
from printed_tables import A_THOUSANDTH, assert_printed, read_rows

from engine_sim.errors import OutOfRange
from engine_sim.fluids import diesel_fuel, formulas, water
from engine_sim.units import MINUTE_S, celsius_to_kelvin

UM = 1e-6
T20 = celsius_to_kelvin(20)
FUEL = (diesel_fuel.density_kg_per_m3(T20), diesel_fuel.dynamic_viscosity_pa_s(T20))
FACTORS = {row["why [name]"]: row["factor [1]"] for row in read_rows("settling_factors.csv")}


@pytest.mark.parametrize("row", read_rows("settling_times.csv"))
def test_water_takes_its_time_to_the_floor(row):
    """Stokes' law, to the printed digits."""
    diameter = float(row["diameter [um]"]) * UM
    speed = formulas.settling_speed_m_per_s(diameter, 998.2, *FUEL)
    if row["time [min]"]:
        assert_printed(formulas.settling_time_s(0.2, speed) / MINUTE_S, row["time [min]"], relative=A_THOUSANDTH)
    if row["Reynolds number [1]"]:
        density, viscosity = FUEL
        reynolds = Reynolds(V=speed, D=diameter, nu=viscosity / density)
        assert_printed(reynolds, row["Reynolds number [1]"])


def test_drops_of_the_sea_sink_faster():
    """Stokes' law with 1025 against 998.2 kg/m3: within 0.1 %. With EOS-80's 1024.8 it is 1.164."""
    fresh, sea = (formulas.settling_speed_m_per_s(100 * UM, density, *FUEL) for density in (998.2, 1025.0))
    assert_printed(sea / fresh, FACTORS["sea"], relative=A_THOUSANDTH)
    salt = formulas.settling_speed_m_per_s(100 * UM, water.sea_density_kg_per_m3(T20), *FUEL)
    assert salt / fresh == pytest.approx(float(FACTORS["sea"]), rel=0.003)


def test_a_clean_drop_sinks_faster_than_a_hard_one():
    """Hadamard and Rybczynski (1911), to the printed digits."""
    factor = formulas.mobile_drop_factor(water.VISCOSITY_20.value, FUEL[1])
    assert_printed(factor, FACTORS["clean"], relative=A_THOUSANDTH)


def test_the_factor_has_its_two_known_ends():
    """Hadamard and Rybczynski (1911): 1 for a drop as stiff as a grain, 3/2 for one that slips wholly, a bubble."""
    assert formulas.mobile_drop_factor(1e3, 1e-4) == pytest.approx(1.0, abs=1e-6)
    assert formulas.mobile_drop_factor(1e-8, 1e-2) == pytest.approx(1.5, abs=1e-5)


@pytest.mark.parametrize("diameter_um", [1, 5, 10, 30, 60, 100, 200])
@pytest.mark.parametrize("density", [998.2, 1025.0, 1090.0, 2600.0])
def test_stokes_law_is_that_of_the_reference_library(diameter_um, density):
    """The `fluids` library's terminal velocity by Stokes' own law: rounding only (1e-6, for its rounded g)."""
    fuel, viscosity = FUEL
    theirs = v_terminal(D=diameter_um * UM, rhop=density, rho=fuel, mu=viscosity, Method="Stokes")
    ours = formulas.settling_speed_m_per_s(diameter_um * UM, density, fuel, viscosity)
    assert ours == pytest.approx(theirs, rel=1e-6)


@pytest.mark.parametrize(
    ("formula", "given", "named"),
    [
        (formulas.settling_speed_m_per_s, (0.0, 998.2, 836.0, 4e-3), "drop diameter"),
        (formulas.settling_speed_m_per_s, (1e-4, 998.2, 0.0, 4e-3), "density of the liquid"),
        (formulas.mobile_drop_factor, (0.0, 4e-3), "dynamic viscosity of the drop"),
        (formulas.settling_time_s, (0.2, 0.0), "settling speed"),
    ],
)
def test_nonsense_is_refused_by_name(formula, given, named):
    """Every door names what was given and what is allowed."""
    with pytest.raises(OutOfRange, match=rf"^{named} was given as .*allowed is"):
        formula(*given)
