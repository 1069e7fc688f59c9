"""Friction from laminar to turbulent flow, fittings and holes, against a reference library and against measurements."""

from __future__ import annotations

import itertools
import math

import pytest
from fluids.core import Reynolds, dP_from_K
from fluids.fittings import entrance_sharp, entrance_sharp_methods, exit_normal
from fluids.flow_meter import C_Reader_Harris_Gallagher, flow_meter_discharge
from fluids.friction import Blasius, Churchill_1977, friction_factor, one_phase_dP, oregon_smooth_data

from engine_sim.errors import OutOfRange
from engine_sim.fluids import diesel_fuel, formulas, petrol, water
from engine_sim.fluids.flow import ENTRY_AND_EXIT_LOSS, LAMINAR_LIMIT, SHARP_EDGE_DISCHARGE
from engine_sim.fluids.friction import BLASIUS_FACTOR, TURBULENT_FROM
from engine_sim.units import LITRE_PER_HOUR_M3_PER_S, celsius_to_kelvin

MM = 1e-3
T20 = celsius_to_kelvin(20)
FUEL = (diesel_fuel.kinematic_viscosity_m2_per_s(T20), diesel_fuel.density_kg_per_m3(T20))
WATER = (water.dynamic_viscosity_pa_s(T20) / water.fresh_density_kg_per_m3(T20), water.fresh_density_kg_per_m3(T20))
PETROL = (petrol.kinematic_viscosity_m2_per_s(T20), petrol.density_kg_per_m3(T20))
LAMINAR = [1.0, 10.0, 100.0, 300.0, 700.0, 1000.0, 1500.0, 1900.0, 1999.9, 2000.0]
TRANSITION = [2000.0 + 20.0 * step for step in range(101)]
TURBULENT = [4000.0 * 25.0 ** (step / 40.0) for step in range(41)]


def our_friction_factor(reynolds: float) -> float:
    """Return Darcy's friction factor that belongs to our factor on the laminar loss."""
    return 64.0 / reynolds * formulas.turbulent_factor(reynolds)


@pytest.mark.parametrize("reynolds", LAMINAR)
def test_laminar_friction_is_that_of_the_reference_library(reynolds):
    """The `fluids` library, Hagen-Poiseuille: rounding only (1e-12). Nothing is added up to Reynolds 2 000."""
    assert formulas.turbulent_factor(reynolds) == 1.0
    assert our_friction_factor(reynolds) == pytest.approx(friction_factor(reynolds), rel=1e-12)


@pytest.mark.parametrize("reynolds", TURBULENT)
def test_turbulent_friction_is_blasius_formula(reynolds):
    """The `fluids` library's Blasius: rounding only (1e-12).

    Against its default, Colebrook's equation for a smooth pipe solved exactly, 3 %: Blasius' power law is a fit to
    measurements, and that is how far it lies from the logarithmic law up to Reynolds 100 000.
    """
    assert our_friction_factor(reynolds) == pytest.approx(Blasius(reynolds), rel=1e-12)
    assert our_friction_factor(reynolds) == pytest.approx(friction_factor(reynolds, eD=0.0), rel=0.03)


@pytest.mark.parametrize("reynolds", TRANSITION)
def test_the_transition_lies_between_the_two_laws(reynolds):
    """Between the library's laminar and Blasius' factor at the same Reynolds number.

    Within 21 % of Churchill's (1977) curve through all regimes: neither is a law there, for flow switches to and fro.
    """
    ours = our_friction_factor(reynolds)
    assert 64.0 / reynolds * (1 - 1e-12) <= ours <= Blasius(reynolds) * (1 + 1e-12)
    assert ours == pytest.approx(Churchill_1977(reynolds, 0.0), rel=0.21)


@pytest.mark.parametrize(
    ("low", "high", "allowed"), [(50.0, 2000.0, 0.15), (2000.0, 4000.0, 0.20), (4000.0, 1e5, 0.07)]
)
def test_friction_agrees_with_measurements_in_a_smooth_pipe(low, high, allowed):
    """University of Oregon's measurements in McKeon et al., J. Fluid Mech. 511 (2004) 41, as the library reprints them.

    15 % where laminar: the measured ones lie above 64/Re, for those pressure drops are a few pascals; 20 % in the
    transition, where neighbouring readings scatter by as much; 7 % where turbulent, for one stray reading (else 3 %).
    """
    measured = [(re, f) for re, f in zip(*oregon_smooth_data, strict=True) if low <= re < high]
    assert len(measured) >= 9
    for reynolds, factor in measured:
        assert our_friction_factor(reynolds) == pytest.approx(factor, rel=allowed)


