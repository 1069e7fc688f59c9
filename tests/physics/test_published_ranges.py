"""The usual figures of the components, and what follows from them, against the ranges that are published or usual.

The last column of each table names the publication, or says that there is none.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from printed_tables import read_rows
from rigs import FUEL, sound_rig

from engine_sim.circuit.rig import Rig
from engine_sim.components import component_kinds
from engine_sim.fluids import diesel_fuel, formulas
from engine_sim.units import LITRE_PER_HOUR_M3_PER_S, STANDARD_ATMOSPHERE_PA, celsius_to_kelvin

# What one printed unit is in SI, and which SI unit a component has to declare for it.
PRINTED = {
    "mm": (1e-3, "m"),
    "cm": (1e-2, "m"),
    "m": (1.0, "m"),
    "mm2": (1e-6, "m2"),
    "mm3": (1e-9, "m3"),
    "mL": (1e-6, "m3"),
    "L": (1e-3, "m3"),
    "L/h": (LITRE_PER_HOUR_M3_PER_S, "m3/s"),
    "L/min": (1e-3 / 60.0, "m3/s"),
    "kPa": (1e3, "Pa"),
    "MPa": (1e6, "Pa"),
    "%": (1e-2, "1"),
    "rpm": (1.0, "1/min"),
    "s": (1.0, "s"),
    "A": (1.0, "A"),
    "V": (1.0, "V"),
    "kW": (1e3, "W"),
    "1": (1.0, "1"),
}
T20 = celsius_to_kelvin(20)
VISCOSITY, DENSITY = diesel_fuel.dynamic_viscosity_pa_s(T20), diesel_fuel.density_kg_per_m3(T20)
THIRTY = 30 * LITRE_PER_HOUR_M3_PER_S
USUAL, DERIVED, RUNNING = (
    read_rows(name) for name in ("usual_figures.csv", "usual_derived_figures.csv", "usual_running_figures.csv")
)
SPEEDS = {"idle": (850.0, False), "cruise": (2000.0, True), "20 kW": (3000.0, True)}


def assert_usual(value: float, row: dict[str, str]) -> None:
    """Hold a value in SI against a printed range, a billionth aside for the conversion."""
    scale = PRINTED[row["unit [name]"]][0]
    low, high = float(row["low [printed]"]) * scale, float(row["high [printed]"]) * scale
    shown = f"{value / scale:g} {row['unit [name]']}, usual {row['low [printed]']} to {row['high [printed]']}"
    assert low - 1e-9 * abs(low) <= value <= high + 1e-9 * abs(high), f"{shown} by {row['source [named]']}"


@pytest.mark.parametrize("row", USUAL, ids=lambda row: f"{row['kind [name]']}.{row['figure [name]']}")
def test_a_usual_figure_lies_in_its_usual_range(row):
    """Each row names its source."""
    figures = {parameter.name: parameter for parameter in component_kinds()[row["kind [name]"]].parameters}
    usual = figures[row["figure [name]"]].usual
    assert usual.unit == PRINTED[row["unit [name]"]][1]
    assert_usual(usual.value, row)


@pytest.mark.parametrize("row", USUAL, ids=lambda row: f"{row['kind [name]']}.{row['figure [name]']}")
def test_the_usual_range_lies_in_what_a_layout_may_say(row):
    """A layout may hold anything that is usual, so nobody is refused for a sound boat."""
    figures = {parameter.name: parameter for parameter in component_kinds()[row["kind [name]"]].parameters}
    parameter, scale = figures[row["figure [name]"]], PRINTED[row["unit [name]"]][0]
    assert parameter.low <= float(row["low [printed]"]) * scale * (1 + 1e-9)
    assert float(row["high [printed]"]) * scale <= parameter.high * (1 + 1e-9)


def usual(kind: str, figure: str) -> float:
    """Return the usual value of a component's figure."""
    return next(each.usual.value for each in component_kinds()[kind].parameters if each.name == figure)


def clean_drop_pa(kind: str) -> float:
    """Return what a clean element loses at 30 L/h, Ruth (1935)."""
    return formulas.cake_pressure_drop_pa(
        THIRTY, usual(kind, "element_area_m2"), VISCOSITY, usual(kind, "medium_resistance_1_per_m"), 0.0
    )


def lift_m(suction_pa: float) -> float:
    """Return how high a suction lifts fuel at 20 degC."""
    return suction_pa / formulas.head_pressure_pa(DENSITY, 1.0)


