"""Every sort of file of the demo order and of fifty awkward pieces, by other people's readers.

Usage: piece_files.py --binary STONELAY FOLDER
"""

import argparse
import json
import subprocess
import sys
import unicodedata
from pathlib import Path

import awkward_orders
import dxf_files
import list_files
import svg_measured
from lay_files import read_csv
from regions import Region

SVG_SORTS = ["svg", "light-table", "projector", "projector-mirrored"]
SORTS = [*SVG_SORTS, "csv", "png", "dxf", "dxf-r12", "json", "positions"]
#: Names that a family of systems keeps for its devices. From memory, no source.
DEVICES = {"con", "prn", "aux", "nul", *(f"{d}{i}" for d in ("com", "lpt") for i in range(10))}
DPI = 96
#: Rendering at 600 dpi takes its time: one piece of so many.
RENDERED_EACH = 6


def run(binary, *args, code=0):
    done = subprocess.run([binary, *map(str, args)], capture_output=True, text=True)
    if done.returncode != code:
        raise RuntimeError(f"{args} ended with {done.returncode}: {done.stderr[-800:]}")
    return done


def svg_path(stem, sort):
    return stem.with_name(f"{stem.name}.svg" if sort == "svg" else f"{stem.name}.{sort}.svg")


def name_complaints(files, n_pieces):
    """File names that every disk takes, and that stay apart where capitals do not count."""
    if len(files) != n_pieces * len(SORTS):
        yield f"{len(files)} files for {n_pieces} pieces of {len(SORTS)} sorts"
    alike = {unicodedata.normalize("NFC", f.name).casefold() for f in files}
    if len(alike) != len(files):
        yield "two files have one name where capitals do not count"
    for file in files:
        stem = file.name.split(".")[0]
        if len(file.name.encode()) > 255 or stem.casefold() in DEVICES or not stem or stem[0] == "-":
            yield f"no disk takes the name {file.name!r}"
        if any(unicodedata.category(c)[0] not in "LNM" and c not in "-." for c in file.name):
            yield f"the name {file.name!r} has signs in it"


def piece_complaints(stem, piece, measured, dpi, render):
    """Everything that is wrong with the files of one piece."""
    rows, blank = read_csv(stem.with_name(f"{stem.name}.csv")), Region(piece["blank"]["region"])
    left, bottom, right, top = blank.bounds()
    width, height = right - left, top - bottom
    if len(rows) != len(piece["stones"]):
        yield f"the table has {len(rows)} stones of {len(piece['stones'])}"
    yield from dxf_files.complaints(stem, rows, piece["kinds"], blank)
    yield from list_files.list_complaints(stem, rows, piece["kinds"], piece["zones"])
    yield from list_files.json_complaints(stem, piece)
    yield from list_files.png_complaints(stem, width, height, dpi)
    for sort in SVG_SORTS:
        yield from svg_measured.browser_complaints(measured[sort], rows, width, height, sort)
    if render and svg_measured.worth_rendering(width, height):
        for sort in SVG_SORTS[1:]:
            yield from svg_measured.rendered_complaints(svg_path(stem, sort), rows, width, height, sort)


def check(binary, document, folder, dpi=None):
    """Lays a document with every sort of file and checks them: pieces, complaints, and the most
    stones on one."""
    more = ["--dpi", dpi] if dpi else []
    printed = run(binary, "lay", document, "--json", "--out", folder, "--as", ",".join(SORTS), *more)
    pieces = {p["name"]: p for p in json.loads(printed.stdout)["pieces"]}
    files = sorted(Path(folder).iterdir())
    found = list(name_complaints(files, len(pieces)))
    stems = [f.with_suffix("") for f in files if f.suffix == ".json"]
    names = [json.loads(s.with_name(s.name + ".json").read_text(encoding="utf-8"))["pieces"][0]["name"] for s in stems]
    if sorted(names) != sorted(pieces):
        return len(pieces), [*found, "the files are not those of the pieces"], 0
    measured = {}
    for sort in SVG_SORTS:
        measured[sort] = svg_measured.by_browser([svg_path(s, sort).read_text(encoding="utf-8") for s in stems])
    for i, (stem, name) in enumerate(zip(stems, names)):
        here = {sort: measured[sort][i] for sort in SVG_SORTS}
        wrong = list(piece_complaints(stem, pieces[name], here, dpi, i % RENDERED_EACH == 0))
        found += [f"{name[:40]!r}: {w}" for w in wrong[:5]]
    return len(pieces), found, max(len(p["stones"]) for p in pieces.values())


def refusals(binary, document, folder):
    """A picture too large, and a file that is there: refused in words, and nothing is written."""
    run(binary, "lay", document, "--out", folder / "large", "--as", "png", "--dpi", 600, "--piece", "two metres", code=1)
    if (folder / "large").exists():
        yield "a picture too large left a folder"
    kept = folder / "kept"
    kept.mkdir()
    (kept / "three-millimetres.txt").write_text("mine")
    run(binary, "lay", document, "--out", kept, "--as", "dxf,positions", "--piece", "three millimetres", code=1)
    if [f.read_text() for f in kept.iterdir()] != ["mine"]:
        yield "a file that was there was replaced, or another was written beside it"


def main(binary, folder):
    run(binary, "demo", folder / "demo")
    demo = check(binary, folder / "demo/order.toml", folder / "demo-files")
    document = folder / "awkward.toml"
    document.write_text(awkward_orders.order(), encoding="utf-8")
    awkward = check(binary, document, folder / "awkward-files", DPI)
    found = [*demo[1], *awkward[1], *refusals(binary, document, folder)]
    if awkward[0] != awkward_orders.N_PIECES or awkward[0] < 50 or awkward[2] < 20_000:
        found.append(f"{awkward[0]} awkward pieces, {awkward[2]} stones on one at most")
    for complaint in found:
        print(f"FAILED {complaint}")
    print(f"{demo[0] + awkward[0]} pieces in {len(SORTS)} sorts of files, {len(found)} complaints")
    return 1 if found else 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", required=True)
    parser.add_argument("folder", type=Path)
    options = parser.parse_args()
    sys.exit(main(options.binary, options.folder))
