"""Reads the papers of an order with other people's readers of PDF.

* What PDF/UA-1 (ISO 14289-1) asks for is there: tags, language, title; every font is embedded;
  every page says which of how many it is; nothing lies off a page (pikepdf, pdfplumber).
* Amounts and days are those of the plan's JSON, written as Unicode CLDR has them (Babel).
* A quote shows none of the maker's own figures: no cost, fee, profit, wage, hour, no supplier.
* Labels lie by the measures of their sheet, and nothing runs over their edges.
* A box to tick stands at every stretch and every copy of the bench sheet.
* Names in any script come out as text, and never as markup.
* Outlines for light table and projector: a square of 100 mm, and every stone where the CSV has it.
* The same papers are the same bytes.
"""

import argparse
import json
import re
import subprocess
import sys
import tempfile
from datetime import date
from decimal import Decimal
from pathlib import Path

import numpy as np
import pdfplumber
import pikepdf
from babel.dates import format_skeleton
from babel.numbers import format_decimal
from check_paper import check_structure, lay, nearest, paths

PT_PER_MM = 72 / 25.4
#: ISO 216 and ANSI/ASME Y14.1, mm.
SHEETS_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
#: Page, columns and rows, label, first label, step, mm. The first two from their own measures: 3 × 8
#: of 70 × 37 mm on A4, even at top and bottom; 3 × 10 of 2 5/8 × 1 in on Letter with 3/16 in at the
#: sides, 1/2 in above and 1/8 in between columns.
LABELS = {
    "a4-3x8": ((210, 297), (3, 8), (70, 37), (0, 0.5), (70, 37)),
    "letter-3x10": ((215.9, 279.4), (3, 10), (2.625 * 25.4, 25.4), (25.4 * 3 / 16, 12.7), (2.75 * 25.4, 25.4)),
    "100x150 2x5 45x25 3x7 48x27.5": ((100, 150), (2, 5), (45, 25), (3, 7), (48, 27.5)),
}  # fmt: skip
#: What a label may be off, mm.
LABEL_MM = 0.1
#: Where words of a label begin, from its edges, and from the edges of the sheet, mm.
INSET_MM, EDGE_MM = 2.5, 5.0
TAGS = ["en", "en-GB", "en-US", "de", "de-CH", "fr", "it", "nl", "da", "sv", "fi"]
DAY = "2026-11-30"
#: Another one: day and month of one digit.
SHORT_DAY = "2027-02-03"
#: Papers of outlines, and which way is right on them.
OUTLINES = {"light-table": 1, "projector": 1, "projector-mirrored": -1}
#: What a stone and the square may be off, mm.
OUTLINE_MM = 0.01
NAMES = ["#panic()", "Φάρος", "منارة", "🏮 ⚓", "a]b[*c*_d_", "$x$ @y <z>", "Wharf" * 16]


def need(true, what):
    if not true:
        raise SystemExit(f"check_order_papers: {what}")


def run(*command):
    done = subprocess.run(command, capture_output=True)
    need(done.returncode == 0, f"{command[1:4]}: {done.stderr.decode()}")
    return done.stdout


def make(binary, order, out, *options, on=DAY):
    """Writes papers and returns what the program says of them, by paper."""
    said = json.loads(run(binary, "paper", order, "--out", out, "--json", "--on", on, *options))
    return {paper["paper"]: paper for paper in said["order_papers"]}


def text_of(path):
    with pdfplumber.open(path) as pdf:
        return [page.extract_text() or "" for page in pdf.pages]


def plain(text):
    """Without what only breaks or holds lines."""
    return re.sub(r"[\s\u00a0\u202f\u200b]+", " ", text)


def check_pages(path, n_pages, size_mm, title, numbered=True):
    with pikepdf.open(path) as pdf:
        check_structure(pdf, path.name)
        need(len(pdf.pages) == n_pages, f"{path.name}: {len(pdf.pages)} pages, told {n_pages}")
        with pdf.open_metadata() as meta:
            need(title in meta["dc:title"], f"{path.name}: titled {meta['dc:title']!r}")
    with pdfplumber.open(path) as pdf:
        for no, page in enumerate(pdf.pages, 1):
            for got, want in zip((page.width, page.height), size_mm):
                need(abs(got - want * PT_PER_MM) < 0.05, f"{path.name}: page of {page.width} x {page.height}")
            off = [c for c in page.chars if c["x0"] < -0.1 or c["x1"] > page.width + 0.1 or c["bottom"] > page.height]
            need(not off, f"{path.name} page {no}: {len(off)} letters lie off the page")
            said = plain(page.extract_text() or "")
            need(not numbered or f"page {no} of {n_pages}" in said, f"{path.name} page {no} is not numbered: {said[-90:]}")


