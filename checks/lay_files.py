"""What a laying wrote: its JSON, and beside it a CSV, an SVG and a PNG for each piece."""

import csv
import json
import math
import re
import struct
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import numpy as np

#: Columns of the CSV, in order.
COLUMNS = [
    "piece", "zone", "place_no", "row", "kind", "shape", "x_mm", "y_mm", "drawn_mm", "pitch_mm",
    "length_mm", "width_mm", "turn_deg", "colour_hex",
]  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"
XLINK = "{http://www.w3.org/1999/xlink}"
#: What one unit of each CSS length is in mm.
UNIT_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "px": 25.4 / 96, "": 25.4 / 96}


def read_lay(path):
    """The JSON of one laying."""
    return json.loads(Path(path).read_text(encoding="utf-8"))


def beside(path, file_name, extension):
    """The file of a piece that lies beside the JSON."""
    return Path(path).with_name(f"{file_name}.{extension}")


def file_name(lay, piece_no):
    """What the files of a piece are called: letters and digits of its name in lower case, hyphens
    for the rest, a number behind it if an earlier piece has the name."""
    names = []
    for piece in lay["pieces"][: piece_no + 1]:
        plain = "".join(c if c.isalnum() else "-" for c in piece["name"]).lower().strip("-")
        base, n, name = plain[:60] or "piece", 1, plain[:60] or "piece"
        while name in names:
            n += 1
            name = f"{base}-{n}"
        names.append(name)
    return names[-1]


def read_csv(path):
    """The rows of one piece's CSV, as dictionaries of text."""
    with open(path, encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file)
        if reader.fieldnames != COLUMNS:
            raise ValueError(f"columns are {reader.fieldnames}")
        return list(reader)


def length_mm(text):
    """A CSS length in mm."""
    match = re.fullmatch(r"\s*([-+.\deE]+?)\s*(mm|cm|in|pt|px|)\s*", text)
    if not match:
        raise ValueError(f"not a length: {text!r}")
    return float(match[1]) * UNIT_MM[match[2]]


def transform_matrix(text):
    """An SVG transform list as a 3 × 3 matrix."""
    matrix = np.eye(3)
    for name, numbers in re.findall(r"(\w+)\s*\(([^)]*)\)", text or ""):
        n = [float(x) for x in re.split(r"[\s,]+", numbers.strip())]
        step = np.eye(3)
        if name == "translate":
            step[:2, 2] = n[0], n[1] if len(n) > 1 else 0.0
        elif name == "scale":
            step[0, 0], step[1, 1] = n[0], n[-1]
        elif name == "rotate" and len(n) == 1:
            c, s = math.cos(math.radians(n[0])), math.sin(math.radians(n[0]))
            step[:2, :2] = [[c, -s], [s, c]]
        elif name == "matrix":
            step[:2] = np.array(n).reshape(3, 2).T
        else:
            raise ValueError(f"transform not known here: {name}({numbers})")
        matrix = matrix @ step
    return matrix


def measure_svg(path):
    """Width and height in mm, and each stone's centre and diameter in mm on the page, by number.

    Read as a drawing program would: every transform from the root down is applied, and a stone is
    as wide as the widest circle about the middle of the symbol it uses.
    """
    root = ElementTree.parse(path).getroot()
    width, height = length_mm(root.get("width")), length_mm(root.get("height"))
    left, top, across, down = (float(x) for x in root.get("viewBox").split())
    to_mm = np.diag([width / across, height / down, 1.0])
    to_mm[:2, 2] = -left * width / across, -top * height / down
    radii = symbol_radii(root)
    stones = {}

    def walk(element, matrix):
        if element.tag == SVG + "defs":
            return
        matrix = matrix @ transform_matrix(element.get("transform"))
        name = element.get("id") or ""
        if element.tag == SVG + "use" and name.startswith("stone-"):
            href = element.get("href") or element.get(XLINK + "href")
            scale = math.sqrt(abs(np.linalg.det(matrix[:2, :2])))
            number = int(name.removeprefix("stone-"))
            if number in stones:
                raise ValueError(f"stone {number} is drawn twice")
            diameter = 2 * radii[href.removeprefix("#")] * scale
            stones[number] = (matrix[0, 2], matrix[1, 2], diameter)
        for child in element:
            walk(child, matrix)

    walk(root, to_mm)
    return width, height, stones


def symbol_radii(root):
    """For each group in the definitions: radius of the widest circle about its middle."""
    radii = {}
    for group in root.iter(SVG + "g"):
        circles = [
            float(c.get("r"))
            for c in group.findall(SVG + "circle")
            if float(c.get("cx", 0)) == 0 and float(c.get("cy", 0)) == 0
        ]
        if group.get("id") and circles:
            radii[group.get("id")] = max(circles)
    return radii


def png_size(path):
    """Width and height of a PNG, pixels, from its header."""
    data = Path(path).read_bytes()
    if data[:8] != b"\x89PNG\r\n\x1a\n" or data[12:16] != b"IHDR":
        raise ValueError("not a PNG")
    return struct.unpack(">II", data[16:24])
