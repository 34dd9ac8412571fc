"""SVG files measured by a browser and by resvg, against the table."""

import io
import json
import math
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import numpy as np
import resvg_py
from PIL import Image

Image.MAX_IMAGE_PIXELS = None
#: One millimetre in CSS pixels: CSS Values and Units 3, 1in = 25.4mm = 96px.
PX_PER_MM = 96 / 25.4
#: The browser keeps the sides of a page in 64ths of a CSS pixel, 0.0041 mm, and fits what is drawn
#: into that; so stones are measured in the drawing's own units, which it keeps in single precision.
#: From trying, no source.
PAGE_MM = 0.0045
STONE_MM, STONE_SHARE = 0.001, 2e-6
#: Rendered at so many dots to an inch, a dot is 0.042 mm; edges are found to a part of it.
RENDERED_DPI = 600
RENDERED_MM = 0.02
MOST_PIXELS = 3e7
#: Bare edge and check square of the outlines, mm.
AROUND_MM, SQUARE_MM = 10.0, 100.0

MEASURE = """
const files = JSON.parse(document.getElementById('files').textContent);
const out = [];
for (const text of files) {
  const place = document.body.appendChild(document.createElement('div'));
  place.innerHTML = text;
  const svg = place.querySelector('svg');
  const page = svg.getBoundingClientRect();
  const screen = svg.getScreenCTM();
  const stones = [...svg.querySelectorAll('use[id^="stone-"]')].map((use) => {
    const box = use.getBoundingClientRect();
    return [Number(use.id.slice(6)), (box.left - screen.e) / screen.a, (box.top - screen.f) / screen.d, box.width / screen.a, box.height / screen.d];
  });
  const square = svg.querySelector('#square path')?.getBBox();
  out.push({ page: [page.width, page.height], units: svg.getAttribute('viewBox'), stones, square: square && [square.width, square.height] });
  place.remove();
}
document.body.textContent = 'MEASURED' + JSON.stringify(out) + 'DONE';
"""


def by_browser(texts):
    """What Chromium measures of SVG texts, one after the other: pages in CSS pixels, stones in the
    units of the page's viewBox."""
    cut = [re.sub(r"^<\?xml[^>]*>\s*", "", t) for t in texts]
    files = json.dumps(cut).replace("<", "\\u003c")
    page = f"<!doctype html><meta charset=utf-8><body style='margin:0'><script id=files type='application/json'>{files}</script><script>{MEASURE}</script>"
    with tempfile.TemporaryDirectory(prefix="stonelay-check-") as folder:
        at = Path(folder) / "page.html"
        at.write_text(page, encoding="utf-8")
        command = [
            shutil.which("chromium"), "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
            "--disable-background-networking", "--disable-component-update", "--disable-sync",
            f"--user-data-dir={folder}/profile", "--dump-dom", at.as_uri(),
        ]  # fmt: skip
        done = subprocess.run(command, capture_output=True, text=True, timeout=300)
    found = re.search(r"MEASURED(.*)DONE", done.stdout, re.S)
    if not found:
        raise RuntimeError(f"the browser measured nothing: {done.stderr[-500:]}")
    return json.loads(found[1])


def expected(rows, width, height, sort):
    """Page in mm, and centre and diameter of each stone on it, by the table."""
    left = top = 0.0
    page = (width, height)
    if sort != "svg":
        left, top = AROUND_MM + max(0.0, (SQUARE_MM - width) / 2), AROUND_MM
        page = (max(width, SQUARE_MM) + 2 * AROUND_MM, height + SQUARE_MM + 3 * AROUND_MM)
    place = lambda x: left + (width - x if sort == "projector-mirrored" else x)
    stones = [(place(float(r["x_mm"])), top + float(r["y_mm"]), float(r["drawn_mm"])) for r in rows]
    return page, stones


