"""Every word of the page with the sums, apart from the sums themselves."""

from __future__ import annotations

SUMS_PAGE: dict[str, str] = {
    "page": "Sums",
    "ticket_title": "Which ticket?",
    "ticket_help": "A ticket is a short code. It decides which figures you get.",
    "ticket_label": "Type the ticket your instructor gave you",
    "ticket_do": "Open with this ticket",
    "ticket_fresh": "Practise with a fresh ticket",
    "ticket_is": "Ticket",
    "ticket_other": "Use another ticket",
    "practice": "practice",
    "answer": "Your answer",
    "keep": "Keep my answers",
    "check": "Check my answers",
    "kept": "Kept. {given} of {all} are answered. You can change them until you hand in.",
    "checked": "Marked: {points} of {most} points. Under each sum stands how it is worked.",
    "no_room": "Your answers could not be written: {reason}. Make room on the disk, then press again; what you typed "
    "stands here still.",
    "not_understood": "That was not understood. Open this page again; what was kept is not lost.",
    "help": "A number is enough, with a point or a comma. A calculator and paper are welcome. Within a few per cent is "
    "right.",
    "instructor": "Your instructor marks these. Press “Keep my answers”, save the page, and hand in both files.",
    "practice_help": "You practise: “Check my answers” marks them at once. A fresh ticket gives other figures.",
}
