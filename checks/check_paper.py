"""Measures placing sheets with other people's readers of PDF.

Every number of the pages is read from the content streams by pikepdf, every transform applied:

* a unit is 1/72 inch (ISO 32000-1, 8.3.2.3): a bar of 100 mm is 283.465 units;
* pages are A4 (ISO 216) or Letter (ANSI/ASME Y14.1);
* the outline of a bank card is 85.60 × 53.98 mm (ISO/IEC 7810, ID-1);
* every stone's centre and diameter is that of the table, on every page, and over all tiles of a
  piece every stone is there whole;
* the structure that PDF/UA-1 (ISO 14289-1) asks for is there, and every font is embedded;
* text comes out as text, in any script (pdfplumber);
* the same sheets are the same bytes.
"""

import argparse
import csv
import io
import json
import math
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import pdfplumber
import pikepdf

PT_PER_MM = 72 / 25.4
#: ISO 216 and ANSI/ASME Y14.1, mm.
SHEETS_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
#: ISO/IEC 7810, ID-1, mm.
CARD_MM = (85.60, 53.98)
#: Within this, and a bar within that, a sheet is true.
STONE_MM = 0.01
BAR_PT = 0.01


def paths(pdf_page):
    """Every painted sub-path of a page as its points in page units (curves by their handles), with
    the operator that paints it and the width of its line."""
    ctm, width = np.eye(3), 1.0
    stack, path, found = [], [], []

    def at(x, y):
        return tuple((np.array([float(x), float(y), 1.0]) @ ctm)[:2])

    for operands, operator in pikepdf.parse_content_stream(pdf_page):
        op = str(operator)
        n = operands
        if op == "q":
            stack.append((ctm.copy(), width))
        elif op == "Q":
            ctm, width = stack.pop()
        elif op == "cm":
            a, b, c, d, e, f = (float(v) for v in n)
            ctm = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ ctm
        elif op == "w":
            width = float(n[0])
        elif op == "m":
            path.append([at(*n)])
        elif op == "l":
            path[-1].append(at(*n))
        elif op == "c":
            path[-1] += [at(n[0], n[1]), at(n[2], n[3]), at(n[4], n[5])]
        elif op == "re":
            x, y, w, h = (float(v) for v in n)
            path.append([at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h)])
        elif op in ("S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n"):
            found += [(sub, op, width) for sub in path]
            path = []
    return found


def circles(found):
    """Centre and both diameters, in units, of every closed curve of four cubics that is filled and
    stroked: of every stone."""
    stones = []
    for points, op, _ in found:
        if op in ("B", "b") and len(points) == 13:
            p = np.array(points)
            ends = p[[0, 3, 6, 9]]
            handles = p[[1, 2, 4, 5, 7, 8, 10, 11]]
            across, down = np.ptp(ends[:, 0]), np.ptp(ends[:, 1])
            if np.ptp(handles[:, 0]) <= across + 0.01 and np.ptp(handles[:, 1]) <= down + 0.01:
                stones.append((*((ends.min(0) + ends.max(0)) / 2), across, down))
    return np.array(stones).reshape(-1, 4)


def bars(found):
    """Lengths in units of every single stroked line along an axis of more than 200 units."""
    across, down = [], []
    for points, op, _ in found:
        if op == "S" and len(points) == 2:
            (x0, y0), (x1, y1) = points
            if abs(y0 - y1) < 1e-6 and 200 < abs(x1 - x0) < 330:
                across.append(abs(x1 - x0))
            if abs(x0 - x1) < 1e-6 and 200 < abs(y1 - y0) < 330:
                down.append(abs(y1 - y0))
    return across, down


def need(true, what):
    if not true:
        raise SystemExit(f"check_paper: {what}")


def check_structure(pdf, name):
    """What PDF/UA-1 asks of every document."""
    root = pdf.Root
    need("/StructTreeRoot" in root, f"{name}: no structure tree")
    need(bool(root.MarkInfo.Marked), f"{name}: not marked")
    need(str(root.Lang).startswith("en"), f"{name}: no language")
    need(bool(root.ViewerPreferences.DisplayDocTitle), f"{name}: title not shown")
    with pdf.open_metadata() as meta:
        need(meta.get("pdfuaid:part") == "1", f"{name}: does not claim PDF/UA-1")
        need(bool(meta.get("dc:title")), f"{name}: no title")
        need("xmp:CreateDate" not in meta, f"{name}: carries a date")
    for page in pdf.pages:
        for font in page.resources.get("/Font", {}).values():
            for inner in font.get("/DescendantFonts", [font]):
                about = inner.FontDescriptor
                embedded = [k for k in ("/FontFile", "/FontFile2", "/FontFile3") if k in about]
                need(embedded, f"{name}: {inner.BaseFont} is not embedded")


