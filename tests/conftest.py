"""For all tests: what programs keep for the next one lies in a folder of this run, shared by its processes."""

from __future__ import annotations

import os
import shutil
import tempfile

import pytest

_OURS = "FUELCOURSE_TEST_CACHE"


def pytest_configure(config: pytest.Config) -> None:
    if not hasattr(config, "workerinput"):
        os.environ[_OURS] = os.environ["XDG_CACHE_HOME"] = tempfile.mkdtemp(prefix="fuelcourse-cache-")


def pytest_unconfigure(config: pytest.Config) -> None:
    if not hasattr(config, "workerinput"):
        shutil.rmtree(os.environ.pop(_OURS), ignore_errors=True)
