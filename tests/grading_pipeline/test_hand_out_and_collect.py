"""Handing exercises out as files, and taking in what learners give back, however it is packed."""

from __future__ import annotations

import json
import os
import stat
import zipfile
from pathlib import Path

import pytest
from arrivals_kit import NAMES, kept_aside, lay, logbook_here, reasons, zipped
from class_kit import ANSWER, EXERCISE, LOGBOOK, NOTEBOOK, Commands

from engine_sim.attempt import read_logbook
from engine_sim.classroom.mark_submissions import mark_course
from engine_sim.classroom.teaching.arrivals import take_in
from engine_sim.classroom.teaching.hand_out import READ_ME, hand_out, release_by_exchange
from engine_sim.classroom.tidying import TIMESTAMP
from engine_sim.errors import UnknownName

# ---- handing out ----------------------------------------------------------------------------------------------------


def test_the_zip_holds_the_page_and_how_to_open_it_and_nothing_else(prepared):
    place = prepared.course.folder / "hand_out" / f"{EXERCISE}.zip"
    with zipfile.ZipFile(place) as opened:
        assert sorted(opened.namelist()) == [f"{EXERCISE}/{READ_ME}", f"{EXERCISE}/{NOTEBOOK}"]
        assert opened.read(f"{EXERCISE}/{NOTEBOOK}") == prepared.course.release(EXERCISE).read_bytes()
        words = opened.read(f"{EXERCISE}/{READ_ME}").decode("utf-8-sig")
    assert "fuelcourse study" in words and LOGBOOK in words
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
    for ticket in prepared.tickets.values():
        assert ticket.encode() not in place.read_bytes() and ticket not in words


def test_an_own_exercises_sealed_file_travels_and_nothing_beside_it(course):
    (course.source(EXERCISE).parent / f"{EXERCISE}.exercise").write_bytes(b"sealed")
    beside = course.release(EXERCISE).parent
    (beside / LOGBOOK).write_bytes(b"somebody's")
    (beside / "notes.txt").write_bytes(b"the instructor's")
    made = hand_out(course, [EXERCISE])
    assert made.made_ready == (EXERCISE,)
    with zipfile.ZipFile(made.files[0]) as opened:
        assert sorted(Path(name).name for name in opened.namelist()) == [READ_ME, f"{EXERCISE}.exercise", NOTEBOOK]
        assert opened.read(f"{EXERCISE}/{EXERCISE}.exercise") == b"sealed"
    assert hand_out(course, [EXERCISE]).made_ready == ()


def test_a_page_that_is_newer_than_what_was_handed_out_is_made_ready_again(course):
    assert hand_out(course, [EXERCISE]).made_ready == ()
    first = (course.folder / "hand_out" / f"{EXERCISE}.zip").read_bytes()
    source = course.source(EXERCISE)
    page = json.loads(source.read_text("utf-8"))
    page["cells"][0]["source"] = ["# Another title\n"]
    source.write_text(json.dumps(page), encoding="utf-8")
    newer = course.release(EXERCISE).stat().st_mtime + 10
    os.utime(source, (newer, newer))
    assert hand_out(course, [EXERCISE]).made_ready == (EXERCISE,)
    assert (course.folder / "hand_out" / f"{EXERCISE}.zip").read_bytes() != first
    assert b"Another title" in course.release(EXERCISE).read_bytes()


def test_an_exercise_that_there_is_none_of_is_named_with_what_there_is(course):
    with pytest.raises(UnknownName, match="no_start_harbour"):
        hand_out(course, ["no_start_harbor"])


@pytest.mark.slow
def test_a_learner_fetches_what_was_laid_in_the_exchange_and_it_may_be_laid_there_again(course, tmp_path):
    place = release_by_exchange(course, EXERCISE)
    assert sorted(one.name for one in place.iterdir()) == [NOTEBOOK]
    assert release_by_exchange(course, EXERCISE) == place
    own = tmp_path / "learner"
    own.mkdir()
    words = ("fetch_assignment", EXERCISE, "--course=fuelcourse", f"--Exchange.root={course.exchange}")
    with Commands(tmp_path) as nbgrader:
        (done,) = nbgrader.give((own, words))
    assert done["code"] == 0, done["said"]
    assert (own / EXERCISE / NOTEBOOK).read_bytes() == course.release(EXERCISE).read_bytes()


# ---- whose is what --------------------------------------------------------------------------------------------------


def test_the_ticket_in_the_logbook_decides_and_never_the_name_of_a_folder_or_file(course, prepared, stick):
    lay(stick, {f"bram/{LOGBOOK}": prepared.short["ada"], f"bram/{NOTEBOOK}": prepared.page})
    lay(stick, {f"deep/er/cleo_{LOGBOOK}": prepared.short["bram"], f"deep/er/cleo_{NOTEBOOK}": prepared.page})
    receipt = take_in(course, stick)
    assert [(one.learner_id, one.new) for one in receipt.taken] == [("ada", True), ("bram", True)]
    assert receipt.set_aside == ()
    assert logbook_here(course, "ada") == prepared.short["ada"]
    assert logbook_here(course, "bram") == prepared.short["bram"]
    assert not course.submitted("cleo", EXERCISE).exists()