def shown(amount, tag, digits=2):
    """An amount as Unicode CLDR has it."""
    pattern = "#,##0." + "0" * digits if digits else "#,##0"
    return plain(format_decimal(Decimal(amount), pattern, locale=tag.replace("-", "_")))


def day(text, tag):
    """A day as Unicode CLDR has it: of English, the house's own is ISO 8601."""
    value = date.fromisoformat(text)
    if tag == "en":
        return text
    return plain(format_skeleton("yMMMd" if tag.startswith("en") else "yMd", value, locale=tag.replace("-", "_")))


def stands(figure, text):
    """Whether a figure stands in a text by itself."""
    return re.search(rf"(?<![\d.,']){re.escape(figure)}(?![\d']|[.,]\d)", text)


def check_quote(path, plan, tag, on=DAY):
    """Returns how many private figures were looked for."""
    price, text = plan["price"], plain(" ".join(text_of(path)))
    paid, digits = price["charged"], price["digits"]
    public = [paid[k] for k in ("net", "tax", "gross", "deposit", "balance")]
    public += [p[k] for p in price["pieces"] for k in ("each", "net")]
    public = {shown(a, tag, digits) for a in public}
    for amount in public:
        need(stands(amount, text), f"{path.name} {tag}: {amount} is not on the quote: {text}")
    for when in (price["valid_until"], plan["calendar"]["ship_on"], on):
        need(day(when, tag) in text, f"{path.name} {tag}: {day(when, tag)} is not on the quote: {text[:300]}")
    rush = price["rush"] or {}
    public.add(shown(rush.get("charge", 0), tag, digits))
    own = [price[k] for k in ("cost", "profit", "floor", "suggested")] + [f["amount"] for f in price["fees"]]
    own += [line["amount"] for line in price["sheet"]]
    for p in price["pieces"]:
        own += [p[k] for k in ("cost", "cost_each", "order_part", "floor_each", "suggested_each")]
        own += [line[k] for line in p["sheet"] for k in ("each", "amount")]
    own += [line[k] for line in plan["purchase"]["lines"] for k in ("pack_price", "sum")]
    own += [d[k] for d in plan["purchase"]["deliveries"] for k in ("goods", "charge")]
    own = {shown(a, tag, digits) for a in own if Decimal(a) != 0} - public
    for figure in own:
        need(not stands(figure, text), f"{path.name} {tag}: {figure} is the maker's own: {text}")
    names = {d["supplier"] for d in plan["purchase"]["deliveries"]}
    names |= {a["adhesive"] for a in plan["glue"]["adhesives"]}
    for name in names:
        need(name not in text, f"{path.name}: {name} is none of the customer's business")
    need(not re.search(r"\bhours?\b|\d h\b", text), f"{path.name}: hours stand on the quote: {text}")
    return len(own) + len(names)


def check_bench(path, plan):
    """Returns how many boxes there are to tick."""
    want = sum(len(s["stretches"]) + s["copies"] for s in plan["stretches"])
    side = 3 * PT_PER_MM
    with pdfplumber.open(path) as pdf:
        shapes = [s for page in pdf.pages for s in page.rects + page.curves]
    boxes = [s for s in shapes if abs(s["width"] - side) < 0.3 and abs(s["height"] - side) < 0.3]
    need(len(boxes) == want, f"{path.name}: {len(boxes)} boxes to tick, not {want}")
    return want


