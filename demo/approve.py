"""Buyers who say yes: a copy of the demo's book in which every picture is approved."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import openpyxl

DEMO = Path(__file__).resolve().parent
PROOFGEN = Path(sys.executable).with_name("proofgen")
BOOK = DEMO / "out" / "approved" / "orders.xlsx"


def main():
    """Copy the book, make its pictures, type each code into Approved."""
    shutil.rmtree(BOOK.parent, ignore_errors=True)
    BOOK.parent.mkdir(parents=True)
    shutil.copy(DEMO / "orders.xlsx", BOOK)
    shutil.copy(DEMO / "workshop.toml", BOOK.parent)
    call = [str(PROOFGEN), "proof", str(BOOK), "--json"]
    told = json.loads(subprocess.run(call, stdout=subprocess.PIPE, check=False).stdout)
    book = openpyxl.load_workbook(BOOK)
    sheet = book["Orders"] if "Orders" in book.sheetnames else book.active
    header = next(r for r in sheet.iter_rows() if any(c.value == "Order" for c in r))
    column = next((c.column for c in header if c.value == "Approved"), sheet.max_column + 1)
    sheet.cell(header[0].row, column).value = "Approved"
    for row in told["rows"]:
        if row["code"] and row["verdict"] != "stop":
            sheet.cell(row["row"], column).value = f"Yes please! {row['code']}"
    book.save(BOOK)
    return 0


if __name__ == "__main__":
    sys.exit(main())
