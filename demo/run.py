"""Sets everything up and does the main job on the order book of an invented workshop."""

import subprocess
import sys
from pathlib import Path

import setup_env

DEMO = Path(__file__).resolve().parent
BOOK = DEMO / "orders.xlsx"
OUT = DEMO / "out"
APPROVED = OUT / "approved" / "orders.xlsx"
HERE = ("--workshop", str(DEMO / "workshop.toml"))

# Some rows of the book stop, as they are meant to, and proofgen says so with 1.
FINE = (0, 1)


def main():
    """Proofs and production files of every row that does not stop; 0 where all went as meant."""
    setup_env.set_up()
    if not BOOK.exists():
        subprocess.check_call([setup_env.program("python"), str(DEMO / "book.py")])
    proofgen = setup_env.program("proofgen")
    for call in (
        [proofgen, "choices", "--name", "Katherine", *HERE, "--out", str(OUT / "choices.png")],
        [proofgen, "proof", str(BOOK), "--pdf", "--out", str(OUT / "proofs")],
        [proofgen, "make", str(BOOK), "--all", "--out", str(OUT / "production")],
        [setup_env.program("python"), str(DEMO / "approve.py")],
        [proofgen, "sheets", str(APPROVED), "--out", str(OUT / "sheets"), "--seconds", "20", *HERE],
    ):
        print("\n> " + " ".join([Path(call[0]).stem, *call[1:]]), flush=True)
        code = subprocess.call(call)
        if code not in FINE:
            return code
    print(f"\nOrder book:       {BOOK}")
    print("First answer:     {}".format(OUT / "choices.png"))
    print("Proof pictures:   {}".format(OUT / "proofs"))
    print("Production files: {}".format(OUT / "production"))
    print("Sheets:           {}".format(OUT / "sheets"))
    print("Rows that stop are part of the demo; what to do stands below each of them.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
