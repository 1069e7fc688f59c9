"""What lies in a folder or a zip that hand-ins came in, read as data: no link is followed, nothing is unpacked to disk.

Every file comes with its place as words and either its bytes or the reason why it was not read.
"""

from __future__ import annotations

import os
import stat
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath, PureWindowsPath

from engine_sim.classroom.course_root import ClassroomError
from engine_sim.classroom.hand_in import NOTEBOOK_LIMIT_BYTES, read_plain_file
from engine_sim.classroom.own_folder import plain_reason

MOST_FILES = 20_000
ZIP_LIMIT_BYTES = 500_000_000
"""A zip above that is not opened; an evening's hand-ins of a large class take a tenth."""
UNPACKED_LIMIT_BYTES = 600_000_000
"""So much is unpacked from one zip at most."""
ONE_LIMIT_BYTES = NOTEBOOK_LIMIT_BYTES
CHUNK_BYTES = 65_536
PAGE, LOGBOOK_WORD, LOGBOOK_END, ZIP = ".ipynb", ".logbook", ".jsonl", ".zip"
PASSED_OVER = ("__MACOSX", ".ipynb_checkpoints", "$RECYCLE.BIN", "System Volume Information")
BROKEN_ZIP = (
    zipfile.BadZipFile,
    zipfile.LargeZipFile,
    zlib.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    ValueError,
    OSError,
    MemoryError,
)


@dataclass(frozen=True, slots=True)
class Found:
    """One file: ``place`` names it for people, ``parts`` are its folders and name; ``data`` is None with a trouble."""

    place: str
    parts: tuple[str, ...]
    data: bytes | None
    trouble: str
    moment: datetime

    @property
    def name(self) -> str:
        """Its own name."""
        return self.parts[-1]

    @property
    def is_page(self) -> bool:
        """Say whether it is a page by its ending."""
        return self.name.lower().endswith(PAGE)

    @property
    def is_logbook(self) -> bool:
        """Say whether it is a logbook by its name."""
        lower = self.name.lower()
        return LOGBOOK_WORD in lower or lower.endswith(LOGBOOK_END)