def browser_complaints(measured, rows, width, height, sort):
    """Page, square and every stone as the browser shows them."""
    page, stones = expected(rows, width, height, sort)
    allowed = STONE_MM + STONE_SHARE * max(page)
    for got, wanted in zip(measured["page"], page):
        if abs(got / PX_PER_MM - wanted) > PAGE_MM:
            yield f"{sort}: the browser's page is {got / PX_PER_MM} mm, not {wanted}"
    units = [float(n) for n in measured["units"].split()]
    if max(abs(a - b) for a, b in zip(units, (0, 0, *page))) > STONE_MM:
        yield f"{sort}: a unit of the drawing is no millimetre: {units}"
    if sort != "svg" and any(abs(side - SQUARE_MM) > 1e-3 for side in measured["square"]):
        yield f"{sort}: the square measures {measured['square']}"
    if len(measured["stones"]) != len(stones):
        yield f"{sort}: the browser shows {len(measured['stones'])} stones, not {len(stones)}"
    for (no, x, y, w, h), row, (cx, cy, d) in zip(measured["stones"], rows, stones):
        got = (x + w / 2, y + h / 2, w, h)
        off = max(abs(a - b) for a, b in zip(got, (cx, cy, d, d)))
        if off > allowed or str(no) != row["place_no"]:
            yield f"{sort}: stone {no} is at {got}, not {(cx, cy, d)}"
            return


def rendered_complaints(path, rows, width, height, sort):
    """Sizes and stones as resvg draws them: where the dark line of a stone ends, towards sides on
    which no other stone is near. Yields nothing but complaints; see `worth_rendering`."""
    page, stones = expected(rows, width, height, sort)
    image = resvg_py.svg_to_bytes(svg_path=str(path), dpi=RENDERED_DPI, skip_system_fonts=True)
    pixels = np.asarray(Image.open(io.BytesIO(bytes(image))).convert("L"), dtype=float) / 255
    dot = 25.4 / RENDERED_DPI
    for got, wanted in zip(pixels.shape[::-1], page):
        if abs(got - wanted / dot) > 1:
            yield f"{sort}: {got} pixels for {wanted} mm at {RENDERED_DPI} dpi"
    ink = 1 - pixels if sort == "light-table" else pixels
    centres = np.array([s[:2] for s in stones]).reshape(-1, 2)
    radii = np.array([s[2] / 2 for s in stones])
    n_tried = 0
    for i in range(0, len(stones), max(1, len(stones) // 12)):
        radius, line = radii[i], min(0.18, 0.2 * radii[i])
        near = np.delete(centres, i, axis=0), np.delete(radii, i)
        for angle in np.arange(16) * math.pi / 8 + 0.1:
            way = np.array([math.cos(angle), math.sin(angle)])
            tip = centres[i] + way * (radius + 0.1)
            if len(near[1]) and (np.hypot(*(near[0] - tip).T) - near[1]).min() < 0.15:
                continue
            # From beyond the mark, which reaches 0.6 of the radius and half its line.
            along = np.arange(radius - 1.4 * line, radius + 0.15, 0.005)
            dark = sample(ink, (centres[i] + np.outer(along, way)) / dot)
            beyond = along > radius + 0.06
            if dark[beyond].max() > 0.02:
                continue  # the blank's edge runs here
            dark[beyond] = 0
            if dark.sum() == 0:
                yield f"{sort}: stone {rows[i]['place_no']} has no line"
                return
            n_tried += 1
            middle = (along * dark).sum() / dark.sum()
            if abs(middle - (radius - line / 2)) > RENDERED_MM:
                yield f"{sort}: the line of stone {rows[i]['place_no']} is {middle} mm from its middle, not {radius - line / 2}"
                return
    if rows and n_tried == 0:
        yield f"{sort}: no stone could be measured"


def worth_rendering(width, height):
    """Whether the outlines of such a piece are few enough pixels."""
    page, _ = expected([], width, height, "light-table")
    return page[0] * page[1] * (RENDERED_DPI / 25.4) ** 2 < MOST_PIXELS


def sample(image, at):
    """The image between pixels, linear; a pixel's middle is at its number and a half."""
    x, y = at[:, 0] - 0.5, at[:, 1] - 0.5
    x0, y0 = np.clip(np.floor(x).astype(int), 0, image.shape[1] - 2), np.clip(np.floor(y).astype(int), 0, image.shape[0] - 2)
    fx, fy = x - x0, y - y0
    top = image[y0, x0] * (1 - fx) + image[y0, x0 + 1] * fx
    bottom = image[y0 + 1, x0] * (1 - fx) + image[y0 + 1, x0 + 1] * fx
    return top * (1 - fy) + bottom * fy
