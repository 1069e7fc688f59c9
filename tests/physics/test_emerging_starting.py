"""Cranking and what it costs: sea water in the silencer, a dry impeller, charge, heat of the starter, cold.

Common practice, no source, unless a source is named.
"""

from __future__ import annotations

import itertools

import pytest
from rigs import found_rig, runs_for, sound_rig

SPELL_S, REST_S = 10.0, 60.0


def told_to_stop(seacock_open: bool = True):
    """A boat that will not fire, so that it can be cranked on and on."""
    rig = sound_rig()
    rig.engine.stop_pulled = True
    rig.engine.exhaust.seacock_open = seacock_open
    return rig


def crank_on(rig, seconds: float) -> float:
    """Crank in spells with rests between them; return the turns made."""
    turns = 0.0
    for _ in range(int(seconds / SPELL_S)):
        turns += rig.engine.cranking_speed_rpm() * SPELL_S / 60.0
        rig.crank(SPELL_S)
        rig.play(REST_S)
    return turns


def test_long_cranking_with_the_seacock_open_floods_the_silencer_and_then_the_cylinders():
    rig = told_to_stop()
    turns = crank_on(rig, 60.0)
    pumped = 25e-3 * turns / 3000.0
    assert rig.engine.exhaust.silencer_m3 == pytest.approx(pumped, rel=0.05), "25 L/min at 3000 rpm, in proportion"
    assert not rig.engine.exhaust.cylinders_flooded
    crank_on(rig, 90.0)
    assert rig.engine.exhaust.silencer_share() == pytest.approx(1.0)
    assert rig.engine.exhaust.cylinders_flooded
    rig.engine.start_cranking()
    assert rig.engine.cranking_sound() == "thud", "water does not give: the starter is stopped dead"
    rig.engine.release_key()
    rig.engine.stop_pulled = False
    assert not rig.crank(5.0)[1]


def test_with_the_seacock_shut_nothing_is_flooded():
    rig = told_to_stop(seacock_open=False)
    crank_on(rig, 240.0)
    assert rig.engine.exhaust.silencer_share() < 1e-9
    rig.engine.stop_pulled = False
    rig.engine.exhaust.seacock_open = True
    assert runs_for(rig, 60.0) == 60.0


def test_left_shut_after_firing_it_burns_the_impeller_and_overheats():
    rig = sound_rig()
    rig.engine.exhaust.seacock_open = False
    rig.crank(10.0)
    rig.run(20.0, 850.0, in_gear=False)
    assert rig.engine.exhaust.impeller_share > 0.5, "opened at once it is saved"
    rig.run(300.0, 2000.0, in_gear=True)
    assert rig.engine.exhaust.impeller_share < 0.3
    rig.engine.exhaust.seacock_open = True
    rig.run(60.0, 2000.0, in_gear=True)
    assert rig.engine.exhaust.flow_m3_per_s == 0.0, "no water comes out, though the seacock is open again"
    rig.run(600.0, 2000.0, in_gear=True)
    assert rig.engine.overheated()


def test_a_sound_engine_blows_its_silencer_clear():
    rig = told_to_stop()
    crank_on(rig, 60.0)
    rig.engine.stop_pulled = False
    assert runs_for(rig, 60.0) == 60.0
    assert rig.engine.exhaust.silencer_share() < 0.01


def test_each_attempt_costs_charge():
    rig = told_to_stop(seacock_open=False)
    charges = [rig.engine.battery.charge_share]
    for _ in range(5):
        crank_on(rig, SPELL_S)
        charges.append(rig.engine.battery.charge_share)
    assert all(later < earlier for earlier, later in itertools.pairwise(charges))


def test_below_a_limit_it_turns_too_slowly_to_fire():
    speeds, fired = [], []
    for charge in (0.85, 0.4, 0.2, 0.1, 0.05, 0.02):
        rig = sound_rig()
        rig.engine.soak(293.15)
        rig.engine.battery.charge_share = charge
        speeds.append(rig.engine.cranking_speed_rpm())
        fired.append(rig.crank(10.0)[1])
    assert speeds == sorted(speeds, reverse=True)
    assert fired == sorted(fired, reverse=True) and fired[0] and fired[1] and not fired[-2]
    assert speeds[0] > 150.0, "150 to 300 rpm is usual"


def test_cranking_volts_tell_a_flat_battery_from_a_full_one():
    """TM 10-3930-671-24: 180 to 220 A, at least 9.6 V while cranking."""
    full, flat = sound_rig(), sound_rig()
    flat.engine.battery.charge_share = 0.1
    volts = []
    for rig in (full, flat):
        rig.engine.stop_pulled = True
        rig.engine.start_cranking()
        rig.play(2.0)
        volts.append(rig.engine.battery.volts())
    assert volts[0] >= 9.6 > volts[1]
    assert 150.0 < full.engine.cranking_current_a() < 250.0


def test_a_rest_gives_back_some_voltage_but_no_charge():
    rig = told_to_stop(seacock_open=False)
    rig.crank(20.0)
    just_after, charge = rig.engine.battery.volts(), rig.engine.battery.charge_share
    rig.play(600.0)
    assert rig.engine.battery.volts() > just_after + 0.05
    assert rig.engine.battery.charge_share <= charge


def test_the_starter_bears_its_duty_and_burns_past_it():
    """TM 10-3930-671-24 and TM 5-3805-290-23-1: at most 30 s, then at least 2 min."""
    by_the_book, past_it = told_to_stop(seacock_open=False), told_to_stop(seacock_open=False)
    for _ in range(4):
        by_the_book.crank(30.0)
        by_the_book.play(120.0)
        past_it.crank(60.0)
        past_it.play(5.0)
    assert not by_the_book.engine.starter.burnt
    assert past_it.engine.starter.burnt or past_it.engine.starter.winding_k > 400.0
    assert past_it.engine.starter.winding_k > by_the_book.engine.starter.winding_k


@pytest.mark.parametrize("temperature_c", [0.0, 5.0])
def test_cold_without_preheat_it_smokes_white_and_does_not_start(temperature_c):
    """A swirl-chamber engine starts without aid from about 20 degC (a diesel handbook quoted by an encyclopaedia)."""
    rig = found_rig("tank_below", ("no_preheat", "preheat"), temperature_c=temperature_c)
    turned, fired = rig.crank(10.0)
    assert not fired and turned == pytest.approx(10.0)
    assert rig.engine.smoke() == "white"
    assert rig.engine.cranking_sound() == "turns"


def test_cold_with_preheat_it_starts():
    rig = found_rig("tank_below", temperature_c=5.0)
    assert not rig.crank(5.0)[1]
    rig.engine.turn_key_on()
    rig.engine.preheat.on = True
    rig.play(20.0)
    assert 20.0 < rig.engine.preheat.current_a(rig.engine.battery) < 40.0, "8 to 12 A a plug"
    rig.engine.preheat.on = False
    assert rig.crank(10.0)[1]
