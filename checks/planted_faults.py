"""Spoils good lays in every way that the checker must notice: `planted_faults.py LAY.json`.

A checker that passes everything proves nothing. Each fault is planted in one value of one piece,
as small as it may be, and must be refused by the law that it breaks; the lay itself must pass. The
hash, which would notice any of them, is made to fit again.
"""

import copy
import hashlib
import re
import shutil
import sys
import tempfile
from pathlib import Path

import rfc8785

import check_lay
from lay_files import beside, file_name, read_lay
from piece_checks import as_doubles, hashed_part


def first_stones(piece, n=1):
    """The first stones of a piece."""
    return piece["stones"][:n]


def nearest_pair(piece):
    """The first stone, and the one nearest to it."""
    a, *others = piece["stones"]
    return a, min(others, key=lambda s: (s["u"] - a["u"]) ** 2 + (s["v"] - a["v"]) ** 2)


def push_into_neighbour(piece):
    """A stone 0.00001 mm nearer to its neighbour than both may be."""
    a, b = nearest_pair(piece)
    zone = piece["zones"][a["zone"]]
    du, dv = a["u"] - b["u"], a["v"] - b["v"]
    wanted = (a["pitch_mm"] + b["pitch_mm"]) / 2 + zone["spacing_mm"] - 1e-5
    shrink = wanted / (du * du + dv * dv) ** 0.5
    a["u"], a["v"] = round(b["u"] + du * shrink, 9), round(b["v"] + dv * shrink, 9)


def push_over_edge(piece):
    """A stone on the zone's first corner."""
    stone = first_stones(piece)[0]
    stone["u"], stone["v"] = (round(x, 9) for x in piece["zones"][stone["zone"]]["region"]["rings"][0]["start"])


def spoil(**changes):
    """A fault that sets values of the first zone, given as functions of what stands there."""

    def plant(piece):
        for key, change in changes.items():
            piece["zones"][0][key] = change(piece["zones"][0][key])

    return plant


def spoil_spot(**changes):
    """The same for the largest bare spot of the first zone."""

    def plant(piece):
        spot = piece["zones"][0]["bare_spots"][0]
        for key, change in changes.items():
            spot[key] = change(spot[key])

    return plant


def drop_spot(piece):
    """The largest bare spot is kept quiet."""
    piece["zones"][0]["bare_spots"] = [
        s
        for s in piece["zones"][0]["bare_spots"]
        if s["diameter_mm"] < piece["zones"][0]["bare_spots"][0]["diameter_mm"] - 1e-5
    ]


def weaken_edge(piece):
    """An edge of the blank that asks for less than the margin."""
    piece["zones"][0]["region"]["rings"][0]["segments"][0]["keep_mm"] -= 0.01


def widen_stone(piece):
    """A stone drawn wider than its kind."""
    first_stones(piece)[0]["drawn_mm"] += 1e-4


def swap_numbers(piece):
    """Two stones with each other's number."""
    a, b = first_stones(piece, 2)
    a["place_no"], b["place_no"] = b["place_no"], a["place_no"]


def stretch_blank(piece):
    """A blank wider than its outline."""
    piece["blank"]["width_mm"] += 1e-4


#: Name of the fault, how it is planted, a word of the complaint that must come.
IN_JSON = [
    ("stone pushed into its neighbour", push_into_neighbour, "too close"),
    ("stone pushed over the edge", push_over_edge, "leaves zone"),
    ("stone wider than its kind", widen_stone, "not as wide"),
    ("stones misnumbered", swap_numbers, "not numbered"),
    ("one stone too many counted", spoil(stones=lambda n: n + 1), "stones written"),
    ("one row too many counted", spoil(rows=lambda n: n + 1), "rows written"),
    ("coverage off by 0.0002 %", spoil(coverage=lambda c: c * 1.000002), "coverage"),
    ("area off by 0.0002 %", spoil(area_mm2=lambda a: a * 1.000002), "area"),
    ("edge that asks for another margin", weaken_edge, "keeps"),
    ("bare edge off by half a per cent", spoil(bare_edge=lambda b: b + 0.005), "bare edge"),
    ("bare spot 0.00001 mm too large", spoil_spot(diameter_mm=lambda d: d + 1e-5), "has only"),
    ("bare spot 0.00001 mm too small", spoil_spot(diameter_mm=lambda d: d - 1e-5), "largest bare spot"),
    ("bare spot elsewhere", spoil_spot(u=lambda u: u + 0.01), "has only"),
    ("largest bare spot left out", drop_spot, "largest bare spot"),
    ("blank wider than its outline", stretch_blank, "width_mm"),
]


