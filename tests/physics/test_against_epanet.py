"""Steady flows in random networks against EPANET 2.2 (US EPA), called through the ``wntr`` package.

EPANET solves the same networks by another method (global gradient, Todini and Pilati 1988), with its own laminar
branch of Darcy-Weisbach below a Reynolds number of 2000. It is asked for its finest accuracy, and networks that it
cannot balance so finely are left for the next one drawn. A flow counts as equal within 1 %.
Two rows are wider, for a reason:

- A hose whose flow is the small difference of two nearly equal heads magnifies what the two programs do differently
  (gravity 32.2 ft/s2 there, 0.08 %; our valves turn linear below 0.2 Pa). It is compared within 0.1 % of the
  network's largest flow.
- Beyond the laminar branch EPANET has Swamee and Jain's formula from a Reynolds number of 4000 on, and a cubic of its
  own between (Dunlop); ours are Blasius and another cubic. No two handbooks agree between 2000 and 4000.
"""

from __future__ import annotations

import math

import pytest
from epanet_networks import (
    VISCOSITY_M2_PER_S,
    Epanet,
    Hose,
    Network,
    epanet_text,
    our_circuit,
    random_network,
    surface_m,
)
from small_circuits import flow_m3_per_s

from engine_sim.circuit import advance

NETWORKS = 200
LAMINAR_BELOW = 2000.0
WITHIN = 0.01
OF_THE_LARGEST = 0.001


def reynolds(hose: Hose, flow: float) -> float:
    """4 q / (pi D nu)."""
    return 4.0 * abs(flow) / (math.pi * hose.bore_m * VISCOSITY_M2_PER_S)


def both_flows(network: Network, folder) -> list[tuple[Hose, float, float]]:
    """Every hose with our flow, once all is steady, and EPANET's at the same heads [m3/s]; none if it finds none."""
    state = our_circuit(network)
    advance(state, 2.0)
    heads = [surface_m(state, node) for node in range(len(network.floors_m))]
    with Epanet(epanet_text(network, heads), folder) as other:
        if not other.solve():
            return []
        return [
            (hose, flow_m3_per_s(state, f"hose_{number}.out"), other.flow_m3_per_s(number))
            for number, hose in enumerate(network.hoses)
        ]


def laminar_network(number: int, folder) -> tuple[Network, list[tuple[Hose, float, float]]]:
    """The first network from seed ``1000 * number`` on that EPANET balances and finds laminar throughout."""
    for seed in range(1000 * number, 1000 * number + 100):
        network = random_network(seed)
        flows = both_flows(network, folder)
        if flows and all(reynolds(hose, theirs) < LAMINAR_BELOW for hose, _, theirs in flows):
            return network, flows
    raise AssertionError("no laminar network among a hundred")


def assert_same_flows(flows: list[tuple[Hose, float, float]]) -> None:
    largest = max(abs(theirs) for _, _, theirs in flows)
    for hose, ours, theirs in flows:
        assert ours == pytest.approx(theirs, rel=WITHIN, abs=OF_THE_LARGEST * largest), hose


def test_epanet_reads_our_fuel(tmp_path):
    """Guards the options below: one hose in EPANET obeys Hagen-Poiseuille with our viscosity, to its own gravity."""
    network = Network((0.2, 0.0), (0.1,), (Hose(0, 2, 0.008, 3.0, 1, None), Hose(2, 1, 0.006, 2.0, 1, None)))
    with Epanet(epanet_text(network, [0.5, 0.3]), tmp_path) as other:
        assert other.solve()
        found = other.flow_m3_per_s(0)
    resistance = sum(128.0 * VISCOSITY_M2_PER_S * h.length_m / (math.pi * 9.81456 * h.bore_m**4) for h in network.hoses)
    assert found == pytest.approx(0.2 / resistance, rel=1e-4)


@pytest.mark.parametrize("number", range(NETWORKS))
def test_flows_of_a_random_network_agree_with_epanet(number, tmp_path):
    assert_same_flows(laminar_network(number, tmp_path)[1])


def test_the_networks_are_of_every_sort():
    """Guards the checks above: trees and loops, valves open and nearly shut, small and large."""
    networks = [random_network(1000 * number) for number in range(NETWORKS)]
    assert {network.loops() for network in networks} >= {0, 1, 2, 3}
    assert {len(network.floors_m) for network in networks} == {2, 3, 4}
    valves = [hose.valve for network in networks for hose in network.hoses if hose.valve]
    assert {valve.opening for valve in valves} == {0.3, 1}
    assert max(len(network.hoses) for network in networks) >= 10


@pytest.mark.parametrize(
    ("head_m", "least", "most", "within"),
    [(0.3, 1000, 2000, 0.01), (0.6, 2000, 3000, 0.05), (1.0, 3000, 4000, 0.05), (2.9, 4000, 1e4, 0.015)],
)
def test_hose_from_laminar_to_turbulent(head_m, least, most, within, tmp_path):
    """A wide, short hose under a growing head: laminar, across the gap, turbulent."""
    network = Network((head_m, 0.0), (0.0,), (Hose(0, 2, 0.010, 2.0, 2, None), Hose(2, 1, 0.010, 1.0, 1, None)))
    flows = both_flows(network, tmp_path)
    assert len(flows) == 2
    for hose, ours, theirs in flows:
        assert least < reynolds(hose, theirs) < most
        assert ours == pytest.approx(theirs, rel=within)
