"""nbgrader calls another program (alembic) by its bare name; this lets it be found when our environment is not on."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def path_with_own_programs() -> str:
    """Return the search path for programs with this Python's own folder of programs first."""
    own = str(Path(sys.executable).parent)
    rest = [place for place in os.environ.get("PATH", "").split(os.pathsep) if place and place != own]
    return os.pathsep.join([own, *rest])


def let_own_programs_be_found() -> None:
    """Put this Python's own folder of programs first on the search path of this process; doing it twice is harmless."""
    os.environ["PATH"] = path_with_own_programs()
