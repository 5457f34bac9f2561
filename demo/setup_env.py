"""Sets up the checkout's own virtual environment; needs nothing but Python 3.11 or later.

The syntax is that of older versions, so that those can at least say what to install.
"""

import hashlib
import json
import os
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / ".venv"
UNUSABLE = 2


def set_up(extra=""):
    """Make the environment ready with the project, and with its extra "dev" where that is asked.

    Exits with one sentence where this cannot be done.
    """
    refuse_old_python()
    wanted = fingerprint()
    # What is there for "dev" holds all that the project needs to run.
    if wanted in (stamped(extra), stamped("dev")):
        return
    # What was made for other dependencies, or was left half done, is not worth mending.
    if stamped("") != wanted:
        print("Setting up .venv; this takes a minute or two, once.", flush=True)
        run_or_exit(
            [base_python(), "-m", "venv", "--clear", str(FOLDER)],
            "The virtual environment .venv could not be made; see the message above.",
        )
    target = f"{ROOT}[{extra}]" if extra else str(ROOT)
    pip = [program("python"), "-m", "pip", "--disable-pip-version-check", "--quiet", "install"]
    run_or_exit(
        [*pip, "--only-binary", ":all:", "--editable", target],
        "The libraries could not be installed; see pip's message above, and look whether the "
        "network is there.",
    )
    stamp(extra).write_text(wanted, encoding="utf-8")


def refuse_old_python():
    """Exit with what to install where this Python cannot make an environment."""
    if sys.version_info < (3, 11):  # noqa: UP036 (the one place that an old version reaches)
        refuse(
            f"This is Python {sys.version_info[0]}.{sys.version_info[1]}; install Python 3.11 or "
            "later (from python.org, or with your system's package manager) and run this again "
            "with it."
        )
    missing = [name for name in ("venv", "ensurepip") if find_spec(name) is None]
    if missing:
        refuse(
            f"This Python comes without {' and '.join(missing)}; install it (Debian and Ubuntu: "
            "apt install python3-venv) and run this again."
        )


def fingerprint():
    """Changes with whatever the environment depends on."""
    import tomllib  # Python 3.11

    table = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    parts = [table["build-system"], table["project"], str(ROOT), sys.version, sys.base_prefix]
    return hashlib.sha256(json.dumps(parts, sort_keys=True).encode("utf-8")).hexdigest()


def stamp(extra):
    """The file that says for what the environment is ready."""
    return FOLDER / ("ready-" + (extra or "run"))


def stamped(extra):
    """The fingerprint that was current when the environment was made ready, or an empty text."""
    file = stamp(extra)
    return file.read_text(encoding="utf-8") if file.is_file() else ""


def base_python():
    """This Python outside any environment, which may be the very one that is made anew."""
    return getattr(sys, "_base_executable", None) or sys.executable


def program(name):
    """The path of one of the environment's programs."""
    if os.name == "nt":
        return str(FOLDER / "Scripts" / (name + ".exe"))
    return str(FOLDER / "bin" / name)


def run_or_exit(command, sentence):
    """Run a command; exit with the sentence where it fails."""
    if subprocess.call(command, cwd=str(ROOT)) != 0:
        refuse(sentence)


def refuse(sentence):
    """Say one sentence and exit."""
    print(sentence, file=sys.stderr)
    sys.exit(UNUSABLE)
