"""Sets the binary's counts against published tables: `tables.py --binary B`.

Every source is named beside its values. All lays are of stones set touching (by the mean diameter),
spacing 0, margin 0, so that a table's diameter is the lay's.
"""

import argparse
import math
import sys
import tempfile
from pathlib import Path

import numpy as np

import laying
import toml_text
from lay_files import read_lay

#: Stones per square inch, two trade tables: SS number, its range in mm, what the tables print.
PER_SQUARE_INCH = [
    (12, (3.00, 3.20), (67.14, 67.0)),
    (16, (3.80, 4.00), (42.41,)),
    (20, (4.60, 4.80), (29.20, 30.0)),
    (30, (6.32, 6.50), (15.68,)),
]
#: Most unit circles in a circle of radius n = 1 to 12: OEIS A023393.
A023393 = [1, 2, 7, 11, 19, 27, 38, 50, 64, 80, 98, 118]
#: Equal circles in a circle, best known R/r by count: E. Specht's tables of best-known packings.
IN_CIRCLE = {
    7: 3.0000, 19: 4.8637, 30: 6.1977, 31: 6.2915, 37: 6.75877, 61: 8.66130, 80: 9.9682,
    91: 10.56677, 100: 11.0821, 121: 12.1248, 132: 12.68744, 151: 13.4762, 199: 15.4023,
    241: 16.91506, 300: 18.8132,
}  # fmt: skip
#: Equal circles in the unit square, best known r by count: the same tables.
IN_SQUARE = {
    10: 0.148204, 20: 0.111382, 25: 0.1, 30: 0.0916711, 36: 0.0833333, 39: 0.0813675,
    52: 0.0709577, 68: 0.0625201, 86: 0.0555730, 100: 0.0514011,
}  # fmt: skip
#: Densities of endless lays: Thue 1910, Fejes Tóth 1943; closed form.
DENSITIES = {"honeycomb": math.pi / math.sqrt(12), "square": math.pi / 4}
#: A hole between four touching stones in a square, by Descartes' theorem: this share of d.
SQUARE_POCKET = math.sqrt(2) - 1
#: Stones of the ceilings, mm.
D = 4.0
ARRANGEMENTS = {
    "honeycomb": {"arrangement": "honeycomb", "rows": "most", "steps": 2000},
    "square": {"arrangement": "square", "rows": "most", "steps": 500},
    "rings": {"arrangement": "rings", "nested": True},
    "scatter": {"arrangement": "scatter"},
}


class Pieces:
    """Pieces to be laid in one order, and what is asked of each."""

    def __init__(self):
        self.kinds = {}
        self.pieces = []

    def add(self, size, blank, laid):
        """A piece of one kind; its name."""
        self.kinds.setdefault(size, {"name": size, "size": size})
        name = f"p{len(self.pieces) + 1}"
        keys = {"set_by": "touch", "spacing": "0 mm", "mix": size, **laid}
        self.pieces.append({"name": name, "blank": blank, **keys})
        return name

    def laid(self, binary):
        """The laid pieces by name."""
        order = {
            "stonelay": 1, "order": "tables", "seed": 1,
            "kind": list(self.kinds.values()), "piece": self.pieces,
        }  # fmt: skip
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "order.toml"
            path.write_text(toml_text.document(order), encoding="utf-8")
            done = laying.lay(binary, path, Path(folder) / "out")
            if done.code != 0:
                raise SystemExit(f"the order of tables was refused: {done.said}")
            return {piece["name"]: piece for piece in read_lay(done.lay)["pieces"]}


def mm(x):
    """A length with enough digits."""
    return f"{x:.6f} mm"


def rectangle(width, height):
    """A rectangle as a blank."""
    return {"shape": "rectangle", "width": mm(width), "height": mm(height)}