def test_the_factor_has_no_step_and_no_kink_and_never_falls():
    """Value and slope meet at Reynolds 2 000 and 4 000; a solver would stumble over anything else."""
    for joint in (LAMINAR_LIMIT.value, TURBULENT_FROM.value):
        below, at, above = (formulas.turbulent_factor(joint + step) for step in (-0.01, 0.0, 0.01))
        assert above - at == pytest.approx(at - below, abs=1e-7)
    factors = [formulas.turbulent_factor(reynolds) for reynolds in [*LAMINAR, *TRANSITION, *TURBULENT]]
    assert all(more >= less for less, more in itertools.pairwise(factors))


@pytest.mark.parametrize("reynolds", [100.0, 2100.0, 2700.0, 3500.0, 3999.0, 4500.0, 50_000.0])
def test_the_exponent_is_the_slope_of_the_factor(reynolds):
    """``d ln F / d ln Re`` by a central difference; 1e-5 for its rounding."""
    step = 1e-5
    above, below = (formulas.turbulent_factor(reynolds * (1 + sign * step)) for sign in (1, -1))
    slope = math.log(above / below) / math.log((1 + step) / (1 - step))
    assert formulas.turbulent_exponent(reynolds) == pytest.approx(slope, abs=1e-5)


@pytest.mark.parametrize("reynolds", [*LAMINAR, *TRANSITION[1:], *TURBULENT, 1e6])
def test_the_two_shares_make_up_the_factor(reynolds):
    """Their sum is the factor; both stay positive, and the linear one never vanishes, even in the transition."""
    linear, square = formulas.friction_shares(reynolds)
    assert linear + square == pytest.approx(formulas.turbulent_factor(reynolds), rel=1e-12)
    assert linear >= 0.05 * (1 - 1e-9) and square >= 0.0


HOSES = [
    (bore_mm, litres_per_hour, liquid)
    for bore_mm in (4, 6, 8, 10)
    for litres_per_hour in (1, 30, 60, 120, 300, 600, 1200)
    for liquid in (FUEL, WATER, PETROL)
    if 4 * litres_per_hour * LITRE_PER_HOUR_M3_PER_S / (math.pi * bore_mm * MM * liquid[0]) < 1e5  # Blasius' range
]


@pytest.mark.parametrize(("bore_mm", "litres_per_hour", "liquid"), HOSES)
def test_a_hose_agrees_with_the_library_outside_the_transition(bore_mm, litres_per_hour, liquid):
    """Darcy-Weisbach with the library's own factor for a smooth pipe: 1e-9 laminar, 3 % turbulent (Blasius' fit).

    Inside the transition the library jumps from one law to the other at Reynolds 2 040; ours lies between the two.
    """
    kinematic, density = liquid
    bore, flow = bore_mm * MM, litres_per_hour * LITRE_PER_HOUR_M3_PER_S
    reynolds = Reynolds(V=flow / formulas.bore_area_m2(bore), D=bore, nu=kinematic)
    ours = formulas.hose_pressure_drop_pa(flow, bore, 3.0, kinematic, density)
    theirs = one_phase_dP(flow * density, rho=density, mu=kinematic * density, D=bore, roughness=0.0, L=3.0)
    if reynolds <= 2000.0:
        assert ours == pytest.approx(theirs, rel=1e-9)
    elif reynolds >= 4000.0:
        assert ours == pytest.approx(theirs, rel=0.03)
    else:
        laminar = theirs * 64.0 / reynolds / friction_factor(reynolds, eD=0.0)
        assert laminar <= ours <= laminar * Blasius(reynolds) * reynolds / 64.0


def test_the_hoses_reach_every_regime():
    """Guards the check above: each regime holds a fair number of its points."""
    counts = {"laminar": 0, "transition": 0, "turbulent": 0}
    for bore_mm, litres_per_hour, (kinematic, _) in HOSES:
        reynolds = formulas.reynolds_number(litres_per_hour * LITRE_PER_HOUR_M3_PER_S, bore_mm * MM, kinematic)
        counts["laminar" if reynolds <= 2000 else "turbulent" if reynolds >= 4000 else "transition"] += 1
    assert counts["laminar"] >= 20 and counts["transition"] >= 8 and counts["turbulent"] >= 20


