"""The page with the sums, without a browser: tickets, answers that are kept, and marks at once for practice only."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine_sim.bench.sums_page import SumsDesk
from engine_sim.marking.sums import SUMS, figures_of, last_answers, mark_sums
from engine_sim.marking.sums.marking import rounded
from engine_sim.scenarios import new_ticket


def right_answers(ticket: str) -> dict[str, str]:
    return {item.id: rounded(item.right(figures_of(item, ticket))) for item in SUMS}


def opened(folder: Path, ticket: str = "") -> SumsDesk:
    desk = SumsDesk(folder)
    desk.handle({"action": "ticket", "text": ticket} if ticket else {"action": "fresh"})
    return desk


def test_a_ticket_is_asked_for_first_and_a_mistyped_one_is_refused_in_words(tmp_path: Path) -> None:
    desk = SumsDesk(tmp_path)
    assert desk.shown()["mode"] == "ticket"
    desk.handle({"action": "ticket", "text": "0000"})
    assert desk.shown()["mode"] == "ticket" and desk.warning and "is not a ticket" in desk.notice


def test_answers_are_kept_and_stand_there_when_the_page_is_opened_again(tmp_path: Path) -> None:
    ticket = new_ticket()
    answers = right_answers(ticket)
    opened(tmp_path, ticket).handle({"action": "keep", "answers": answers})
    again = SumsDesk(tmp_path)
    shown = again.shown()
    assert {row["id"]: row["answer"] for row in shown["sums"]} == answers
    assert mark_sums((tmp_path / "sums.logbook.jsonl").read_bytes(), ticket).findings == ()


def test_practice_is_marked_at_once_and_an_instructors_ticket_is_not(tmp_path: Path) -> None:
    desk = opened(tmp_path)
    desk.handle({"action": "check", "answers": right_answers(desk.ticket.text)})
    assert "18 of 18" in desk.notice
    assert all(row["right"] and row["said"] for row in desk.shown()["sums"])
    other = opened(tmp_path, new_ticket())
    other.handle({"action": "check", "answers": right_answers(other.ticket.text)})
    assert all(row["right"] is None and not row["said"] for row in other.shown()["sums"])
    assert "9 of 9 are answered" in other.notice


def test_another_ticket_keeps_the_earlier_answers_for_when_it_comes_back(tmp_path: Path) -> None:
    first, second = new_ticket(), new_ticket()
    desk = opened(tmp_path, first)
    desk.handle({"action": "keep", "answers": {"water_sinks": "7"}})
    desk.handle({"action": "ticket", "text": second})
    assert not any(row["answer"] for row in desk.shown()["sums"])
    desk.handle({"action": "ticket", "text": first})
    assert {row["id"]: row["answer"] for row in desk.shown()["sums"]}["water_sinks"] == "7"


def test_nothing_is_written_while_a_hand_in_is_graded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = opened(tmp_path, new_ticket())
    monkeypatch.setenv("NBGRADER_EXECUTION", "autograde")
    desk.handle({"action": "keep", "answers": {"water_sinks": "7"}})
    assert not (tmp_path / "sums.logbook.jsonl").exists()


def test_a_full_disk_is_said_in_words_and_what_was_typed_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = opened(tmp_path, new_ticket())

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("engine_sim.bench.sums_page.os.fsync", full)
    desk.handle({"action": "keep", "answers": {"water_sinks": "7"}})
    assert desk.warning and "No space left" in desk.notice
    assert {row["id"]: row["answer"] for row in desk.shown()["sums"]}["water_sinks"] == "7"


@pytest.mark.parametrize("message", [{}, {"action": "rm"}, {"action": "keep"}, {"action": "keep", "answers": 3}])
def test_a_message_that_is_not_understood_changes_nothing(tmp_path: Path, message: dict[str, object]) -> None:
    desk = SumsDesk(tmp_path)
    desk.handle(message)
    assert desk.warning and list(tmp_path.iterdir()) == []


def test_long_answers_are_cut_and_unknown_ones_left_out(tmp_path: Path) -> None:
    desk = opened(tmp_path, new_ticket())
    desk.handle({"action": "keep", "answers": {"water_sinks": "9" * 500, "no_such": "1"}})
    kept = last_answers((tmp_path / "sums.logbook.jsonl").read_bytes(), desk.ticket.text)
    assert kept == {"water_sinks": "9" * 40}
