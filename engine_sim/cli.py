"""The command ``fuelcourse``: what a person types, turned into calls; errors come out as plain sentences."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from engine_sim.cli_teaching import add_teaching
from engine_sim.errors import EngineSimError

TROUBLE = 1


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what ``arguments`` (default: the command line) ask; return 0 when done, 1 after a named error."""
    options = _parser().parse_args(arguments)
    try:
        return int(options.do(options))
    except EngineSimError as problem:
        print(f"fuelcourse {options.command}: {problem}", file=sys.stderr)
        return TROUBLE


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fuelcourse",
        description="A hands-on course in finding and curing the fuel faults of a small marine diesel.",
        epilog="Learners need only 'fuelcourse study'. 'fuelcourse COMMAND --help' says more about a command.",
    )
    parser.add_argument("--version", action="version", version=f"fuelcourse {_version()}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    _add_study(commands)
    _add_teach(commands)
    _add_mark(commands)
    add_teaching(commands)
    _add_sheets(commands)
    _add_build(commands)
    return parser


def _version() -> str:
    try:
        return version("fuelcourse")
    except PackageNotFoundError:
        return "(not installed)"


def _add_study(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    study = commands.add_parser(
        "study",
        help="open the course, for yourself",
        description="Copies the course into a folder of your own, where your work is never overwritten, and opens it "
        "in your web browser. Works without the internet.",
    )
    study.add_argument(
        "--folder", type=Path, metavar="DIR", help="where your copy lives (default: fuel-course in your home folder)"
    )
    _add_opening(study)
    study.set_defaults(do=_study)


def _add_teach(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    teach = commands.add_parser(
        "teach",
        help="set up a folder for a class, and open the instructor's page",
        description="Makes (or brings up to date) a folder for one class: a roster with a ticket for each learner, "
        "lessons, exercises as nbgrader hands them out, running sheets. Then it opens the instructor's page in your "
        "web browser; everything there is a command as well.",
    )
    teach.add_argument("folder", type=Path, metavar="DIR", help="the folder of the class; made when missing")
    teach.add_argument("--make-only", action="store_true", help="make the folder or bring it up to date, open nothing")
    _add_opening(teach)
    teach.set_defaults(do=_teach)


def _add_mark(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    mark = commands.add_parser(
        "mark",
        help="mark everything handed in",
        description="Marks everything handed in to a class, writes each learner a feedback page and prints a table. "
        "One bad hand-in never stops or changes another's. Ends with 1 when something needs your look.",
    )
    mark.add_argument(
        "folder", type=Path, metavar="DIR", help="the folder of the class, as made by 'fuelcourse teach DIR'"
    )
    mark.add_argument(
        "--exercise", default="", metavar="NAME", help="mark only this exercise (default: all that were handed in)"
    )
    mark.set_defaults(do=_mark)


def _add_sheets(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    sheets = commands.add_parser(
        "sheets",
        help="write the reference sheets, to be printed",
        description="Writes fault finder, procedure cards, symbols, glossary and sources as PDFs of A4 into the folder "
        "'reference' of a folder. What is there already, and no older, stays as it is.",
    )
    sheets.add_argument("folder", type=Path, metavar="DIR", help="the folder to write into; made when missing")
    sheets.set_defaults(do=_sheets)


def _add_build(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    build = commands.add_parser(
        "build",
        help="for contributors: build the notebooks from their texts",
        description="Builds every notebook from its text. Needs a checkout with the test tools installed.",
    )
    build.add_argument(
        "--check", action="store_true", help="change nothing; end with 1 if a notebook differs from its text"
    )
    build.set_defaults(do=_build)


def _add_opening(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--port", metavar="N", help="port on this computer, 1024 to 65535 (default: any free one)")
    parser.add_argument(
        "--no-browser", dest="browser", action="store_false", help="print the address, but open no web browser"
    )


def _port(options: argparse.Namespace) -> int | None:
    from engine_sim.classroom.lab_server import read_port

    return None if options.port is None else read_port(options.port)


def _study(options: argparse.Namespace) -> int:
    from engine_sim.classroom.study import study

    study(options.folder, _port(options), options.browser)
    return 0


def _teach(options: argparse.Namespace) -> int:
    from engine_sim.classroom.open_course import make_course_root
    from engine_sim.classroom.own_programs import let_own_programs_be_found

    let_own_programs_be_found()
    print(make_course_root(options.folder))
    if not options.make_only:
        from engine_sim.classroom.teach import open_class

        open_class(options.folder, _port(options), options.browser)
    return 0


def _mark(options: argparse.Namespace) -> int:
    from engine_sim.classroom.mark_submissions import mark_submissions
    from engine_sim.classroom.own_programs import let_own_programs_be_found

    let_own_programs_be_found()
    return mark_submissions(options.folder, options.exercise)


def _sheets(options: argparse.Namespace) -> int:
    from engine_sim.classroom.sheets import write_sheets

    for path in write_sheets(options.folder):
        print(path)
    return 0


def _build(options: argparse.Namespace) -> int:
    from engine_sim.classroom.build_notebooks import build_all, differing, project_folder

    root = project_folder()
    if options.check:
        wrong = differing(root)
        print("\n".join(f"differs from its text: {name}" for name in wrong) or "Every notebook agrees with its text.")
        return TROUBLE if wrong else 0
    for name in build_all(root):
        print(f"built {name}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
