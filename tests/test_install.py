"""Installed as a wheel or in place, the program finds what ships with it from any folder.

The environments are empty but for the project itself; libraries come from the current one.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
# The hooks of PEP 517 and PEP 660 that an installer calls.
HOOKS = {"wheel": "build_wheel", "editable": "build_editable"}


@pytest.fixture(scope="module", params=HOOKS)
def installed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of an environment into which the project was installed that way."""
    folder = tmp_path_factory.mktemp(request.param)
    code = f"import sys, hatchling.build as b; b.{HOOKS[request.param]}(sys.argv[1])"
    run([sys.executable, "-c", code, str(folder)], ROOT)
    (wheel,) = folder.glob("*.whl")
    home = folder / "environment"
    venv.create(home, with_pip=False)
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--python"]
    run([*pip, str(home), "install", "--no-deps", "--no-index", str(wheel)], folder)
    # Only now, or pip would take the project for installed already. Paths named in a .pth file
    # are added without reading the .pth files there, so the current project stays out.
    libraries = sysconfig.get_path("purelib"), sysconfig.get_path("platlib")
    site = Path(run([program(home, "python"), "-c", SITE], folder).strip())
    (site / "libraries.pth").write_text("\n".join(dict.fromkeys(libraries)), encoding="utf-8")
    return home


SITE = "import sysconfig; print(sysconfig.get_path('purelib'))"


def program(home: Path, name: str) -> str:
    folder, end = ("Scripts", ".exe") if os.name == "nt" else ("bin", "")
    return str(home / folder / f"{name}{end}")


def run(command: list[str], folder: Path) -> str:
    """Standard output of a command run in `folder`, in the C locale and with nothing to help it."""
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "LC_"))}
    environment |= {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    environment["XDG_CACHE_HOME"] = str(folder / "cache")
    ran = subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, encoding="utf-8", check=False
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout


def test_designs_are_found_from_another_folder(installed: Path, tmp_path: Path) -> None:
    listed = json.loads(run([program(installed, "proofgen"), "designs", "--json"], tmp_path))
    drawn = {file.parent.name for file in (ROOT / "templates").glob("*/*.toml")}
    assert drawn
    assert {design["id"] for design in listed["designs"]} == drawn


def test_data_is_packaged_or_the_checkouts(installed: Path, tmp_path: Path) -> None:
    code = "from proofgen.resources import folder; print(folder('fonts'))"
    found = Path(run([program(installed, "python"), "-c", code], tmp_path).strip())
    assert any(found.glob("*.ttf"))
    packaged = found.is_relative_to(installed.resolve())
    assert packaged or found == ROOT / "fonts"
    assert packaged == installed.parent.name.startswith("wheel")
