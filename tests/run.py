"""Sets everything up and runs every check: ruff, mypy, and pytest with whatever is passed on."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "demo"))

import setup_env  # noqa: E402

# More workers than this gain nothing: the longest test decides.
MOST_WORKERS = 8


def main(arguments):
    """0 where every check passes. All of them run, so that one run shows all there is to mend."""
    setup_env.set_up("dev")
    workers = str(min(os.cpu_count() or 1, MOST_WORKERS))
    failed = []
    for name, *options in (
        ("ruff", "check", "."),
        ("ruff", "format", "--check", "."),
        ("mypy",),
        ("pytest", "-n", workers, *arguments),
    ):
        print("> " + " ".join([name, *options]), flush=True)
        command = [setup_env.program("python"), "-m", name, *options]
        if subprocess.call(command, cwd=str(ROOT)) != 0:
            failed.append(" ".join([name, *options[:1]]))
    if failed:
        print("Failed: " + ", ".join(failed), file=sys.stderr)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
