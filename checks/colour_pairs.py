"""Sets Lab colours and CIEDE2000 differences against scikit-image: `colour_pairs.py PAIRS.json`.

The JSON is what `cargo run -p planning --example colour_pairs` prints.
"""

import json
import sys

import numpy as np
from skimage.color import deltaE_ciede2000, rgb2lab

#: Lab may differ by this: scikit-image rounds the matrix of IEC 61966-2-1 to six decimals.
LAB_TOLERANCE = 0.01
#: The engine's library takes a mean hue beyond 360 degrees where the paper takes one turn less; the
#: term around 275 degrees then differs by up to 30 exp(-(85/25)^2) = 0.0003 degrees.
DIFFERENCE_TOLERANCE = 0.0005


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        pairs = json.load(file)
    ours = {key: np.array([p[key] for p in pairs]) for key in ("lab_a", "lab_b", "difference")}
    worst_lab = 0.0
    for side in "ab":
        rgb = np.array([p[side] for p in pairs], dtype=float) / 255
        theirs = rgb2lab(rgb[np.newaxis])[0]
        worst_lab = max(worst_lab, float(np.abs(theirs - ours[f"lab_{side}"]).max()))
    apart = np.abs(deltaE_ciede2000(ours["lab_a"], ours["lab_b"]) - ours["difference"])
    bad = int((apart > DIFFERENCE_TOLERANCE).sum())
    for i in np.flatnonzero(apart > DIFFERENCE_TOLERANCE)[:20]:
        print(f"{pairs[i]['a']} and {pairs[i]['b']}: {pairs[i]['difference']}, off by {apart[i]}")
    if worst_lab > LAB_TOLERANCE:
        print(f"Lab is off by {worst_lab}")
        bad += 1
    print(
        f"{len(pairs)} colour pairs, Lab within {worst_lab:.4f}, "
        f"CIEDE2000 within {apart.max():.5f}, {bad} disagree"
    )
    return 1 if bad or len(pairs) < 1000 else 0


if __name__ == "__main__":
    sys.exit(main())
