"""Lays pieces that nobody thought of, and measures them: `random_orders.py --binary B FOLDER`.

Pieces are drawn by a fixed seed from everything an order document can say: every form of blank, own
outlines from SVG files, holes, bands and parts, every arrangement with its options, every colouring,
mixes, fillers, spacing, both gauges. Each document is laid, and every laid piece goes through
`check_lay`.
"""

import argparse
import math
import sys
import tomllib
from pathlib import Path

import numpy as np

import check_lay
import laying
import toml_text

SEED = 20_260_301
#: Pieces in one document.
PIECES_EACH = 8
#: Documents of the deep search; the rest of a long run is checked as usual.
DEEP_PIECES = 200
#: At least this share of the random pieces must give a lay: too many refusals would prove nothing.
LAID_AT_LEAST = 0.9


def mm(x):
    """A length as a maker writes it."""
    return f"{round(float(x), 3):g} mm"


def percent(x):
    """A share as a maker writes it."""
    return f"{round(float(x) * 100, 4):g} %"


class Draw:
    """Draws documents from one seeded source."""

    def __init__(self, seed):
        self.rng = np.random.default_rng(seed)
        # Of its own, so that pieces stay the same whatever is changed in them.
        self.by_hand_rng = np.random.default_rng([seed, 1])

    def one_of(self, options):
        """One of a list."""
        return options[int(self.rng.integers(len(options)))]

    def chance(self, p):
        """True with probability p."""
        return bool(self.rng.random() < p)

    def between(self, low, high):
        """A number in a range."""
        return float(self.rng.uniform(low, high))

    def shelf(self):
        """Kinds of every way to give a size."""
        colours = ["#c9cdd4", "#2f8f83", "#d9603b", "#f2c14e", "#345995", "#111111", "#ffffff"]
        finishes = ["foiled", "rainbow", "clear", "metallic", "pearl"]
        sizes = ["SS5", "SS6", "SS9", "SS10", "SS12", "SS16", "SS20", "SS30"]
        kinds = [{"name": f"{s.lower()} one", "size": s, "pack": 1440, "weight": "0.03 g"} for s in sizes]
        kinds += [
            {"name": "resin three", "size": "3 mm", "tolerance": "0.1 mm", "pack": 1000, "weight": "0.02 g"},
            {"name": "resin four", "size": "4 mm", "pack": 1000, "weight": {"stones": 100, "total": "4.5 g"}},
            {
                "name": "measured", "size": {"mean": "4.71 mm", "spread": "0.05 mm", "count": 40},
                "pack": 720, "weight": "0.06 g",
            },
            {"name": "ss16 two", "size": "SS16", "pack": 144, "weight": "0.03 g"},
        ]  # fmt: skip
        for kind in kinds:
            kind["colour"] = self.one_of(colours)
            kind["finish"] = self.one_of(finishes)
        return kinds

    def form(self, low, high):
        """An outline of a size in mm, as the keys of a document; and its box."""
        width = self.between(low, high)
        height = width * self.between(0.6, 1.4)
        name = self.one_of([
            "rectangle", "rounded rectangle", "circle", "ellipse", "regular polygon", "polygon",
            "star", "heart",
        ])  # fmt: skip
        if name == "rectangle":
            return {"shape": name, "width": mm(width), "height": mm(height)}, (width, height)
        if name == "rounded rectangle":
            corner = min(width, height) / 2 * self.one_of([0.1, 0.3, 0.7, 0.999])
            keys = {"width": mm(width), "height": mm(height), "corner": mm(corner)}
            return {"shape": name, **keys}, (width, height)
        if name == "circle":
            return {"shape": name, "diameter": mm(width)}, (width, width)
        if name == "ellipse":
            return {"shape": name, "width": mm(width), "height": mm(height)}, (width, height)
        if name == "regular polygon":
            corners = int(self.rng.integers(3, 10))
            return {"shape": name, "corners": corners, "across": mm(width)}, (width, width)
        if name == "polygon":
            return {"shape": name, "points": self.blob(width, height)}, (width, height)
        if name == "star":
            tips = int(self.rng.integers(4, 9))
            inner = percent(self.between(0.35, 0.8))
            return {"shape": name, "tips": tips, "across": mm(width), "inner": inner}, (width, width)
        return {"shape": "heart", "width": mm(width), "height": mm(width * 0.9)}, (width, width * 0.9)

    def blob(self, width, height):
        """Corners round a middle, so that they do not cross."""
        n = int(self.rng.integers(5, 14))
        angles = (np.arange(n) + self.rng.uniform(-0.3, 0.3, n)) * 2 * math.pi / n
        reach = self.rng.uniform(0.55, 1.0, n)
        return [
            [mm(width / 2 * (1 + r * math.cos(a))), mm(height / 2 * (1 + r * math.sin(a)))]
            for a, r in zip(angles, reach, strict=True)
        ]

    def svg_outline(self, folder, name):
        """An SVG file with a smooth outline, perhaps a hole, a transform and a stroke."""
        def smooth(n, size, wobble):
            angles = np.arange(n) * 2 * math.pi / n
            reach = size * (1 + self.rng.uniform(-wobble, wobble, n))
            points = np.column_stack([reach * np.cos(angles), reach * np.sin(angles)])
            ahead = (np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)) / 6
            d = f"M{points[0][0]:.4f} {points[0][1]:.4f}"
            for i in range(n):
                j = (i + 1) % n
                c = [*(points[i] + ahead[i]), *(points[j] - ahead[j]), *points[j]]
                d += " C" + " ".join(f"{x:.4f}" for x in c)
            return d + "Z"

        d = smooth(int(self.rng.integers(4, 9)), 40, 0.25)
        if self.chance(0.5):
            d += " " + smooth(5, 9, 0.2)
        turn, scale = self.between(-40, 40), self.between(0.5, 2)
        stroke = 'stroke="#000" stroke-width="2"' if self.chance(0.3) else ""
        text = (
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-120 -120 240 240">'
            f'<g transform="rotate({turn:.3f}) scale({scale:.3f})">'
            f'<path fill-rule="evenodd" d="{d}" {stroke}/></g></svg>\n'
        )
        (folder / name).write_text(text, encoding="utf-8")
        return {"file": name, self.one_of(["width", "height"]): mm(self.between(30, 70))}

    def holes(self, box):
        """Up to two holes somewhere near the middle."""
        holes = []
        for side in range(int(self.rng.integers(0, 3))):
            form, _ = self.form(3, 9)
            at = [mm(box[0] * (0.38 + 0.24 * side)), mm(box[1] * self.between(0.4, 0.6))]
            holes.append({**form, "at": at})
        return holes

    def mix(self, kinds, same_size):
        """A mix of one to four kinds, by one of the measures; of one size if asked."""
        names = [k["name"] for k in kinds]
        if same_size:
            names = ["ss16 one", "ss16 two"]
        n = int(self.rng.integers(1, min(4, len(names)) + 1))
        chosen = [str(x) for x in self.rng.choice(names, n, replace=False)]
        if n == 1 and self.chance(0.5):
            return chosen[0]
        measure = self.one_of(["share", "count", "weight", "packs", "even"])
        weights = self.rng.uniform(1, 5, n)
        parts = []
        for name, w in zip(chosen, weights, strict=True):
            part = {"kind": name}
            if measure == "share":
                part["share"] = percent(w / weights.sum())
            elif measure == "count":
                part["count"] = int(w * 100)
            elif measure == "weight":
                part["weight"] = f"{w:.2f} g"
            elif measure == "packs":
                part["packs"] = math.ceil(w)
            if self.chance(0.3):
                part["rows"] = int(self.rng.integers(1, 4))
            parts.append(part)
        return parts

    def arrangement(self, box):
        """An arrangement with its options."""
        name = self.one_of(["honeycomb", "honeycomb", "square", "rings", "scatter", "scatter"])
        keys = {"arrangement": name}
        if name == "scatter":
            return keys | ({"ring_holes": self.chance(0.5)} if self.chance(0.6) else {})
        if name == "rings":
            if self.chance(0.4):
                keys["centre"] = [mm(box[0] * self.between(0.2, 0.8)), mm(box[1] * self.between(0.2, 0.8))]
            keys["start"] = self.one_of(["in line", "staggered"])
            return keys | {"nested": self.chance(0.5), "around_holes": self.chance(0.5)}
        keys["rows"] = self.one_of(["locked", "most", "even"])
        if keys["rows"] == "most":
            return keys | {"steps": int(self.rng.integers(20, 300))}
        keys["along"] = self.one_of(["bottom", "top", "left", "right", "longest", "30 deg", "-77.5 deg"])
        return keys | ({"open": mm(self.between(0.05, 0.6))} if keys["rows"] == "even" else {})

    def laid(self, kinds, box):
        """How a zone is laid."""
        keys = self.arrangement(box)
        keys["mix"] = self.mix(kinds, same_size=keys["arrangement"] != "scatter" and self.chance(0.5))
        if self.chance(0.7):
            keys["colouring"] = self.one_of(["plain", "striped", "alternating", "random"])
        keys["set_by"] = self.one_of(["sheet", "touch"])
        if self.chance(0.7):
            keys["spacing"] = self.one_of(["0 mm", "0.1 mm", "0.25 mm", "0.8 mm", "0.02 in"])
        if self.chance(0.3):
            keys["fillers"] = self.one_of([["ss5 one"], ["ss6 one", "ss5 one"], ["resin three", "ss5 one"]])
        if self.chance(0.2):
            keys["seed"] = int(self.rng.integers(0, 2**53))
        return keys

    def zones(self, kinds, box):
        """The zones of a piece: one for all, or bands and parts and what they leave over."""
        how = self.one_of(["all", "all", "band", "part", "both"])
        if how == "all":
            return [{"name": "all", "where": "rest", **self.laid(kinds, box)}]
        zones = []
        if how in ("band", "both"):
            width = self.one_of([mm(self.between(3, 9)), "1 row", "2 rows"])
            where = {"band": width, "of": self.one_of(["outside", "every edge"])}
            zones.append({"name": "border", "where": where, **self.laid(kinds, box)})
        if how in ("part", "both"):
            form, _ = self.form(min(box) * 0.3, min(box) * 0.5)
            middle = [mm(box[0] * self.between(0.4, 0.6)), mm(box[1] * self.between(0.4, 0.6))]
            zones.append({"name": "part", "where": {**form, "at": middle}, **self.laid(kinds, box)})
        return [*zones, {"name": "rest", "where": "rest", **self.laid(kinds, box)}]

    def by_hand(self, kinds, box):
        """Changes by hand, on the blank and a little beside it."""
        rng, changes = self.by_hand_rng, []
        for _ in range(int(rng.integers(1, 25))):
            place = [mm(rng.uniform(-0.05, 1.05) * side) for side in box]
            kind = kinds[int(rng.integers(len(kinds)))]["name"]
            turn = {"turn": f"{int(rng.integers(360))} deg"} if rng.random() < 0.3 else {}
            changes.append([
                {"set": place, "kind": kind, **turn}, {"clear": place}, {"recolour": place, "kind": kind},
            ][int(rng.integers(3))])  # fmt: skip
        return changes

    def piece(self, name, kinds, folder):
        """A whole piece."""
        if self.chance(0.2):
            blank, box = self.svg_outline(folder, f"{name}-outline.svg"), (40.0, 40.0)
        else:
            blank, box = self.form(28, 75)
        blank["colour"] = self.one_of(["#f4f1ea", "#1b1b1b", "#7a4b2a"])
        piece = {"name": name, "quantity": int(self.rng.integers(1, 40)), "blank": blank}
        piece["margin"] = self.one_of(["0 mm", "0.5 mm", "1.2 mm", "1/16 in"])
        if holes := self.holes(box):
            piece["holes"] = holes
        if self.by_hand_rng.random() < 0.5:
            piece["by_hand"] = self.by_hand(kinds, box)
        return piece | {"zone": self.zones(kinds, box)}

    def order(self, number, n_pieces, folder):
        """A document with its pieces."""
        kinds = self.shelf()
        pieces = [self.piece(f"piece-{number}-{i + 1}", kinds, folder) for i in range(n_pieces)]
        return {"stonelay": 1, "order": f"random {number}", "seed": number, "kind": kinds, "piece": pieces}


