"""What came and cannot be taken: set aside with its reason and kept, and nothing that could do harm is opened."""

from __future__ import annotations

import io
import json
import os
import shutil
import stat
import zipfile

import pytest
from arrivals_kit import kept_aside, lay, logbook_here, reasons, zipped
from class_kit import EXERCISE, LOGBOOK, NOTEBOOK, box, work

from engine_sim.classroom import in_turn as in_turn_module
from engine_sim.classroom.course_root import ClassroomError
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.teaching import found_files
from engine_sim.classroom.teaching.arrivals import take_in
from engine_sim.scenarios import new_ticket

# ---- what is not taken ----------------------------------------------------------------------------------------------


def header_changed(data: bytes, **changes: str) -> bytes:
    """Return a logbook whose first line says something else, with a digest that does not fit."""
    first, _, rest = data.partition(b"\n")
    return json.dumps({**json.loads(first), **changes}).encode() + b"\n" + rest


def test_what_cannot_be_taken_is_set_aside_with_its_reason_and_kept(course, prepared, stick, tmp_path):
    practice = work(tmp_path / "practice", new_ticket())
    files = {
        f"practice/{LOGBOOK}": practice,
        f"forged/{LOGBOOK}": header_changed(prepared.short["ada"], ticket=prepared.tickets["bram"]),
        f"alone/{NOTEBOOK}": prepared.page,
        f"apart/maud {NOTEBOOK}": prepared.page + b" ",
        f"apart/pieter {LOGBOOK}": prepared.short["bram"],
        f"empty/{LOGBOOK}": b"",
    }
    lay(stick, files)
    receipt = take_in(course, stick)
    said = reasons(receipt)
    assert "which nobody on the roster has" in said and "opening record was changed" in said
    assert "is a page without its logbook" in said and "has another name, so it is not known whose it is" in said
    assert "The logbook is empty" in said
    assert [(one.learner_id, one.page) for one in receipt.taken] == [("bram", False)]
    gone = [data for name, data in files.items() if not name.startswith("apart/pieter")]
    assert sorted(kept_aside(course)) == sorted(gone)
    assert {name: (stick / name).read_bytes() for name in files} == files, "nothing is taken away from the stick"
    (why,) = (course.folder / "set_aside" / "arrivals").glob("*/why.txt")
    assert len(why.read_text("utf-8").splitlines()) == len(receipt.set_aside) == 5


def test_another_exercise_is_told_by_the_logbook_and_one_that_the_class_lacks_is_set_aside(course, prepared, stick):
    shutil.rmtree(course.source(EXERCISE).parent)
    lay(stick, {"dead_at_the_key.logbook.jsonl": prepared.short["ada"]})
    receipt = take_in(course, stick)
    assert receipt.taken == () and f"is of the exercise '{EXERCISE}', which this class does not have" in reasons(
        receipt
    )


def test_a_logbook_under_another_exercises_name_is_believed_and_that_is_said(course, prepared, stick):
    lay(stick, {"dead_at_the_key.logbook.jsonl": prepared.short["ada"]})
    (one,) = take_in(course, stick).taken
    assert one.exercise == EXERCISE and "the logbook itself was believed" in one.line()


def test_a_cut_logbook_is_taken_as_far_as_it_goes_and_that_is_said(course, prepared, stick):
    cut = prepared.long["ada"][:-40]
    lay(stick, {LOGBOOK: cut})
    (one,) = take_in(course, stick).taken
    assert "it is cut off" in one.line() and logbook_here(course, "ada") == cut


