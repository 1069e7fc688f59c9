"""A short program by somebody who has only the front page plays a whole exercise: list, do, read, say, hand in."""

from __future__ import annotations

from engine_sim.attempt import Attempt, Diagnosis
from engine_sim.scenarios import SetFault, compose_scenario


def test_a_program_that_reads_only_sentences_finds_the_shut_valve_and_cures_it():
    attempt = Attempt(compose_scenario("tank_below", [SetFault("shut_valve", "shut_off")]))
    evidence = []
    for part in attempt.parts():
        looks = [offer for offer in attempt.offers(part.id) if offer.action == "look" and not offer.why_not]
        for offer in looks:
            for seen in attempt.act(part.id, offer.action).observations:
                if "across the pipe" in seen.text:
                    evidence.append(seen.number)
                    said = Diagnosis(part.id, "shut_valve", (seen.number,))
    attempt.diagnose(said)
    assert ("shut_off", "open") in attempt.possible_now()
    attempt.act("shut_off", "open")
    while attempt.outside()["engine"] != "running":
        assert attempt.clock_s < 3600.0
        attempt.act("lift_pump", "lever_60")
        attempt.act("starter", "crank_10")
    assert any("evenly" in seen.text for seen in attempt.act("engine", "run_cruise_5min").observations)
    attempt.hand_in()
    assert attempt.handed_in and attempt.possible_now() == ()
    assert attempt.diagnosis == said and attempt.diagnosis.evidence == tuple(evidence)