@pytest.mark.parametrize("reynolds", [0.0, 1.0, 1999.0, 2050.0, 2500.0, 3000.0, 3900.0, 4000.0, 20_000.0, 99_000.0])
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_the_flow_loses_again_what_drove_it(reynolds, sign):
    """The inverse, found by the solver's own way of splitting the loss, put back; 1e-12."""
    kinematic, density = WATER
    flow = sign * reynolds * math.pi * 8 * MM * kinematic / 4.0
    drop = formulas.hose_pressure_drop_pa(flow, 8 * MM, 3.0, kinematic, density)
    assert formulas.hose_flow_m3_per_s(drop, 8 * MM, 3.0, kinematic, density) == pytest.approx(flow, rel=1e-12)


@pytest.mark.parametrize("heads", [0.2, 1.0, 1.5, 2.5, 4.0])
@pytest.mark.parametrize("bore_mm", [2, 6, 8, 10])
def test_a_fitting_agrees_with_the_reference_library(heads, bore_mm):
    """The `fluids` library's loss of so many velocity heads; rounding only (1e-12)."""
    area, density, flow = formulas.bore_area_m2(bore_mm * MM), FUEL[1], 60 * LITRE_PER_HOUR_M3_PER_S
    ours = formulas.local_loss_pa_s2_per_m6(density, area, heads) * flow**2
    assert ours == pytest.approx(dP_from_K(heads, rho=density, V=flow / area), rel=1e-12)


@pytest.mark.parametrize("method", entrance_sharp_methods)
def test_a_sharp_entry_and_an_exit_cost_what_handbooks_say(method):
    """The library's handbooks give 0.50 to 0.57 for a sharp entry (Crane, Idelchik, Miller, Rennels) and 1 for an exit.

    5 %: that is how far the handbooks differ from each other.
    """
    assert ENTRY_AND_EXIT_LOSS.value == pytest.approx(entrance_sharp(method=method) + exit_normal(), rel=0.05)


@pytest.mark.parametrize("hole_mm", [0.5, 1.0, 2.0, 4.0])
@pytest.mark.parametrize("drop_pa", [1e3, 1e4, 1e5])
def test_a_hole_agrees_with_the_librarys_orifice_equation(hole_mm, drop_pa):
    """ISO 5167 orifice equation as the `fluids` library has it, given the same discharge coefficient.

    Twenty times as wide a pipe before the hole, so that the speed of approach does not count: 1e-5.
    """
    density, coefficient, hole = FUEL[1], 0.62, hole_mm * MM
    loss = formulas.orifice_loss_pa_s2_per_m6(density, formulas.bore_area_m2(hole), coefficient)
    theirs = flow_meter_discharge(D=20 * hole, Do=hole, P1=2e5 + drop_pa, P2=2e5, rho=density, C=coefficient)
    assert math.sqrt(drop_pa / loss) * density == pytest.approx(theirs, rel=1e-5)


def test_a_sharp_edge_passes_what_iso_5167_says():
    """Reader-Harris and Gallagher's equation (ISO 5167-2) at the least bore ratio and Reynolds 1e5: within 5 %.

    ISO 5167 covers pipes from 50 mm and ratios from 0.1; a bleed screw's slit is neither, so its 0.60 is a guide.
    """
    theirs = C_Reader_Harris_Gallagher(D=0.1, Do=0.01, rho=998.2, mu=1e-3, m=math.pi * 0.1 * 1e-3 * 1e5 / 4)
    assert SHARP_EDGE_DISCHARGE.value == pytest.approx(theirs, rel=0.05)


def test_blasius_number_is_the_printed_one():
    """Blasius (1913): 0.3164, as the library's formula has it at Reynolds 1."""
    assert Blasius(1.0) == BLASIUS_FACTOR.value


@pytest.mark.parametrize(
    ("formula", "given", "named"),
    [
        (formulas.hose_pressure_drop_pa, (1e-3, 0.008, 3.0, 1e-6, 998.0), "Reynolds number in a hose"),
        (formulas.hose_pressure_drop_pa, (1e-5, 0.0, 3.0, 1e-6, 998.0), "bore"),
        (formulas.hose_pressure_drop_pa, (1e-5, 0.008, 3.0, 0.0, 998.0), "kinematic viscosity"),
        (formulas.hose_flow_m3_per_s, (1e3, 0.008, 0.0, 1e-6, 998.0), "length of a hose that limits the flow"),
        (formulas.hose_flow_m3_per_s, (math.nan, 0.008, 3.0, 1e-6, 998.0), "pressure drop"),
        (formulas.hose_flow_m3_per_s, (1e7, 0.008, 3.0, 1e-6, 998.0), "Reynolds number in a hose"),
    ],
)
def test_nonsense_is_refused_by_name(formula, given, named):
    """Every door names what was given and what is allowed."""
    with pytest.raises(OutOfRange, match=rf"^{named} was given as .*allowed is"):
        formula(*given)
