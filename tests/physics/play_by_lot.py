"""Plays work drawn by lot, always the same, and prints digests of the logbook and of every number in the circuit.

``python play_by_lot.py EXERCISE TICKET,TICKET STEPS`` plays each ticket twice, in turn.
"""

from __future__ import annotations

import hashlib
import random
import sys
import tempfile
from pathlib import Path

from engine_sim.attempt import Attempt, open_exercise


def work_by_lot(attempt: Attempt, seed: int, steps: int) -> None:
    """Do so many things out of all that is offered, with a note now and then."""
    chance = random.Random(seed)
    work = [(part.id, offer.action) for part in attempt.parts() for offer in attempt.offers(part.id)]
    for number in range(steps):
        if number % 7 == 3:
            attempt.note(f"note {number} \u2013 as found")
        attempt.act(*chance.choice(work))


def truth(attempt: Attempt) -> str:
    """Return every number of the circuit and the engine's speed, to the last bit."""
    rig = attempt.place.rig
    circuit = rig.circuit
    lists = (
        circuit.fuel_m3,
        circuit.water_m3,
        circuit.air_kg,
        circuit.pressure_pa,
        circuit.flow_m3_per_s,
        circuit.passed_fuel_m3,
        circuit.dirt_kg,
        circuit.dissolved_kg,
    )
    return repr((lists, sorted(circuit.cake_kg.items()), rig.engine.speed_rpm, attempt.clock_s))


def play(exercise: str, ticket: str, steps: int) -> tuple[str, int, str]:
    """Return the digest of the logbook, its lines, and the digest of the truth."""
    with tempfile.TemporaryDirectory() as folder:
        with open_exercise(exercise, ticket, folder) as opened:
            work_by_lot(opened.attempt, 11, steps)
            found = truth(opened.attempt)
        logbook = b"".join(path.read_bytes() for path in sorted(Path(folder).glob("*.jsonl")))
    return hashlib.sha256(logbook).hexdigest(), len(logbook.splitlines()), hashlib.sha256(found.encode()).hexdigest()


def main() -> None:
    """Play what the command line asks for."""
    exercise, tickets, steps = sys.argv[1:]
    for ticket in tickets.split(",") * 2:
        print(ticket, *play(exercise, ticket, int(steps)))


if __name__ == "__main__":
    main()