def lift_on_air_pa() -> float:
    """Return the suction at which a dry lift pump's dead volume swallows its whole stroke, Boyle's law."""
    ratio = usual("lift_pump", "stroke_m3") / usual("lift_pump", "dead_volume_m3")
    return STANDARD_ATMOSPHERE_PA * ratio / (1.0 + ratio)


FOLLOWS: dict[str, Callable[[], float]] = {
    "return apart from pick-up in a tank": lambda: abs(
        usual("tank", "return_along_m") - usual("tank", "pick_up_along_m")
    ),
    "air space of a tank filled as usual": lambda: 1.0 - usual("tank", "filled_share"),
    "bowl of a separator": lambda: usual("separator", "element_from") * usual("separator", "volume_m3"),
    "lever stroke that arrives": lambda: usual("lift_pump", "stroke_m3") * usual("lift_pump", "stroke_efficiency"),
    "lift of a lift pump on fuel": lambda: lift_m(usual("lift_pump", "suction_limit_pa")),
    "clean fine filter at 30 L/h": lambda: clean_drop_pa("fine_filter"),
    "clean separator at 30 L/h": lambda: clean_drop_pa("separator"),
    "pressure inside a rotary pump at 3000 rpm": lambda: (
        3000.0 * usual("rotary_injection_pump", "regulated_pa_per_rpm")
    ),
}


@pytest.mark.parametrize("row", DERIVED, ids=lambda row: row["what [name]"])
def test_what_follows_from_the_figures_lies_in_its_usual_range(row):
    """Each row names its source."""
    assert_usual(FOLLOWS[row["what [name]"]](), row)


def test_a_dry_lift_pump_lifts_less_than_a_wet_one():
    """Common practice, no source; by Boyle's law on its dead volume it follows from the figures."""
    assert 0.0 < lift_m(lift_on_air_pa()) < 0.5 * lift_m(usual("lift_pump", "suction_limit_pa"))


def running(rig: Rig, speed_rpm: float, in_gear: bool) -> dict[str, float]:
    """Return what a running engine shows after two minutes, flows averaged over five."""
    assert rig.crank(10.0)[1]
    rig.run(120.0, speed_rpm, in_gear)
    burned, over = rig.engine.injected_m3, rig.passed("injection_pump.overflow")[FUEL]
    rig.run(300.0, speed_rpm, in_gear)
    burned_m3_per_s = (rig.engine.injected_m3 - burned) / 300.0
    found = {
        "burned": burned_m3_per_s,
        "injected": formulas.injected_volume_m3(burned_m3_per_s, len(rig.engine.lines), speed_rpm),
        "overflow to the tank": (rig.passed("injection_pump.overflow")[FUEL] - over) / 300.0,
        "suction at the lift pump": STANDARD_ATMOSPHERE_PA - pressure_pa(rig, "lift_pump.inlet"),
        "delivery of the lift pump": pressure_pa(rig, "lift_pump.outlet") - STANDARD_ATMOSPHERE_PA,
        "gallery pressure": pressure_pa(rig, "injection_pump.gallery") - STANDARD_ATMOSPHERE_PA,
    }
    rig.stop_engine()
    return found


def pressure_pa(rig: Rig, volume: str) -> float:
    """Return the absolute pressure in a volume."""
    return rig.circuit.pressure_pa[rig.topology.volume_number(volume)]


def cranking(rig: Rig) -> dict[str, float]:
    """Return what the starter shows after a second's turning, the stop control pulled so that nothing fires."""
    rig.engine.stop_pulled = True
    rig.engine.start_cranking()
    rig.play(1.0)
    found = {"cranking speed": rig.engine.speed_rpm, "cranking volts": rig.engine.cranking_volts()[-1]}
    rig.engine.release_key()
    return found


@pytest.fixture(scope="module")
def shown() -> dict[str, dict[str, float]]:
    """What the boat with its tank below shows on the starter, at idle, cruise and full power."""
    rig = sound_rig()
    shown = {name: running(rig, *speed) for name, speed in SPEEDS.items()}
    return shown | {"cranking": cranking(rig)}


@pytest.mark.parametrize("row", RUNNING, ids=lambda row: row["what [name]"])
def test_a_running_engine_shows_what_is_usual(shown, row):
    """At every speed, or at the one that the row names; nothing here is set, all of it follows from the circuit."""
    name, _, speed = row["what [name]"].partition(" at ")
    if speed in SPEEDS:
        assert_usual(shown[speed][name], row)
    else:
        values = [found[row["what [name]"]] for found in shown.values() if row["what [name]"] in found]
        assert values, f"nothing shows {row['what [name]']}"
        for value in values:
            assert_usual(value, row)