def in_text(extension, pattern, instead):
    """A fault in a file beside the JSON: the first match of `pattern` becomes `instead`."""

    def plant(folder, name):
        path = beside(folder / "lay.json", name, extension)
        text, n = re.subn(pattern, instead, path.read_text(encoding="utf-8"), count=1, flags=re.M)
        assert n == 1, f"{pattern!r} is not in {path.name}"
        path.write_text(text, encoding="utf-8")

    return plant


def another_digit(match):
    """The same with the next digit in place of the last."""
    return match[1] + str((int(match[2]) + 1) % 10)


def drop_last_line(folder, name):
    """A table that lacks its last stone."""
    path = beside(folder / "lay.json", name, "csv")
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    path.write_text("".join(lines[:-1]), encoding="utf-8")


#: The same for faults in the files beside the JSON.
IN_FILES = [
    ("CSV without its last stone", drop_last_line, "CSV has"),
    # Columns 7 to 10 of the first stone: x, y, drawn, pitch.
    (
        "CSV with a stone 0.00000001 mm aside",
        in_text("csv", r"^((?:[^,\n]*,){6}-?\d+\.\d{7})(\d)", another_digit),
        "x_mm",
    ),
    ("CSV with another diameter", in_text("csv", r"^((?:[^,\n]*,){8})(\d)", another_digit), "drawn_mm"),
    (
        "SVG with a stone 0.002 mm aside",
        in_text("svg", r'(id="stone-1"[^>]*transform=")', r"\1translate(0.002 0) "),
        "SVG",
    ),
    ("SVG with a stone 0.1 % wider", in_text("svg", r'(id="stone-1"[^>]*\))"', r'\1 scale(1.001)"'), "SVG"),
    ("SVG with a stone unnamed", in_text("svg", 'id="stone-1"', 'id="other-1"'), "SVG draws"),
]


def reseal(piece):
    """Makes the hash fit what the piece now says."""
    plain = hashed_part(piece)
    piece["hash"] = hashlib.sha256(rfc8785.dumps(as_doubles(plain))).hexdigest()


def judge(name, found, word):
    """Whether one of the complaints holds the word; says so."""
    noticed = next((complaint for complaint in found if word in complaint), None)
    print(f"{'passed' if noticed else 'FAILED'} {name}: {noticed or 'not noticed'}")
    return noticed is not None


def main():
    """The command line."""
    path = Path(sys.argv[1])
    lay = read_lay(path)
    piece_no = next(i for i, p in enumerate(lay["pieces"]) if len(p["stones"]) > 10 and p["zones"][0]["bare_spots"])
    results = []
    clean = list(check_lay.complaints(lay, piece_no, path))
    results.append(not clean)
    print(f"{'FAILED' if clean else 'passed'} the lay as it is: {'; '.join(clean) or 'no complaint'}")
    for name, plant, word in IN_JSON:
        spoilt = copy.deepcopy(lay)
        plant(spoilt["pieces"][piece_no])
        reseal(spoilt["pieces"][piece_no])
        found = check_lay.complaints(spoilt, piece_no, path, files=False)
        results.append(judge(name, found, word))
    spoilt = copy.deepcopy(lay)
    spoilt["pieces"][piece_no]["zones"][0]["seed"] += 1
    results.append(judge("value changed under its hash", check_lay.complaints(spoilt, piece_no, path), "hash"))
    del spoilt["pieces"][piece_no]["quantity"]
    results.append(judge("key left out", check_lay.schema_complaints(spoilt), "schema"))
    for name, plant, word in IN_FILES:
        with tempfile.TemporaryDirectory() as folder:
            shutil.copytree(path.parent, folder, dirs_exist_ok=True)
            plant(Path(folder), file_name(lay, piece_no))
            found = check_lay.complaints(lay, piece_no, Path(folder) / path.name)
            results.append(judge(name, found, word))
    print(f"{sum(results)} passed, {len(results) - sum(results)} failed")
    sys.exit(not all(results))


if __name__ == "__main__":
    main()
