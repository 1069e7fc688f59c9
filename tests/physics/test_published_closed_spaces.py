"""Squeezed air, a sealed tank, hand priming and an injector line against published formulas."""

from __future__ import annotations

import math

import pytest
from printed_tables import A_THOUSANDTH, assert_printed, read_rows

from engine_sim.errors import OutOfRange
from engine_sim.fluids import air, diesel_fuel, formulas
from engine_sim.units import CUBIC_MILLIMETRE_M3, LITRE_M3, MILLILITRE_M3, STANDARD_ATMOSPHERE_PA

LINE_M3 = 1.5 * MILLILITRE_M3
STROKE_M3 = 60 * CUBIC_MILLIMETRE_M3
SIX_INCHES_OF_MERCURY_PA = 6 * 3386.389  # NIST SP 811
OPENING_PA = 13.5e6  # 1 960 psi, US Army OD1616
BULK_PA = diesel_fuel.BULK_MODULUS.value


@pytest.mark.parametrize("row", read_rows("gas_squeezed.csv"))
def test_gas_is_squeezed_as_boyle_says(row):
    """Boyle's law, within 0.1 %."""
    there_pa = STANDARD_ATMOSPHERE_PA + float(row["pressure change [kPa]"]) * 1e3
    volume = air.isothermal_volume_m3(50 * MILLILITRE_M3, STANDARD_ATMOSPHERE_PA, there_pa)
    assert_printed(volume / MILLILITRE_M3, row["volume [mL]"], relative=A_THOUSANDTH)


@pytest.mark.parametrize("row", read_rows("hand_priming.csv"))
def test_priming_by_hand_takes_whole_strokes(row):
    """Continuity; one stroke a second, so the printed time is the count in seconds."""
    strokes = formulas.priming_strokes(
        float(row["volume [L]"]) * LITRE_M3, float(row["stroke [mL]"]) * MILLILITRE_M3, float(row["efficiency [1]"])
    )
    assert strokes == int(row["strokes [1]"])
    assert f"{strokes // 60}:{strokes % 60:02d}" == row["time [min:s]"]


@pytest.mark.parametrize("row", read_rows("injector_line.csv"))
def test_air_in_an_injector_line_eats_the_stroke(row):
    """Compressible fuel with a bubble in it (Merritt, from memory), within 0.1 %; opening pressure of OD1616."""
    pressure = formulas.injection_line_pressure_pa(
        LINE_M3, float(row["air [mm3]"]) * CUBIC_MILLIMETRE_M3, STROKE_M3, BULK_PA
    )
    assert_printed(pressure / 1e6, row["pressure [MPa]"], relative=A_THOUSANDTH)
    assert (pressure >= OPENING_PA) == (row["opens [yes/no]"] == "yes")


@pytest.mark.parametrize("row", read_rows("injector_line_threshold.csv"))
def test_the_air_that_keeps_an_injector_shut(row):
    """The same formula solved for the air, and put back into the pressure."""
    opening_pa = float(row["opening pressure [MPa]"]) * 1e6
    held = formulas.air_that_stops_injection_m3(LINE_M3, opening_pa, STROKE_M3, BULK_PA)
    assert_printed(held / CUBIC_MILLIMETRE_M3, row["air [mm3]"], relative=A_THOUSANDTH)
    assert formulas.injection_line_pressure_pa(LINE_M3, held, STROKE_M3, BULK_PA) == pytest.approx(opening_pa, rel=1e-9)


@pytest.mark.parametrize("air_mm3", [0.0, 1e-3, 1.0, 46.44, 59.99, 60.0, 61.0, 500.0, 1499.0, 1500.0])
@pytest.mark.parametrize("stroke_mm3", [0.0, 1e-3, 30.0, 60.0, 1000.0])
def test_the_line_pressure_solves_its_equation(air_mm3, stroke_mm3):
    """(p-p0)(V-Va)/K + Va(1-p0/p) = dV, put back, also where two large numbers nearly cancel."""
    air_m3, stroke_m3 = air_mm3 * CUBIC_MILLIMETRE_M3, stroke_mm3 * CUBIC_MILLIMETRE_M3
    pressure = formulas.injection_line_pressure_pa(LINE_M3, air_m3, stroke_m3, BULK_PA)
    ambient = STANDARD_ATMOSPHERE_PA
    taken = (pressure - ambient) * (LINE_M3 - air_m3) / BULK_PA + air_m3 * (1 - ambient / pressure)
    assert pressure >= ambient * (1 - 1e-9)
    assert taken == pytest.approx(stroke_m3, rel=1e-9, abs=1e-9 * LINE_M3)


@pytest.mark.parametrize("row", read_rows("sealed_tank.csv"))
def test_a_tank_without_breather_holds_its_fuel_back(row):
    """Boyle's law, within 0.1 %; put back through its inverse."""
    space, drawn = float(row["air space [L]"]) * LITRE_M3, float(row["drawn [L]"]) * LITRE_M3
    suction = formulas.sealed_ullage_suction_pa(space, drawn)
    assert_printed(suction / 1e3, row["suction [kPa]"], relative=A_THOUSANDTH)
    assert formulas.drawn_at_suction_m3(space, suction) == pytest.approx(drawn, rel=1e-9)


@pytest.mark.parametrize("row", read_rows("sealed_tank_time.csv"))
def test_the_time_until_a_sealed_tank_starves_the_pump(row):
    """Boyle's law to 6 inHg (US Army TM 5-3895-346-14) at 2 L/h net."""
    drawn = formulas.drawn_at_suction_m3(float(row["air space [L]"]) * LITRE_M3, SIX_INCHES_OF_MERCURY_PA) / LITRE_M3
    if row["drawn [L]"]:
        assert_printed(drawn, row["drawn [L]"], relative=A_THOUSANDTH)
    assert_printed(drawn / 2.0 * 60, row["time [min]"], relative=A_THOUSANDTH)


@pytest.mark.parametrize(
    ("formula", "given", "named"),
    [
        (air.isothermal_volume_m3, (-1e-6, 1e5, 1e5), "gas volume"),
        (air.isothermal_volume_m3, (1e-6, 1e5, 0.0), "absolute gas pressure"),
        (formulas.priming_strokes, (4e-4, 0.0), "stroke"),
        (formulas.priming_strokes, (4e-4, 2e-6, 1.2), "lever efficiency"),
        (formulas.injection_line_pressure_pa, (LINE_M3, 2e-6, STROKE_M3, BULK_PA), "air in the line"),
        (formulas.injection_line_pressure_pa, (LINE_M3, 0.0, LINE_M3, BULK_PA), "plunger stroke"),
        (formulas.injection_line_pressure_pa, (LINE_M3, 0.0, STROKE_M3, 0.0), "bulk modulus"),
        (formulas.air_that_stops_injection_m3, (LINE_M3, 1e5, STROKE_M3, BULK_PA), "opening pressure"),
        (formulas.sealed_ullage_suction_pa, (0.0, 1e-3), "ullage"),
        (formulas.sealed_ullage_suction_pa, (0.02, math.nan), "drawn volume"),
        (formulas.drawn_at_suction_m3, (0.02, 101_325.0), "suction"),
    ],
)
def test_nonsense_is_refused_by_name(formula, given, named):
    """Every door names what was given and what is allowed."""
    with pytest.raises(OutOfRange, match=rf"^{named} was given as .*allowed is"):
        formula(*given)
