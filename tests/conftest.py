"""What every test run shares: measures kept between runs, and `--update` for expectations."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from browser import Browser, Tab, browser

from proofgen.cli import main


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


@pytest.fixture(scope="module")
def chromium(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    with browser(tmp_path_factory.mktemp("browser")) as running:
        yield running


@pytest.fixture
def tab(chromium: Browser) -> Iterator[Tab]:
    """A tab, in which nothing may go wrong and which may ask for nothing but files."""
    with chromium.tab() as found:
        yield found
        assert found.broken == []
        assert [each for each in found.asked if not each.startswith(("file:", "data:"))] == []


@pytest.fixture
def told(capsys: pytest.CaptureFixture[str]) -> Callable[..., Any]:
    """What a command prints as JSON, and that it ends with the code."""

    def tell(*arguments: object, code: int = 0) -> Any:
        capsys.readouterr()
        assert main([*map(str, arguments), "--json"]) == code
        return json.loads(capsys.readouterr().out)

    return tell