def check_pages(pdf, name, sheet, factor=(1.0, 1.0)):
    """Boxes, bars and the card; returns the painted paths of each page."""
    size = [mm * PT_PER_MM for mm in SHEETS_MM[sheet]]
    painted = []
    for no, page in enumerate(pdf.pages, 1):
        _, _, w, h = (float(v) for v in page.mediabox)
        wide = w > h
        want = size[::-1] if wide else size
        need(abs(w - want[0]) < 0.01 and abs(h - want[1]) < 0.01, f"{name} page {no}: {w} x {h}")
        found = paths(page)
        fx, fy = factor[::-1] if wide else factor
        across, down = bars(found)
        bar = 100 * PT_PER_MM
        need(any(abs(b - bar * fx) < BAR_PT for b in across), f"{name} page {no}: bar {across}")
        need(any(abs(b - bar * fy) < BAR_PT for b in down), f"{name} page {no}: bar {down}")
        painted.append(found)
    first = [np.ptp(np.array(p), axis=0) / PT_PER_MM / factor for p, op, _ in painted[0] if op == "S"]
    card = any(abs(w - CARD_MM[0]) < 0.01 and abs(h - CARD_MM[1]) < 0.01 for w, h in first)
    need(card, f"{name}: no bank card on the first page")
    return painted


