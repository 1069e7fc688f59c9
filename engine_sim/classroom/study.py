"""``fuelcourse study``: the learner's own copy of the course, opened in JupyterLab ready to work."""

from __future__ import annotations

import os
import signal
import webbrowser
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from engine_sim.classroom.lab_server import LabPlan, LabServer, free_port
from engine_sim.classroom.one_opening import RUNNING, the_only_opening
from engine_sim.classroom.own_folder import KEEPING, FolderUnusable, Update, fill_own_folder, page_digest
from engine_sim.classroom.pages_handed_out import pages_handed_out
from engine_sim.classroom.progress import progress_in
from engine_sim.classroom.sheets import write_sheets
from engine_sim.classroom.shipped import lab_folder, shipped

START_PAGE = "notebooks/start_here.ipynb"
USUAL_FOLDER = "fuel-course"


def study(folder: Path | None = None, port: int | None = None, browser: bool = True) -> None:
    """Bring the learner's folder up to date and open the course; returns when the learner stops it.

    ``folder`` is made when missing (None: ``fuel-course`` in the home folder); ``port`` is 1024 to 65535 (None: any
    free one). The reference sheets are laid beside their pages as PDFs. Raises FolderUnusable, BadPort, AlreadyOpen or
    LabDidNotStart with a sentence that says what to do.
    """
    own = (folder or Path.home() / USUAL_FOLDER).expanduser().absolute()
    free_port(port)
    course, plan = shipped("course"), study_plan(own)
    with the_only_opening(plan):
        _tell(own, fill_own_folder(course, own))
        write_sheets(own)
        sign_our_pages(course, own)
        print(progress_in(own).sentence)
        serve(plan, port, browser)


def study_plan(own: Path) -> LabPlan:
    """Return how JupyterLab is started for a learner: our settings, none of the learner's other Jupyter settings."""
    lab = lab_folder()
    return LabPlan(
        folder=own,
        what_is="The course is",
        page=f"doc/tree/{START_PAGE}",
        options=(f"--LabServerApp.extra_labextensions_path={lab / 'extensions'}",),
        environment={**own_jupyter(own), "JUPYTER_CONFIG_PATH": config_path("learner")},
    )


def config_path(who: str) -> str:
    """Return where JupyterLab finds our settings: those for everybody, and those for a ``learner`` or ``teacher``."""
    lab = lab_folder()
    return os.pathsep.join((str(lab / who), str(lab / "config")))


def own_jupyter(folder: Path) -> dict[str, str]:
    """Return the environment that keeps Jupyter's settings, signatures and run files inside ``folder``."""
    keeping = folder / KEEPING
    return {
        "JUPYTER_CONFIG_DIR": str(keeping / "settings"),
        "JUPYTER_DATA_DIR": str(keeping / "data"),
        "JUPYTER_RUNTIME_DIR": str(keeping / RUNNING),
        "IPYTHONDIR": str(keeping / "ipython"),
        "JUPYTER_PREFER_ENV_PATH": "1",
    }


def serve(plan: LabPlan, port: int | None, browser: bool) -> None:
    """Start JupyterLab, say where it is, open the browser if wanted, and wait until it is stopped."""
    try:
        with _stop_signals(), LabServer(plan, port) as server:
            print(f"{plan.what_is} open at {server.address} (to stop it, press Ctrl+C in this window).", flush=True)
            if browser:
                webbrowser.open(server.address)
            server.wait()
    except KeyboardInterrupt:
        print(f"\nStopped. Everything you did is kept in {plan.folder}", flush=True)


@contextmanager
def _stop_signals() -> Iterator[None]:
    """Treat being asked to end (a closed window, a shutdown) as Ctrl+C, so that JupyterLab is ended too."""

    def as_ctrl_c(_number: int, _frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    names = [name for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    before = {name: signal.signal(getattr(signal, name), as_ctrl_c) for name in names}
    try:
        yield
    finally:
        for name, handler in before.items():
            signal.signal(getattr(signal, name), handler)


def _tell(own: Path, update: Update) -> None:
    if update.new:
        print(f"Your own copy of the course is in {own}")
    if update.renewed:
        print("Brought up to date: " + ", ".join(update.renewed))
    for name in update.kept:
        print(
            f"Kept as you left it: {name}. A newer page exists; "
            "to get it as well, rename yours and start the course again."
        )


def sign_our_pages(course: Path, own: Path) -> None:
    """Sign the pages that are exactly the course's own, so that JupyterLab opens their benches.

    So are those of an instructor's own exercises that do nothing else than a page of the course does. A page that shows
    something already was saved, and so signed, by JupyterLab itself, or it comes from elsewhere.
    """
    from nbformat import NO_CONVERT, read
    from nbformat.sign import NotebookNotary

    data = own / KEEPING / "data"
    try:
        data.mkdir(parents=True, exist_ok=True)
        notary = NotebookNotary(data_dir=str(data))
        for page in sorted(course.rglob("*.ipynb")):
            theirs = own / page.relative_to(course)
            if theirs.is_file() and page_digest(theirs.read_bytes()) == page_digest(page.read_bytes()):
                notebook = read(theirs, NO_CONVERT)
                if not any(cell.get("outputs") for cell in notebook.cells):
                    notary.sign(notebook)
        for page in pages_handed_out(course, own):
            notary.sign(read(page, NO_CONVERT))
    except OSError as problem:
        raise FolderUnusable(own, os.strerror(problem.errno) if problem.errno else str(problem)) from problem