def check_order(binary, order, folder):
    """All papers of an order on both sizes; returns pages and private figures."""
    plan = json.loads(run(binary, "plan", order, "--json", "--on", DAY))
    n_pages = n_own = 0
    for sheet, tag in (("a4", "en"), ("letter", "en-US"), ("a4", "de")):
        out = folder / f"{sheet}-{tag}"
        made = make(binary, order, out, "--papers", "all", "--sheet", sheet, "--notation", tag, "--number", "N-17")
        need(len(made) == 7, f"only {sorted(made)} were made")
        labels_mm = LABELS["a4-3x8" if sheet == "a4" else "letter-3x10"][0]
        for name, paper in made.items():
            size = labels_mm if name == "labels" else SHEETS_MM[sheet]
            check_pages(out / paper["file"], paper["pages"], size, plan["order"], name != "labels")
            n_pages += paper["pages"]
            need(name == "labels" or "N-17" in " ".join(text_of(out / paper["file"])), f"{name}: no number")
        n_own += check_quote(out / "quote.pdf", plan, tag)
        check_bench(out / "bench.pdf", plan)
        shopping = plain(" ".join(text_of(out / "shopping.pdf")))
        for line in plan["purchase"]["lines"]:
            need(shown(line["sum"], tag) in shopping, f"shopping list: {line} is missing")
        calendar = plain(" ".join(text_of(out / "calendar.pdf")))
        for d in plan["calendar"]["days"]:
            need(day(d["date"], tag) in calendar, f"calendar: {d['date']} is missing")
    return n_pages, n_own


def small(names, quantity):
    quoted = ", ".join(json.dumps(n, ensure_ascii=False) for n in names)
    return f"""stonelay = 1
order = "Lanterns *of* Φάρος #x"
[[kind]]
name = "منارة 🏮"
size = "4 mm"
colour = "#2a9d8f"
[[piece]]
name = "#panic() _badge_"
quantity = {quantity}
names = [{quoted}]
blank = {{ shape = "rectangle", width = "60 mm", height = "40 mm" }}
arrangement = "square"
mix = "منارة 🏮"
[workshop]
wage = "1515.15"
[price]
currency = "EUR"
margin = "30 %"
tax = "7.5 %"
deposit = "40 %"
"""


def check_labels(binary, folder):
    """Returns how many labels were measured."""
    measured = 0
    order = folder / "labels.toml"
    order.write_text(small(NAMES, 65), encoding="utf-8")
    for i, (sheet, (page_mm, grid, label, first, step)) in enumerate(LABELS.items()):
        out = folder / f"labels-{i}"
        made = make(binary, order, out, "--papers", "labels", "--labels", sheet)["labels"]
        per_page = grid[0] * grid[1]
        check_pages(out / "labels.pdf", made["pages"], page_mm, "Lanterns", False)
        with pdfplumber.open(out / "labels.pdf") as pdf:
            chars = [[c for c in p.chars if c["text"].strip()] for p in pdf.pages]
        seen = [0] * len(chars)
        offsets = []
        for no, told in enumerate(made["labels"]):
            page, on_page = divmod(no, per_page)
            row, column = divmod(on_page, grid[0])
            left, top = first[0] + column * step[0], first[1] + row * step[1]
            want = (page + 1, left, top, *label)
            have = tuple(told[k] for k in ("page", "left_mm", "top_mm", "width_mm", "height_mm"))
            need(max(abs(a - b) for a, b in zip(want, have)) < LABEL_MM, f"{sheet}: label {no} at {have}, not {want}")
            inside = [
                c for c in chars[page]
                if left * PT_PER_MM <= c["x0"] and c["x1"] <= (left + label[0]) * PT_PER_MM
                and top * PT_PER_MM <= c["top"] and c["bottom"] <= (top + label[1]) * PT_PER_MM
            ]  # fmt: skip
            seen[page] += len(inside)
            if no >= len(NAMES):
                need(inside[0]["text"] == "c", f"{sheet}: label {no} begins with {inside[0]['text']}")
                from_left = max(left + INSET_MM, EDGE_MM)
                from_top = max(top + INSET_MM, EDGE_MM)
                offsets.append((inside[0]["x0"] / PT_PER_MM - from_left, inside[0]["top"] / PT_PER_MM - from_top))
            measured += 1
        need(seen == [len(c) for c in chars], f"{sheet}: letters lie over the edges of labels: {seen}")
        for axis in zip(*offsets):
            need(max(axis) - min(axis) < LABEL_MM, f"{sheet}: labels begin {min(axis)} to {max(axis)} mm from their edges")
        text = " ".join(text_of(out / "labels.pdf"))
        need("…" in text, f"{sheet}: the long name is not marked as cut")
        check_names(text, sheet)
    return measured