def write_orders(folder, n_pieces):
    """Writes the documents, one folder each; their paths."""
    draw, paths = Draw(SEED), []
    for number in range(1, math.ceil(n_pieces / PIECES_EACH) + 1):
        home = folder / f"order-{number}"
        home.mkdir(parents=True)
        n = min(PIECES_EACH, n_pieces - PIECES_EACH * (number - 1))
        path = home / "order.toml"
        path.write_text(toml_text.document(draw.order(number, n, home)), encoding="utf-8")
        paths.append(path)
    return paths


def split(path):
    """A refused document as one document for each of its pieces, so that the others are laid."""
    whole = tomllib.loads(path.read_text(encoding="utf-8"))
    paths = []
    for piece in whole["piece"]:
        alone = path.with_name(f"{piece['name']}.toml")
        alone.write_text(toml_text.document(whole | {"piece": [piece]}), encoding="utf-8")
        paths.append(alone)
    return paths


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", required=True, type=Path)
    parser.add_argument("--pieces", type=int, default=200)
    parser.add_argument("--deep", action="store_true", help="the whole search for bare spots")
    parser.add_argument("folder", type=Path)
    options = parser.parse_args()
    orders = write_orders(options.folder, options.pieces)
    layings = laying.lay_all(options.binary, [(o, o.parent / "out") for o in orders])
    refused = [x for x in layings if x.code != 0 and not x.trouble]
    alone = [(o, o.with_suffix(".out")) for x in refused for o in split(x.order)]
    layings = [x for x in layings if x not in refused] + laying.lay_all(options.binary, alone)
    laid = [x.lay for x in layings if x.code == 0]
    n_refused = sum(x.code != 0 and not x.trouble for x in layings)
    failed = 0
    for x in layings:
        if x.trouble:
            failed += 1
            print(f"FAILED {x.order}: {x.trouble}")
        elif x.code != 0:
            print(f"refused {x.order.name}: {x.said.strip().splitlines()[0]}")
    n_deep = math.ceil(DEEP_PIECES / PIECES_EACH) if options.deep else 0
    passed, spoilt = 0, 0
    for some, deep in ((laid[:n_deep], True), (laid[n_deep:], False)):
        if some:
            counts = check_lay.check_files(some, deep, quiet=True)
            passed, spoilt = passed + counts[0], spoilt + counts[1]
    failed += spoilt
    if passed + spoilt < LAID_AT_LEAST * options.pieces:
        failed += 1
        print(f"FAILED only {passed + spoilt} of {options.pieces} pieces gave a lay")
    print(f"{n_refused} refused")
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed > 0 or passed == 0)


if __name__ == "__main__":
    main()