def test_of_two_the_longer_is_taken_and_the_other_set_aside_in_either_order(course, prepared, stick):
    lay(stick, {f"a/{LOGBOOK}": prepared.short["ada"], f"b/{LOGBOOK}": prepared.long["ada"]})
    lay(stick, {f"a/{EXERCISE}.kept-{prepared.tickets['bram']}-1.logbook.jsonl": prepared.long["bram"]})
    lay(stick, {f"a/{NOTEBOOK}": prepared.page, f"c/{LOGBOOK}": prepared.short["bram"]})
    receipt = take_in(course, stick)
    assert logbook_here(course, "ada") == prepared.long["ada"] and logbook_here(course, "bram") == prepared.long["bram"]
    assert reasons(receipt).count("this logbook is shorter") == 2
    assert prepared.short["ada"] in kept_aside(course) and prepared.short["bram"] in kept_aside(course)


def test_of_two_as_long_as_each_other_the_newer_file_is_taken(course, prepared, stick):
    other = prepared.short["ada"].replace(b"stood across", b"stands across")
    lay(stick, {f"a/{LOGBOOK}": prepared.short["ada"], f"b/{LOGBOOK}": other})
    os.utime(stick / "a" / LOGBOOK, (2_000_000_000, 2_000_000_000))
    os.utime(stick / "b" / LOGBOOK, (1_000_000_000, 1_000_000_000))
    receipt = take_in(course, stick)
    assert logbook_here(course, "ada") == prepared.short["ada"] and "is as long and newer" in reasons(receipt)


def test_a_logbook_given_on_with_another_page_is_pointed_out(course, prepared, stick):
    notebook = json.loads(prepared.page)
    box(notebook, "ashore")["source"] = "My own words."
    lay(stick, {f"ada/{LOGBOOK}": prepared.short["ada"], f"ada/{NOTEBOOK}": prepared.page})
    lay(stick, {f"bram/{LOGBOOK}": prepared.short["ada"], f"bram/{NOTEBOOK}": json.dumps(notebook).encode()})
    receipt = take_in(course, stick)
    (one,) = receipt.taken
    assert one.learner_id == "ada" and "was it given on?" in one.line() and "look at both" in reasons(receipt)
    assert not course.submitted("bram", EXERCISE).exists()


# ---- what could do harm ---------------------------------------------------------------------------------------------


def test_a_zip_that_reaches_outside_or_hides_things_is_refused_piece_by_piece(course, prepared, stick, tmp_path):
    bad = {
        f"../../submitted/bram/{EXERCISE}/{LOGBOOK}": prepared.short["ada"],
        f"/tmp-place/{LOGBOOK}": prepared.short["ada"],
        f"C:\\place\\{LOGBOOK}": prepared.short["ada"],
        "inner.zip": zipped({LOGBOOK: prepared.short["bram"]}),
        f"good/{LOGBOOK}": prepared.short["cleo"],
    }
    lay(stick, {"all.zip": zipped(bad)})
    before = {one for one in tmp_path.rglob("*") if course.folder not in one.parents}
    receipt = take_in(course, stick / "all.zip")
    assert [one.learner_id for one in receipt.taken] == ["cleo"]
    assert reasons(receipt).count("names a place outside its own folder") == 3
    assert "is a zip within a zip" in reasons(receipt)
    assert {one for one in tmp_path.rglob("*") if course.folder not in one.parents} == before
    assert not course.submitted("bram", EXERCISE).exists() and not course.submitted("ada", EXERCISE).exists()


def test_links_are_not_followed_neither_in_folders_nor_in_zips(course, prepared, stick, tmp_path):
    outside = tmp_path / "outside"
    lay(outside, {LOGBOOK: prepared.short["ada"]})
    (stick / "a").mkdir()
    (stick / "a" / LOGBOOK).symlink_to(outside / LOGBOOK)
    (stick / "b").symlink_to(outside)
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as made:
        link = zipfile.ZipInfo(LOGBOOK)
        link.external_attr, link.create_system = (stat.S_IFLNK | 0o777) << 16, 3
        made.writestr(link, str(outside / LOGBOOK))
    lay(stick, {"c.zip": held.getvalue()})
    receipt = take_in(course, stick)
    assert receipt.taken == () and reasons(receipt).count("is a link") == 3
    with pytest.raises(ClassroomError, match="is a link"):
        take_in(course, stick / "b")


