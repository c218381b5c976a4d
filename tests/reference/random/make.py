#!/usr/bin/env python3
"""Philox4x32-10, the counter-based generator of Salmon, Moraes, Dror & Shaw (2011), "Parallel random numbers: as easy as
1, 2, 3", SC11, doi:10.1145/2063384.2063405, written here from the paper (multipliers D2511F53 and CD9E8D57, Weyl constants
9E3779B9 and BB67AE85, ten rounds) in whole-number Python, independent of the engine.

    known_answers.csv   the three vectors published with the authors' library (Random123, tests/kat_vectors), typed in below
                        as published; this script stops when its own answer differs from one of them
    further.csv         further blocks from this script: counters and keys with single bits, carries and mixed words
    plan.csv            resampling plans: whole numbers below n made from the words in order by the multiply-and-reject method
                        (Lemire 2019, "Fast random integer generation in an interval"), counter (block, resample, stream low,
                        stream high), key (seed low, seed high), counted per cluster. An edition's numbers rest on this layout.

    cd tests/reference/random && python3 make.py [OUTPUT_FOLDER]
"""
import platform
import sys
from pathlib import Path

PUBLISHED = [
    "00000000 00000000 00000000 00000000 00000000 00000000 6627e8d5 e169c58d bc57ac4c 9b00dbd8",
    "ffffffff ffffffff ffffffff ffffffff ffffffff ffffffff 408f276d 41c83b0e a20bc7c6 6d5451fd",
    "243f6a88 85a308d3 13198a2e 03707344 a4093822 299f31d0 d16cfe09 94fdcceb 5001e420 24126ea1",
]
MASK = 0xFFFFFFFF


def philox(counter, key, rounds=10):
    """One block: four 32-bit words from a counter of four and a key of two."""
    a, b, c, d = counter
    left, right = key
    for _ in range(rounds):
        first, second = 0xD2511F53 * a, 0xCD9E8D57 * c
        a, b, c, d = (second >> 32) ^ b ^ left, second & MASK, (first >> 32) ^ d ^ right, first & MASK
        left, right = (left + 0x9E3779B9) & MASK, (right + 0xBB67AE85) & MASK
    return a, b, c, d


def further():
    """Inputs that would show a word in the wrong place, a lost carry or a key that is not bumped."""
    for word in range(6):
        for bit in (0, 1, 15, 16, 31):
            words = [0] * 6
            words[word] = 1 << bit
            yield words
    for n in range(32):
        yield [(n * 0x9E3779B1 + w * 0x85EBCA77 + n * w * 0xC2B2AE3D) & MASK for w in range(6)]


def plan(seed, stream, clusters, resample):
    """How often each of so many clusters is drawn in one resample."""
    counts, drawn, block = [0] * clusters, 0, 0
    while drawn < clusters:
        counter = (block, resample, stream & MASK, stream >> 32)
        block += 1
        for word in philox(counter, (seed & MASK, seed >> 32)):
            product = word * clusters
            if drawn < clusters and (product & MASK) >= 2**32 % clusters:
                counts[product >> 32] += 1
                drawn += 1
    return counts


def plans():
    for seed, stream, clusters in ((1, 0, 1), (1, 7, 5), (1, 8, 5), (2, 7, 5), (2**40 + 3, 2**35 + 11, 13), (2**64 - 1, 2**64 - 1, 61)):
        for resample in (0, 1, 1999):
            yield seed, stream, clusters, resample, " ".join(map(str, plan(seed, stream, clusters, resample)))


def write(folder, name, heading, rows, source):
    lines = [f"# source: {source}", f"# tools: Python {platform.python_version()}", "# rerun: tests/reference/rerun random", "# tolerance: 0",
             heading, *(",".join(row) for row in rows)]
    (folder / name).write_text("\n".join(lines) + "\n", encoding="ascii")


def main():
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else ".")
    published = [[int(w, 16) for w in line.split()] for line in PUBLISHED]
    for row in published:
        if list(philox(row[:4], row[4:6])) != row[6:]:
            sys.exit(f"this script disagrees with the published vector {row}")
    words = "c0,c1,c2,c3,k0,k1,r0,r1,r2,r3"
    source = "Salmon et al. 2011"
    write(folder, "known_answers.csv", words, ([f"{w:08x}" for w in row] for row in published),
          f"{source}; vectors as published with the authors' library, tests/kat_vectors")
    write(folder, "further.csv", words, ([f"{w:08x}" for w in [*row, *philox(row[:4], row[4:])]] for row in further()),
          f"{source}; computed by make.py")
    write(folder, "plan.csv", "seed,stream,clusters,resample,multiplicities", ([str(c) for c in row] for row in plans()),
          f"{source}; Lemire 2019; computed by make.py")


main()