def in_plain_letters(text: str) -> str:
    """Return the name of a file as it can be shown and written: what is no letter to be printed is a question mark."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)


def may_matter(name: str) -> bool:
    """Say whether a file of this name may be part of a hand-in; all others are left where they are."""
    lower = name.lower()
    if lower.startswith("."):
        return False
    return lower.endswith((PAGE, LOGBOOK_END, ZIP)) or LOGBOOK_WORD in lower


def find_files(source: Path) -> Iterator[Found]:
    """Yield all that may be part of a hand-in in a folder, with the zips in it, or in one zip, in a settled order.

    Raises :class:`ClassroomError` where there is no such place or it cannot be read.
    """
    if source.is_symlink():
        raise ClassroomError(f"{source} is a link. Name the folder or the zip itself.")
    if source.is_dir():
        yield from _in_folder(source, source)
    elif source.is_file() and source.name.lower().endswith(ZIP):
        yield from in_zip(source, in_plain_letters(source.name), (source.stem,))
    elif source.is_file():
        raise ClassroomError(f"{source} is neither a folder nor a zip. Put the files into a folder and name that.")
    else:
        raise ClassroomError(f"There is no {source}. Name the folder or the zip in which the hand-ins came.")


def _in_folder(top: Path, folder: Path) -> Iterator[Found]:
    try:
        entries = sorted(folder.iterdir())
    except OSError as problem:
        if folder == top:
            raise ClassroomError(f"{top} cannot be read: {plain_reason(problem)}.") from problem
        yield _not_read(folder, top, f"is a folder that cannot be read ({plain_reason(problem)})")
        return
    for entry in entries:
        kind = os.lstat(entry).st_mode
        if stat.S_ISDIR(kind) and entry.name not in PASSED_OVER:
            yield from _in_folder(top, entry)
        elif stat.S_ISLNK(kind) and (may_matter(entry.name) or entry.is_dir()):
            yield _not_read(entry, top, "is a link; it was not followed")
        elif not stat.S_ISDIR(kind) and may_matter(entry.name):
            yield from _one_file(entry, top)


def _one_file(entry: Path, top: Path) -> Iterator[Found]:
    inside = entry.relative_to(top)
    if entry.name.lower().endswith(ZIP):
        yield from in_zip(entry, in_plain_letters(inside.as_posix()), inside.parts)
        return
    data = read_plain_file(entry, ONE_LIMIT_BYTES)
    moment = datetime.fromtimestamp(entry.lstat().st_mtime, UTC).replace(tzinfo=None)
    place = in_plain_letters(inside.as_posix())
    if isinstance(data, str):
        yield Found(place, inside.parts, None, data, moment)
    else:
        yield Found(place, inside.parts, data, "", moment)


def _not_read(entry: Path, top: Path, trouble: str) -> Found:
    inside = entry.relative_to(top)
    return Found(in_plain_letters(inside.as_posix()), inside.parts, None, trouble, datetime.min)


# ---- zips -----------------------------------------------------------------------------------------------------------


def in_zip(place: Path, named: str, parts: tuple[str, ...]) -> Iterator[Found]:
    """Yield what may matter in a zip; ``named`` is what the zip is called in messages, ``parts`` its own folders."""
    trouble = _why_shut(place)
    if trouble:
        yield Found(named, parts, None, trouble, datetime.min)
        return
    try:
        with zipfile.ZipFile(place) as opened:
            yield from _members(opened, named, parts)
    except BROKEN_ZIP:
        yield Found(named, parts, None, "is damaged, or no zip; what could be read before was taken", datetime.min)


def _why_shut(place: Path) -> str:
    found = os.lstat(place)
    if not stat.S_ISREG(found.st_mode):
        return "is a link or something else than a file"
    large = found.st_size > ZIP_LIMIT_BYTES
    return f"is a zip larger than {ZIP_LIMIT_BYTES / 1e6:g} MB; it was not opened" if large else ""


def _members(opened: zipfile.ZipFile, named: str, parts: tuple[str, ...]) -> Iterator[Found]:
    members = opened.infolist()
    if len(members) > MOST_FILES:
        yield Found(named, parts, None, f"holds more than {MOST_FILES} files; it was not opened", datetime.min)
        return
    left_bytes = UNPACKED_LIMIT_BYTES
    for member in members:
        inside = _parts_of(member.filename)
        if member.is_dir() or not inside or set(inside) & set(PASSED_OVER) or not may_matter(inside[-1]):
            continue
        place, here = f"{named}: {in_plain_letters(member.filename[:200])}", (*parts, *inside)
        moment = _moment_of(member)
        trouble = why_refused(member)
        if trouble:
            yield Found(place, here, None, trouble, moment)
            continue
        data, trouble = _read_member(opened, member, min(ONE_LIMIT_BYTES, left_bytes))
        left_bytes -= len(data or b"")
        yield Found(place, here, data, trouble, moment)


def _parts_of(name: str) -> tuple[str, ...]:
    return tuple(part for part in name.replace("\\", "/").split("/") if part not in ("", "."))


def why_refused(member: zipfile.ZipInfo) -> str:
    """Return why a member of a zip is not read, or an empty text."""
    name = member.filename
    absolute = PurePosixPath(name).is_absolute() or bool(PureWindowsPath(name).anchor)
    kind = member.external_attr >> 16
    if absolute or "\x00" in name or ".." in _parts_of(name):
        return "names a place outside its own folder; it was not unpacked"
    if kind and stat.S_IFMT(kind) not in (0, stat.S_IFREG):
        return "is a link or something else than a file; it was not followed"
    if member.flag_bits & 1:
        return "is locked with a password"
    if name.lower().endswith(ZIP):
        return "is a zip within a zip; it was not opened. Unpack the outer one into a folder and take that in"
    return ""


def _read_member(opened: zipfile.ZipFile, member: zipfile.ZipInfo, limit_bytes: int) -> tuple[bytes | None, str]:
    """Return a member's bytes, never more than allowed whatever it says of its size, or the reason why not."""
    read = bytearray()
    try:
        with opened.open(member) as file:
            while chunk := file.read(CHUNK_BYTES):
                read += chunk
                if len(read) > limit_bytes:
                    return None, f"is larger than {ONE_LIMIT_BYTES / 1e6:g} MB, or the zip holds too much in all"
    except BROKEN_ZIP:
        return None, "is damaged in the zip, or packed in a way not known here"
    return bytes(read), ""


def _moment_of(member: zipfile.ZipInfo) -> datetime:
    try:
        return datetime(*member.date_time)
    except ValueError:
        return datetime.min
