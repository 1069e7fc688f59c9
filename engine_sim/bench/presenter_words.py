"""The words of the page for the wall: setting a fault, the class's choice, and going through a logbook again."""

from __future__ import annotations

TELLS = {
    "title": "At the wall",
    "set_title": "Set a fault for the room",
    "set_help": "Turn the projector off, or let the course draw a fault that you don't know yourself. Once it is "
    "set it is hidden until you show it.",
    "boat": "Boat",
    "fault": "What is wrong",
    "place": "Where",
    "set_do": "Set it and hide it",
    "draw_do": "Draw one for me",
    "replay_title": "Go through a logbook",
    "replay_help": "Choose the file of an exercise that ends in .logbook.jsonl; it lies beside the exercise's page. "
    "You go through it step by step, with what could be known after each.",
    "replay_file": "Logbook file",
    "vote": "What next? Show of hands, then press its number.",
    "vote_none": "There is nothing more to check. What is it, and how is it cured?",
    "left": "Still possible: {left}",
    "known": "Only one thing is possible now.",
    "show_do": "Show what it was",
    "again_do": "Another fault",
    "was": "It was: {what}.",
    "next": "Next step",
    "previous": "Step back",
    "first": "To the beginning",
    "last": "To the end",
    "leave_replay": "Put the logbook away",
    "step": "Step {now} of {of}",
    "start": "Before the first step",
    "not_a_logbook": "That file is no logbook of this course. Choose one that ends in .logbook.jsonl. ({why})",
    "story": "Something is wrong on this boat. Find it together: one check at a time.",
    "thinking": "Thinking through all that can be wrong on this boat. The first time it can take half a minute.",
    "chosen": "Choose boat, fault and place first.",
}
