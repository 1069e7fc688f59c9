"""An attempt: one play of one scenario, kept in a logbook, and played again from it."""

from engine_sim.attempt.attempt import Attempt
from engine_sim.attempt.film import Glimpse
from engine_sim.attempt.logbook import LogbookReading, Record, read_logbook
from engine_sim.attempt.open_exercise import OpenExercise, open_exercise
from engine_sim.attempt.records import Diagnosis, Offer, PartInfo, Step, VolumeXRay, XRay
from engine_sim.attempt.replay import Replay, Watch, play_record, replay
from engine_sim.observations import Observation

__all__ = [
    "Attempt",
    "Diagnosis",
    "Glimpse",
    "LogbookReading",
    "Observation",
    "Offer",
    "OpenExercise",
    "PartInfo",
    "Record",
    "Replay",
    "Step",
    "VolumeXRay",
    "Watch",
    "XRay",
    "open_exercise",
    "play_record",
    "read_logbook",
    "replay",
]
