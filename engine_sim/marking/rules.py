"""The rules of method as data. They are a partial order: any way of working that keeps them earns all their points.

What is purely for safety's sake is marked by the safety mark and is not among them.
"""

from __future__ import annotations

from engine_sim.marking.judges import Rule
from engine_sim.marking.rules_bleeding import BLEEDING
from engine_sim.marking.rules_changes import CHANGES
from engine_sim.marking.rules_precedence import PRECEDENCE
from engine_sim.marking.rules_procedures import PROCEDURES

RULES: tuple[Rule, ...] = (*PRECEDENCE, *CHANGES, *PROCEDURES, *BLEEDING)