def test_a_zip_that_swells_and_an_oversized_logbook_are_not_unpacked(course, prepared, stick, monkeypatch):
    swelling = zipped({f"{n}/{LOGBOOK}": bytes(20_000_000) for n in range(3)})
    assert len(swelling) < 100_000
    lay(stick, {"swelling.zip": swelling, f"large/{LOGBOOK}": prepared.short["ada"] + b" " * 6_000_000})
    monkeypatch.setattr(found_files, "UNPACKED_LIMIT_BYTES", 10_000_000)
    receipt = take_in(course, stick)
    assert receipt.taken == () and reasons(receipt).count("is larger than 8 MB, or the zip holds too much") == 3
    assert "is a logbook larger than 5 MB" in reasons(receipt)


def test_a_damaged_or_locked_zip_stops_nothing(course, prepared, stick):
    sound = zipped({LOGBOOK: prepared.short["ada"]})
    locked = bytearray(zipped({LOGBOOK: prepared.short["bram"]}))
    at_head = locked.find(b"PK\x01\x02")
    locked[at_head + 8] |= 1
    lay(stick, {"1.zip": sound[: len(sound) // 2], "2.zip": b"no zip at all", "3.zip": bytes(locked), "4.zip": sound})
    receipt = take_in(course, stick)
    assert [one.learner_id for one in receipt.taken] == ["ada"]
    assert reasons(receipt).count("is damaged, or no zip") == 2 and "is locked with a password" in reasons(receipt)


def test_names_of_files_that_nobody_can_read_spoil_no_receipt(course, prepared, stick):
    odd = os.fsencode(stick) + b"/\xff\xfe\nbram: forged\x1b[2J." + os.fsencode(LOGBOOK)
    with open(odd, "wb") as file:
        file.write(prepared.short["ada"])
    lay(stick, {"mail.zip": zipped({f"\u202ea\r\nada: forged/{LOGBOOK}": b"no logbook\n"})})
    receipt = take_in(course, stick)
    assert [one.learner_id for one in receipt.taken] == ["ada"]
    text = receipt.file.read_text("utf-8")
    assert all(letter.isprintable() or letter == "\n" for letter in text)
    assert [line for line in text.splitlines() if line.strip().startswith(("bram", "ada: "))] == []


def test_a_folder_that_is_in_use_is_not_half_filled(course, prepared, stick, monkeypatch):
    lay(stick, {LOGBOOK: prepared.short["ada"]})
    monkeypatch.setattr(in_turn_module, "WAIT_S", 0.1)
    with in_turn_module.in_turn(course), pytest.raises(in_turn_module.FolderBusy, match="Nothing was changed"):
        take_in(course, stick)
    assert not course.submitted("ada", EXERCISE).exists() and not (course.folder / "arrivals").exists()


def test_a_place_that_is_not_there_is_said_in_a_sentence(course, tmp_path):
    with pytest.raises(ClassroomError, match="Name the folder or the zip"):
        take_in(course, tmp_path / "nowhere")
    (tmp_path / "letter.txt").write_bytes(b"x")
    with pytest.raises(ClassroomError, match="neither a folder nor a zip"):
        take_in(course, tmp_path / "letter.txt")
    assert not (course.folder / "arrivals").exists()


def test_a_learners_whole_course_folder_gives_the_work_and_passes_over_untouched_pages(course, prepared, tmp_path):
    folder = tmp_path / "fuel-course"
    shutil.copytree(shipped("course"), folder)
    lay(folder, {f"exercises/{EXERCISE}/{LOGBOOK}": prepared.long["ada"]})
    (folder / "exercises" / "sums" / "sums.ipynb").write_bytes(prepared.page)
    receipt = take_in(course, folder)
    assert [one.learner_id for one in receipt.taken] == ["ada"]
    assert [one.place for one in receipt.set_aside] == ["exercises/sums/sums.ipynb"], "somebody wrote there"