def table(folder):
    """The stones of every piece by name: x and y from the top left of its box, diameter, mm."""
    stones = {}
    for path in sorted(Path(folder).glob("*.csv")):
        with open(path, encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                at = [float(row[k]) for k in ("x_mm", "y_mm", "drawn_mm")]
                stones.setdefault(row["piece"], []).append(at)
    return {name: np.array(rows) for name, rows in stones.items()}


def nearest(wanted, have):
    """For each wanted place the index of the nearest one, by a grid of 1 mm."""
    grid = {}
    for i, (x, y) in enumerate(have[:, :2]):
        grid.setdefault((math.floor(x), math.floor(y)), []).append(i)
    for x, y in wanted[:, :2]:
        cx, cy = math.floor(x), math.floor(y)
        near = [i for dx in (-1, 0, 1) for dy in (-1, 0, 1) for i in grid.get((cx + dx, cy + dy), [])]
        yield min(near, key=lambda i: math.hypot(have[i, 0] - x, have[i, 1] - y), default=None)


def check_stones(pdf, pages, painted, stones, name, factor=(1.0, 1.0)):
    """Every stone of every piece against the table; returns how many were measured."""
    whole = {}
    measured = 0
    for no, (page, found) in enumerate(zip(pages, painted), 1):
        _, _, w, h = (float(v) for v in pdf.pages[no - 1].mediabox)
        f = np.array(factor[::-1] if w > h else factor)
        have = circles(found)
        have = np.column_stack([have[:, 0], h - have[:, 1], have[:, 2], have[:, 3]]) / PT_PER_MM
        for placed in page["pieces"]:
            wanted = stones[placed["piece"]]
            x = wanted[:, 0]
            if placed["mirrored"]:
                x = placed["width_mm"] - x
            on_page = np.column_stack([x, wanted[:, 1]]) * f
            on_page += [placed["left_mm"], placed["top_mm"]]
            left, top, right, bottom = placed["window_mm"]
            r = wanted[:, 2:3] / 2 * f
            inside = (
                (on_page[:, 0] - r[:, 0] >= left) & (on_page[:, 0] + r[:, 0] <= right)
                & (on_page[:, 1] - r[:, 1] >= top) & (on_page[:, 1] + r[:, 1] <= bottom)
            )  # fmt: skip
            seen = whole.setdefault((placed["piece"], placed["copy"]), np.zeros(len(wanted), bool))
            seen |= inside
            which = np.flatnonzero(inside)
            for i, j in zip(which, nearest(on_page[which], have)):
                need(j is not None, f"{name} page {no}: stone {i + 1} is not drawn")
                off = math.hypot(*(have[j, :2] - on_page[i]))
                wide = np.abs(have[j, 2:] - wanted[i, 2] * f).max()
                need(off <= STONE_MM, f"{name} page {no}: stone {i + 1} is {off:.4f} mm off")
                need(wide <= STONE_MM, f"{name} page {no}: stone {i + 1} is {wide:.4f} mm too wide")
                measured += 1
    for (piece, copy), seen in whole.items():
        need(seen.all(), f"{name}: {piece} {copy}: {(~seen).sum()} stones are on no page whole")
    need(len({p for p, _ in whole}) == len(stones), f"{name}: pieces are missing")
    return measured


def make(binary, order, out, *options):
    """Writes sheets and returns where everything lies on them."""
    command = [binary, "paper", order, "--out", out, "--json", *options]
    return json.loads(subprocess.run(command, check=True, capture_output=True).stdout)["papers"]


def lay(binary, order, out):
    command = [binary, "lay", order, "--out", out]
    subprocess.run(command, check=True, capture_output=True)
    return table(out)


def text_of(path):
    with pdfplumber.open(path) as pdf:
        return "\n".join(page.extract_text() or "" for page in pdf.pages)


def check_order(binary, order, folder, sheets, options=(), factor=(1.0, 1.0)):
    """All sheets of an order in every use; returns how many stones and pages were measured."""
    stones = lay(binary, order, folder / "lay")
    n_stones = n_pages = 0
    for sheet in sheets:
        out = folder / sheet
        uses = [u for use in ("under", "beside", "behind", "strips") for u in ("--for", use)]
        papers = make(binary, order, out, "--sheet", sheet, *uses, *options)
        for paper in papers:
            path = out / paper["file"]
            with pikepdf.open(path) as pdf:
                check_structure(pdf, path.name)
                need(len(pdf.pages) == len(paper["pages"]), f"{path.name}: pages do not tally")
                painted = check_pages(pdf, path.name, sheet, factor)
                n_pages += len(painted)
                if paper["for"] != "strips":
                    n_stones += check_stones(pdf, paper["pages"], painted, stones, path.name, factor)
    return n_stones, n_pages, stones


#: Names that would be markup, or have letters that a plain face lacks.
NAMES = [
    "#panic()", "Φάρος", "маяк на молу", "منارة", "🏮⚓", "a]b[*c*_d_", "$x$ \\ @y <z>", "灯台",
    "#import \"x\": *", "`raw` // end",
]  # fmt: skip
#: What of a name must be found again in the text; Arabic comes out in the order of its glyphs.
FOUND = ["#panic()", "Φάρος", "маяк на молу", "🏮", "a]b[*c*_d_", "@y", "#import"]


def awkward(n):
    """Orders of odd pieces: (text of the document, options)."""
    shapes = [
        ("3 mm", "40 mm", "1 mm"), ("2000 mm", "12 mm", "4 mm"), ("400 mm", "60 mm", "2 mm"),
        ("20 mm", "20 mm", "1.2 mm"), ("170 mm", "240 mm", "6 mm"), ("181 mm", "50 mm", "5 mm"),
        ("30 mm", "700 mm", "8 mm"), ("190 mm", "190 mm", "30 mm"), ("9 mm", "9 mm", "8 mm"),
        ("60 mm", "40 mm", "4 mm"),
    ]  # fmt: skip
    for i in range(n):
        # One of them has 20,000 stones and more.
        width, height, stone = ("300 mm", "250 mm", "2 mm") if i == 29 else shapes[i % len(shapes)]
        name = NAMES[(i * 7 + i // 10) % len(NAMES)]
        kinds = 60 if i % 10 == 9 else 1 + i % 3
        form = ["honeycomb", "square", "rings", "scatter"][(i // 10 + i) % 4]
        quantity = 500 if i == 8 else 1
        text = io.StringIO()
        text.write(f'stonelay = 1\norder = {json.dumps(NAMES[i % len(NAMES)], ensure_ascii=False)}\nseed = {i}\n')
        for k in range(kinds):
            kind = f"{NAMES[(i + k) % len(NAMES)]} {k}"
            text.write(f'[[kind]]\nname = {json.dumps(kind, ensure_ascii=False)}\nsize = "{stone}"\ncolour = "#{(k * 2654435761 + 977) % 0xFFFFFF:06x}"\n')
        parts = ", ".join(
            f"{{ kind = {json.dumps(f'{NAMES[(i + k) % len(NAMES)]} {k}', ensure_ascii=False)} }}" for k in range(kinds)
        )
        text.write(f'[[piece]]\nname = {json.dumps(name, ensure_ascii=False)}\nquantity = {quantity}\n')
        text.write(f'blank = {{ shape = "rectangle", width = "{width}", height = "{height}" }}\n')
        text.write(f'arrangement = "{form}"\ncolouring = "alternating"\nmix = [{parts}]\n')
        yield text.getvalue(), (["--copies"] if quantity > 1 else [])


def check_awkward(binary, folder, n):
    measured = pages = 0
    for i, (text, options) in enumerate(awkward(n)):
        home = folder / f"awkward-{i}"
        home.mkdir(parents=True)
        order = home / "order.toml"
        order.write_text(text, encoding="utf-8")
        try:
            stones, n_pages, _ = check_order(binary, order, home, ["a4" if i % 2 else "letter"], options)
        except subprocess.CalledProcessError as e:
            raise SystemExit(f"check_paper: awkward {i}: {e.stderr.decode()}") from e
        measured, pages = measured + stones, pages + n_pages
    return measured, pages


def check_names(binary, folder):
    """Names of every script come out as text."""
    order = folder / "names.toml"
    text = 'stonelay = 1\norder = "names"\n[[kind]]\nname = "منارة 🏮 Φάρος"\nsize = "4 mm"\ncolour = "#2a9d8f"\n'
    for name in NAMES:
        text += f'[[piece]]\nname = {json.dumps(name, ensure_ascii=False)}\nquantity = 1\nblank = {{ shape = "circle", diameter = "40 mm" }}\narrangement = "rings"\nmix = "منارة 🏮 Φάρος"\n'
    order.write_text(text, encoding="utf-8")
    make(binary, order, folder / "names")
    said = text_of(folder / "names" / "placing-under.pdf")
    for name in FOUND:
        need(name in said, f"the name {name!r} is not in the text: {said[:400]!r}")
    arabic = "منارة"
    need(arabic in said or arabic[::-1] in said, f"no Arabic in the text: {said[:600]!r}")
    return len(FOUND) + 1


def check_same(binary, order, folder):
    first, second = folder / "first", folder / "second"
    for out in (first, second):
        make(binary, order, out, "--for", "under", "--for", "beside", "--threads", "1" if out is first else "2")
    for path in sorted(first.iterdir()):
        need(path.read_bytes() == (second / path.name).read_bytes(), f"{path.name} differs")


def check_test_page(binary, folder):
    for sheet in SHEETS_MM:
        for measured, factor in (("100", (1, 1)), ("98x103", (100 / 98, 100 / 103))):
            out = folder / f"test-{sheet}-{measured}"
            command = [binary, "paper", "--test-page", "--out", out, "--sheet", sheet, "--measured", measured]
            subprocess.run(command, check=True, capture_output=True)
            with pikepdf.open(out / "test-page.pdf") as pdf:
                check_structure(pdf, "test page")
                check_pages(pdf, "test page", sheet, np.array(factor))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", required=True)
    parser.add_argument("--awkward", type=int, default=50)
    parser.add_argument("order", type=Path, help="the demonstration order")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        stones, pages, _ = check_order(args.binary, args.order, folder / "demo", list(SHEETS_MM))
        factor = np.array((100 / 98.6, 100 / 101.2))
        more = ["--measured", "98.6x101.2"]
        s, p, _ = check_order(args.binary, args.order, folder / "measured", ["a4"], more, factor)
        check_test_page(args.binary, folder)
        check_same(args.binary, args.order, folder)
        names = check_names(args.binary, folder)
        odd_stones, odd_pages = check_awkward(args.binary, folder, args.awkward)
    stones, pages = stones + s + odd_stones, pages + p + odd_pages
    need(stones > 40_000, f"only {stones} stones were measured")
    print(f"{stones} stones on {pages} pages true to {STONE_MM} mm, {names} names as text, {args.awkward} awkward orders")


if __name__ == "__main__":
    sys.exit(main())