def check_names(text, where):
    for name in ("#panic()", "Φάρος", "🏮", "a]b[*c*_d_", "$x$ @y <z>"):
        need(name in text, f"{where}: the name {name!r} is not in the text: {text[:500]!r}")
    arabic = "منارة"
    need(arabic in text or arabic[::-1] in text, f"{where}: no Arabic in the text: {text[:500]!r}")


def check_tags(binary, folder):
    order = folder / "tags.toml"
    order.write_text(small(NAMES, 65), encoding="utf-8")
    plan = json.loads(run(binary, "plan", order, "--json", "--on", SHORT_DAY))
    for tag in TAGS:
        out = folder / f"tag-{tag}"
        make(binary, order, out, "--papers", "quote,bench", "--notation", tag, on=SHORT_DAY)
        check_quote(out / "quote.pdf", plan, tag, SHORT_DAY)
    check_bench(out / "bench.pdf", plan)
    check_names(" ".join(text_of(out / "bench.pdf")), "bench sheet")


def check_same(binary, order, folder):
    outs = [folder / "once", folder / "twice"]
    for out, threads in zip(outs, "12"):
        make(binary, order, out, "--papers", "all", "--threads", threads)
    for path in sorted(outs[0].iterdir()):
        need(path.read_bytes() == (outs[1] / path.name).read_bytes(), f"{path.name} differs")


def shift(wanted, have):
    """By how much places have to be moved to lie on circles of the page; none if they never do."""
    for there in have:
        by = there - wanted[0]
        moved = wanted + by
        near = list(nearest(moved[:5], have))
        if all(j is not None and np.abs(have[j] - m).max() < OUTLINE_MM for j, m in zip(near, moved)):
            return by
    return None


def check_outlines(binary, order, folder):
    """Outlines of every piece; returns how many stones were measured."""
    pieces = lay(binary, order, folder / "outlines-lay")
    out, measured = folder / "outlines", 0
    make(binary, order, out, "--papers", ",".join(OUTLINES))
    for name, sign in OUTLINES.items():
        with pikepdf.open(out / f"{name}.pdf") as pdf, pdfplumber.open(out / f"{name}.pdf") as text:
            check_structure(pdf, name)
            need(len(pdf.pages) == len(pieces), f"{name}: {len(pdf.pages)} pages")
            for page, shown_page in zip(pdf.pages, text.pages):
                words = shown_page.extract_text()
                piece = max((p for p in pieces if p in words), key=len)
                found = [(np.array(points) / PT_PER_MM, op) for points, op, _ in paths(page)]
                squares = [p for p, op in found if op in "Ss" and len(p) in (4, 5)]
                sides = [np.ptp(p, axis=0) for p in squares]
                need(any(np.abs(s - 100).max() < OUTLINE_MM for s in sides), f"{name}: {piece}: no square of 100 mm")
                rings = [p[[0, 3, 6, 9]] for p, op in found if op in "Ss" and len(p) == 13]
                have = np.array([(r.min(0) + r.max(0)) / 2 for r in rings])
                # The page counts upwards, the table downwards.
                wanted = pieces[piece][:, :2] * [sign, -1]
                by = shift(wanted, have)
                need(by is not None, f"{name}: {piece}: the stones lie otherwise")
                for i, (j, at) in enumerate(zip(nearest(wanted + by, have), wanted + by), 1):
                    need(j is not None and np.abs(have[j] - at).max() < OUTLINE_MM, f"{name}: {piece}: stone {i} is off")
                    measured += 1
    return measured


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", required=True)
    parser.add_argument("order", type=Path, help="the demonstration order")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        labels = check_labels(args.binary, folder)
        check_tags(args.binary, folder)
        pages, own = check_order(args.binary, args.order, folder / "order")
        outlined = check_outlines(args.binary, args.order, folder)
        check_same(args.binary, args.order, folder)
    need(pages > 20 and own > 100 and labels > 150, f"only {pages} pages, {own} figures, {labels} labels")
    print(f"{outlined} outlines true to {OUTLINE_MM} mm, {pages} pages, {own} private figures on no quote, {labels} labels in place, {len(TAGS)} notations as CLDR's")


if __name__ == "__main__":
    sys.exit(main())
