#!/usr/bin/env python3
"""Compares the tables that a reference script has just written with the committed ones.

    compare.py COMMITTED_FOLDER NEW_FOLDER SOME_WERE_SKIPPED(0|1)

Every committed .csv must have been written again, with the same rows; text must be equal, numbers equal within the
relative tolerance that the committed table names in its header (0: the same digits). The tools line may differ.
"""
import csv
import math
import sys
from pathlib import Path


def read(path):
    lines = path.read_text(encoding="utf-8").splitlines()
    header = dict(line[2:].split(": ", 1) for line in lines if line.startswith("# "))
    return header, list(csv.reader(line for line in lines if not line.startswith("#")))


def number(text):
    try:
        return float(text)
    except ValueError:
        return None


def compare(old, new):
    """The largest relative difference, and the first few cells that differ by more than is allowed."""
    header, committed = read(old)
    _, again = read(new)
    tolerance = float(header["tolerance"])
    if len(committed) != len(again):
        return tolerance, math.inf, [f"{len(committed)} rows committed, {len(again)} now"]
    worst, wrong = 0.0, []
    for line, (a, b) in enumerate(zip(committed, again)):
        if len(a) != len(b):
            return tolerance, math.inf, [f"row {line}: {a} and {b}"]
        for column, (x, y) in enumerate(zip(a, b)):
            if x == y:
                continue
            p, q = number(x), number(y)
            if p is None or q is None or tolerance == 0 or not (math.isfinite(p) and math.isfinite(q)):
                difference = math.inf
            else:
                difference = abs(p - q) / max(abs(p), abs(q), 1e-6)   # below a millionth: absolute
            worst = max(worst, difference)
            if difference > tolerance:
                wrong.append(f"row {line}, {committed[0][column]}: {x} committed, {y} now")
    return tolerance, worst, wrong


def main():
    committed, new, skipped = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3] == "1"
    failed = False
    for old in sorted(committed.glob("*.csv")):
        name = f"{committed.name}/{old.name}"
        path = new / old.name
        if not path.exists():
            print(f"{'skip' if skipped else 'FAIL'}  {name}: not written by this run")
            failed |= not skipped
            continue
        tolerance, worst, wrong = compare(old, path)
        print(f"{'FAIL' if wrong else 'ok  '}  {name}: largest relative difference {worst:.2g}, allowed {tolerance:g}")
        for line in wrong[:5]:
            print(f"      {line}")
        failed |= bool(wrong)
    for path in sorted(new.glob("*.csv")):
        if not (committed / path.name).exists():
            print(f"FAIL  {committed.name}/{path.name}: written by this run, not committed")
            failed = True
    sys.exit(1 if failed else 0)


main()
