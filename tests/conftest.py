"""What every test run shares: measures kept between runs, and `--update` for expectations."""

from __future__ import annotations

import os
from pathlib import Path

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update", action="store_true", help="write expectations instead of comparing with them"
    )


def pytest_configure(config: pytest.Config) -> None:
    """Measures never come from, or go to, the person's own cache."""
    os.environ["PROOFGEN_CACHE"] = str(Path(config.rootpath) / ".pytest_cache" / "proofgen")


@pytest.fixture
def update(request: pytest.FixtureRequest) -> bool:
    return bool(request.config.getoption("--update"))