@pytest.mark.slow
def test_all_ways_of_packing_are_taken_and_what_comes_of_them_is_marked(course, prepared, stick):
    lay(stick, {f"anything {LOGBOOK}": prepared.short["ada"], f"anything {NOTEBOOK}": prepared.page})
    packed = zipped({f"x/y/{EXERCISE}/{LOGBOOK}": prepared.short["bram"], f"x/y/{EXERCISE}/{NOTEBOOK}": prepared.page})
    lay(stick, {"mail/attachments.ZIP": packed, "photo.jpg": b"\xff\xd8", "mail/letter.pdf": b"%PDF"})
    twice_saved = {f"{EXERCISE}.logbook (1).jsonl": prepared.long["cleo"], f"{EXERCISE} (1).ipynb": prepared.page}
    lay(stick / "downloads", twice_saved)
    receipt = take_in(course, stick)
    assert sorted(one.learner_id for one in receipt.taken) == list(NAMES)
    assert all(one.page and one.handed_in for one in receipt.taken)
    run = mark_course(course.folder, EXERCISE)
    assert [row.learner_id for row in run.rows] == list(NAMES) and all(row.is_marked for row in run.rows)
    assert [row.findings for row in run.rows] == [()] * 3
    assert run.rows[2].total > run.rows[0].total > 0
    assert all(ANSWER[:20] in course.feedback_page(name, EXERCISE).read_text("utf-8") for name in NAMES)


def test_the_receipt_says_what_came_whose_it_was_and_how_many_deeds(course, prepared, stick):
    lay(stick, {f"{EXERCISE}/{LOGBOOK}": prepared.long["ada"], "b.logbook.jsonl": b"no logbook\n"})
    receipt = take_in(course, stick)
    deeds = sum(record["kind"] != "hand_in" for record in read_logbook(prepared.long["ada"]).records)
    (one,) = receipt.taken
    assert (one.learner_id, one.exercise, one.deeds, one.page) == ("ada", EXERCISE, deeds, False)
    text = receipt.file.read_text("utf-8")
    assert receipt.file.name == f"receipt-{receipt.moment:%Y-%m-%d}.txt" and str(receipt) == text
    assert f"ada (Ada Invented): It will not keep running: {deeds} deeds in the logbook" in text
    assert "without the page" in text and "b.logbook.jsonl: is no logbook that can be marked" in text
    (line,) = receipt.of_learners()["ada"]
    assert line.startswith("Ada Invented: 'It will not keep running' received on ") and str(deeds) in line
    assert prepared.tickets["ada"] not in text
    assert take_in(course, stick).file.name == f"receipt-{receipt.moment:%Y-%m-%d}-2.txt"


def test_the_moment_is_when_it_was_taken_in_whatever_the_learner_wrote(course, prepared, stick):
    lay(stick, {LOGBOOK: prepared.short["ada"], NOTEBOOK: prepared.page, TIMESTAMP: b"1999-01-01 00:00:00 UTC"})
    receipt = take_in(course, stick)
    stamp = (course.submitted("ada", EXERCISE) / TIMESTAMP).read_text("utf-8")
    assert stamp.startswith(f"{receipt.moment:%Y-%m-%d %H:%M:%S}")


def test_everything_in_the_class_folder_stays_closed_to_others(course, prepared, stick):
    lay(stick, {LOGBOOK: prepared.short["ada"], f"x/{LOGBOOK}": prepared.long["ada"], "y.logbook.jsonl": b"x\n"})
    take_in(course, stick)
    places = [*(course.folder / "submitted").rglob("*"), *(course.folder / "set_aside").rglob("*")]
    places += [course.folder / "arrivals", *(course.folder / "arrivals").rglob("*")]
    assert len(places) > 8 and [one for one in places if one.stat().st_mode & 0o077] == []


# ---- what is here already -------------------------------------------------------------------------------------------


def test_taking_in_the_same_again_changes_nothing(course, prepared, stick):
    lay(stick, {LOGBOOK: prepared.short["ada"], NOTEBOOK: prepared.page})
    take_in(course, stick)
    folder = course.submitted("ada", EXERCISE)
    before = {one.name: one.read_bytes() for one in folder.iterdir()}
    (one,) = take_in(course, stick).taken
    assert not one.new and {one.name: one.read_bytes() for one in folder.iterdir()} == before


def test_what_is_here_is_never_replaced_by_less_and_what_more_replaces_is_kept(course, prepared, stick):
    lay(stick / "1", {LOGBOOK: prepared.short["ada"], NOTEBOOK: prepared.page})
    lay(stick / "2", {LOGBOOK: prepared.long["ada"]})
    take_in(course, stick / "1")
    (one,) = take_in(course, stick / "2").taken
    assert one.replaced and logbook_here(course, "ada") == prepared.long["ada"]
    assert prepared.short["ada"] in kept_aside(course) and prepared.page in kept_aside(course)
    receipt = take_in(course, stick / "1")
    assert receipt.taken == () and "has a shorter logbook" in reasons(receipt)
    assert logbook_here(course, "ada") == prepared.long["ada"]


def test_a_page_that_comes_later_is_put_beside_its_logbook(course, prepared, stick):
    lay(stick, {LOGBOOK: prepared.short["ada"]})
    take_in(course, stick)
    lay(stick, {NOTEBOOK: prepared.page})
    (one,) = take_in(course, stick).taken
    assert one.page and one.new
    assert (course.submitted("ada", EXERCISE) / NOTEBOOK).read_bytes() == prepared.page


def test_somebody_elses_logbook_laid_there_by_hand_gives_way_to_the_learners_own(course, prepared, stick):
    folder = course.submitted("ada", EXERCISE)
    lay(folder, {LOGBOOK: prepared.long["bram"]})
    lay(stick, {LOGBOOK: prepared.short["ada"]})
    take_in(course, stick)
    assert logbook_here(course, "ada") == prepared.short["ada"] and prepared.long["bram"] in kept_aside(course)