def growing(pieces, arrangement, size, d):
    """Ever larger rectangles that whole rows fill; their areas, edges and names."""
    out = []
    for k in (10, 20, 40, 80):
        # 0.0001 mm of room, so that a rounding error costs no stone.
        if arrangement == "square":
            width = height = k * d + 1e-4
        else:
            width, height = (k + 0.5) * d + 1e-4, (1 + (k - 1) * math.sqrt(3) / 2) * d + 1e-4
        name = pieces.add(size, rectangle(width, height), {"arrangement": arrangement})
        out.append((width * height, 2 * (width + height), name))
    return out


def endless(series, laid):
    """Stones per mm² without edges: the area's part of N = a·A + b·P + c."""
    table = np.array([(a, p, 1.0) for a, p, _ in series])
    counts = [len(laid[name]["stones"]) for *_, name in series]
    return float(np.linalg.lstsq(table, np.array(counts, dtype=float), rcond=None)[0][0])


def densities(pieces):
    """Densities by extrapolation; stones per square inch; the pocket of a square grid."""
    asked = []
    for ss, (low, high), printed in PER_SQUARE_INCH:
        d = (low + high) / 2
        for arrangement, density in DENSITIES.items():
            asked.append((ss, d, printed, arrangement, density, growing(pieces, arrangement, f"SS{ss}", d)))

    def judge(laid):
        for ss, d, printed, arrangement, density, series in asked:
            per_mm2 = endless(series, laid)
            found = per_mm2 * math.pi / 4 * d * d
            yield f"SS{ss} {arrangement}: density {found:.6f}, wanted {density:.6f}", abs(found / density - 1) < 1e-3
            if arrangement != "square":
                continue
            # Tables print two to four digits, and "30" is a rounding to the next ten.
            for value in printed:
                per_inch2, slack = per_mm2 * 645.16, 0.002 if value % 1 else 0.03
                yield (
                    f"SS{ss}: {per_inch2:.2f} stones per square inch, a trade table prints {value}",
                    abs(per_inch2 / value - 1) < slack,
                )
            spot = laid[series[1][2]]["zones"][0]["bare_spots"][0]["diameter_mm"] / d
            yield (
                f"SS{ss}: pocket of the square grid {spot:.6f} d, wanted {SQUARE_POCKET:.6f}",
                abs(spot - SQUARE_POCKET) < 1e-4,
            )

    return judge


def ceilings(pieces):
    """No lay holds more than the best packings known."""
    asked = []
    for label, laid_as in ARRANGEMENTS.items():
        for n, most in enumerate(A023393, start=1):
            name = pieces.add("4 mm", {"shape": "circle", "diameter": mm(n * D)}, laid_as)
            asked.append((f"{label}, circle of radius {n}", name, most))
        for count, ratio in IN_CIRCLE.items():
            # A little too small for the record, by more than its printed digits.
            blank = {"shape": "circle", "diameter": mm(ratio * D * (1 - 1e-4))}
            asked.append((f"{label}, circle for {count}", pieces.add("4 mm", blank, laid_as), count - 1))
        for count, r in IN_SQUARE.items():
            side = D / (2 * r) * (1 - 1e-4)
            name = pieces.add("4 mm", rectangle(side, side), laid_as)
            asked.append((f"{label}, square for {count}", name, count - 1))

    def judge(laid):
        for label, name, most in asked:
            n = len(laid[name]["stones"])
            yield f"{label}: {n} stones, at most {most}", 0 < n <= most

    return judge


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", required=True, type=Path)
    options = parser.parse_args()
    pieces = Pieces()
    judges = [densities(pieces), ceilings(pieces)]
    laid = pieces.laid(options.binary)
    results = [result for judge in judges for result in judge(laid)]
    for text, passed in results:
        print(f"{'passed' if passed else 'FAILED'} {text}")
    failed = sum(not passed for _, passed in results)
    print(f"{len(results) - failed} passed, {failed} failed")
    sys.exit(failed > 0)


if __name__ == "__main__":
    main()
