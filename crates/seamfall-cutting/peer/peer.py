#!/usr/bin/env python3
"""Packs the lists with a general-purpose packing library, for the peer's column of docs/cutting-results.md.

    pip install rectpack
    python3 peer.py > peer.csv

In: ../tests/instances/q-*.json. Out: a line for each list with the shortest length of straight-cut packings (the library's guillotine
ways), of free ones (skylines and largest rectangles), and the seconds of all runs together. A length is found by halving: a box as wide as
the cloth is packed, then a lower one, while everything goes in. Every run is one way and one order of the pieces; a list gets up to
SECONDS. The library turns all pieces or none: with pieces that must not be turned, the others are laid low, then high.
"""

import csv
import json
import sys
import time
from pathlib import Path

import rectpack

SECONDS = 30
STRAIGHT = [rectpack.GuillotineBssfSas, rectpack.GuillotineBafSas, rectpack.GuillotineBlsfMinas, rectpack.GuillotineBssfMaxas]
FREE = [rectpack.SkylineBl, rectpack.SkylineMwf, rectpack.SkylineBlWm, rectpack.MaxRectsBl, rectpack.MaxRectsBssf]
ORDERS = [rectpack.SORT_SSIDE, rectpack.SORT_LSIDE, rectpack.SORT_AREA]


def laid(piece, ticks, width, low):
    """The piece in whole ticks, turned where it may be: low or high, but no wider than the cloth."""
    across, along = round(piece["w"] * ticks), round(piece["h"] * ticks)
    if piece["rotate"] and ((across < along) == low and along <= width or across > width):
        return along, across
    return across, along


def packed(pieces, width, height, way, order, turn):
    """The length that is used in a box of this height, or nothing when the pieces do not all go in."""
    packer = rectpack.newPacker(mode=rectpack.PackingMode.Offline, pack_algo=way, sort_algo=order, rotation=turn)
    for piece in pieces:
        packer.add_rect(*piece)
    packer.add_bin(width, height)
    packer.pack()
    if not packer or len(packer[0]) < len(pieces):
        return None
    return max(rect.y + rect.height for rect in packer[0])


def shortest(pieces, width, bound, handbook, ways, turn, end):
    """The least length over ways and orders."""
    best = handbook
    for way in ways:
        for order in ORDERS:
            low, high = bound, best
            while low < high and time.monotonic() < end:
                height = (low + high) // 2
                length = packed(pieces, width, height, way, order, turn)
                if length is None:
                    low = height + 1
                else:
                    high = length
            best = min(best, high)
    return best


def main():
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(["list", "straight", "free", "seconds"])
    for path in sorted(Path(__file__).parent.glob("../tests/instances/q-*.json")):
        data = json.loads(path.read_text())
        ticks, width = 8, round(data["strip_width"] * 8)
        handbook, bound = (round(value * ticks) for value in (data["handbook"], data["bounds"]["any_layout"]))
        turn = all(piece["rotate"] for piece in data["pieces"])
        start = time.monotonic()
        lengths = []
        for part, ways in enumerate([STRAIGHT, FREE]):
            best = handbook
            for share, low in enumerate([True] if turn else [True, False]):
                pieces = [laid(piece, ticks, width, low) for piece in data["pieces"] for _ in range(piece["count"])]
                end = start + SECONDS * (part + (share + 1) / (1 if turn else 2)) / 2
                best = min(best, shortest(pieces, width, bound, best, ways, turn, end))
            lengths.append(best / ticks)
        writer.writerow([data["name"], *lengths, round(time.monotonic() - start, 1)])
        sys.stdout.flush()


if __name__ == "__main__":
    main()
