"""What the worktop weighs with a piece of 20,000 stones open in it.

Usage: worktop_large_piece.py --binary STONELAY

The piece is laid, drawn, planned and changed, as its page asks for it. The memory is the most that the
process ever held (`VmHWM` of proc(5)); the goal is 150 MB, and more fails.
"""

import argparse
import json
import re
import sys
from pathlib import Path

from worktop_server import Worktop

GOAL_MB = 150
STONES = 20_000
# Stones of 2 mm in a honeycomb, 2.1 mm from row to row of middles: 0.26 a square millimetre.
ORDER = """stonelay = 1
order = "The harbour wall"

[[kind]]
name = "spray"
size = "2 mm"
colour = "#f6e3bd"

[[piece]]
name = "wall"
blank = { shape = "rectangle", width = "320 mm", height = "250 mm" }
arrangement = "honeycomb"
spacing = "0.1 mm"
mix = "spray"
"""


def most_mb(process):
    status = Path(f"/proc/{process.pid}/status").read_text()
    return int(re.search(r"VmHWM:\s+(\d+) kB", status).group(1)) / 1000


def asked(worktop, path, body=None):
    status, _, text = worktop.ask(path, body)
    if status != 200:
        raise RuntimeError(f"{path}: {status} {text[:300]}")
    return text


def main(binary):
    with Worktop(binary) as worktop:
        asked(worktop, "/")
        at_rest = most_mb(worktop.process)
        order = json.loads(asked(worktop, "/api/bundles", {"text": ORDER, "files": []}))
        piece = f"/orders/{order['id']}/pieces/1"
        stones = len(json.loads(asked(worktop, f"/api{piece}"))["stones"]["x"])
        for path in (piece, f"{piece}/board.json", f"{piece}/facts", f"{piece}/picture.svg"):
            asked(worktop, path)
        for page in ("buy", "glue", "days", "price", "set"):
            asked(worktop, f"/orders/{order['id']}/{page}")
        change = {"from": order["revision"], "changes": [{"do": "set", "path": "piece.1.zone.1.spacing", "value": "0.12 mm"}]}
        asked(worktop, f"/api/orders/{order['id']}/changes", change)
        asked(worktop, f"{piece}/board.json")
        most = most_mb(worktop.process)
    print(f"a piece of {stones} stones: {most:.0f} MB at most (goal {GOAL_MB}), {at_rest:.0f} MB before it")
    return 0 if stones >= STONES and most <= GOAL_MB else 1


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", required=True)
    sys.exit(main(parser.parse_args().binary))
