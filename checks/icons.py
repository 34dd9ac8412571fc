"""Lays outlines that nobody here drew: `icons.py --binary B --icons FOLDER FOLDER`.

Each icon becomes two orders, its SVG file as a blank of 60 mm with a margin of 0.5 mm: one of SS9 in
honeycomb, one of three sizes scattered. Nothing may break down, every refusal must say why, at least
95 % must give a lay, and every lay goes through `check_lay`.
"""

import argparse
import shutil
import sys
from pathlib import Path

import numpy as np

import check_lay
import laying
import toml_text
from lay_files import read_lay

#: Which icons are drawn: only ever changed together with the version of the package.
SEED = 20_260_401
#: At least this share of all orders must give a lay.
LAID_AT_LEAST = 0.95
#: Fewer icons than this and the package is not what it was.
ICONS_AT_LEAST = 1000

KINDS = [
    {"name": "large", "size": "SS16", "colour": "#2f8f83"},
    {"name": "middle", "size": "SS9", "colour": "#f2c14e"},
    {"name": "small", "size": "SS5", "colour": "#c9cdd4"},
]
MIX = [
    {"kind": "large", "share": "20 %"},
    {"kind": "middle", "share": "30 %"},
    {"kind": "small", "share": "50 %"},
]
LAID = {
    "honeycomb": {"arrangement": "honeycomb", "mix": "middle"},
    "scatter": {"arrangement": "scatter", "mix": MIX},
}


def chosen(folder, sample):
    """The icons to lay, sorted by name."""
    every = sorted(folder.glob("*.svg"))
    if len(every) < ICONS_AT_LEAST:
        raise SystemExit(f"only {len(every)} icons in {folder}")
    if sample == "all":
        return every
    picked = np.random.default_rng(SEED).choice(len(every), int(sample), replace=False)
    return [every[i] for i in sorted(picked)]


def write_orders(icons, folder):
    """Writes two orders for each icon; pairs of document and folder for what it gives."""
    tasks = []
    for n, icon in enumerate(icons):
        home = folder / icon.stem
        home.mkdir(parents=True)
        shutil.copy(icon, home / "icon.svg")
        for name, laid in LAID.items():
            # Every other one by its height, so that both ways are used.
            scale = "height" if n % 2 else "width"
            piece = {
                "name": f"{icon.stem}-{name}", "quantity": 1, "margin": "0.5 mm",
                "blank": {"file": "icon.svg", scale: "60 mm"}, **laid,
            }  # fmt: skip
            order = {"stonelay": 1, "order": icon.stem, "seed": 1, "kind": KINDS, "piece": [piece]}
            path = home / f"{name}.toml"
            path.write_text(toml_text.document(order), encoding="utf-8")
            tasks.append((path, home / f"{name}.out"))
    return tasks


def stones(path):
    """How many stones a lay has."""
    return sum(len(piece["stones"]) for piece in read_lay(path)["pieces"])


def empty_without_reason(path):
    """Whether a lay has no stone and nothing in it says why."""
    return not stones(path) and not any(piece["findings"] for piece in read_lay(path)["pieces"])


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", required=True, type=Path)
    parser.add_argument("--icons", required=True, type=Path)
    parser.add_argument("--sample", default="100", help="how many icons, or `all`")
    parser.add_argument("folder", type=Path)
    options = parser.parse_args()
    tasks = write_orders(chosen(options.icons, options.sample), options.folder)
    layings = laying.lay_all(options.binary, tasks)
    failed = 0
    for x in layings:
        name = f"{x.order.parent.name}/{x.order.stem}"
        if x.trouble:
            failed += 1
            print(f"FAILED {name}: {x.trouble}")
        elif x.code != 0:
            print(f"refused {name}: {x.said.strip().splitlines()[0]}")
        elif empty_without_reason(x.lay):
            failed += 1
            print(f"FAILED {name}: no stone, and no finding says why")
    done = [x.lay for x in layings if x.code == 0]
    laid = [path for path in done if stones(path)]
    passed, spoilt = check_lay.check_files(done, quiet=True) if done else (0, 0)
    failed += spoilt
    print(f"{len(laid)} of {len(tasks)} orders gave a lay")
    if len(laid) < LAID_AT_LEAST * len(tasks):
        failed += 1
        print(f"FAILED fewer than {LAID_AT_LEAST:.0%} gave a lay")
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed > 0 or passed == 0)


if __name__ == "__main__":
    main()
