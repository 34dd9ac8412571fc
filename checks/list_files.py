"""The list of positions, the JSON and the PNG of a piece, read without any code of ours."""

import json

from PIL import Image

# A picture may have 12,000 pixels a side; Pillow would take that for an attack.
Image.MAX_IMAGE_PIXELS = None
#: The list has three decimals.
LIST_MM = 0.0005 + 1e-9
#: How far the resolution in a PNG may be off: it stands there in whole pixels a metre.
DPI_SHARE = 0.005


def list_complaints(stem, rows, kinds, zones):
    """The list says what the table says."""
    text = stem.with_name(f"{stem.name}.txt").read_text(encoding="utf-8")
    if "unit: millimetre" not in text or "top left corner" not in text:
        yield "the list does not say its unit and frame"
    lines = text.splitlines()
    start = next((i for i, line in enumerate(lines) if line.split("\t")[0].strip() == "no"), None)
    if start is None:
        yield "the list has no column names"
        return
    marks = [line.removeprefix("kind ").split(":")[0] for line in lines if line.startswith("kind ")]
    if len(marks) != len(kinds) or len(set(marks)) != len(kinds):
        yield f"{len(kinds)} kinds have the marks {marks}"
        return
    mark_of = {kind["name"]: mark for kind, mark in zip(kinds, marks)}
    number_of = {zone["name"]: str(i + 1) for i, zone in enumerate(zones)}
    listed = [line.split("\t") for line in lines[start + 1 :]]
    if len(listed) != len(rows):
        yield f"{len(listed)} stones are listed, the table has {len(rows)}"
    if len({tuple(map(len, cells[:-1])) for cells in listed}) > 1:
        yield "columns of the list do not stand below each other"
    for cells, row in zip(listed, rows):
        no, zone, line, x, y, wide, mark = map(str.strip, cells)
        off = max(
            abs(float(a) - float(row[b])) for a, b in ((x, "x_mm"), (y, "y_mm"), (wide, "drawn_mm"))
        )
        if off > LIST_MM or [no, zone, line, mark] != [
            row["place_no"], number_of[row["zone"]], row["row"], mark_of[row["kind"]],
        ]:  # fmt: skip
            yield f"stone {row['place_no']} is listed as {cells}"
            return


def json_complaints(stem, piece):
    """The JSON of a piece is what `--json` prints of it."""
    kept = json.loads(stem.with_name(f"{stem.name}.json").read_text(encoding="utf-8"))
    if kept["pieces"] != [piece]:
        yield "the JSON is another than the one that was printed"


def png_complaints(stem, width_mm, height_mm, dpi=None):
    """The PNG says its true size: pHYs of the PNG Specification, read by Pillow as dpi."""
    with Image.open(stem.with_name(f"{stem.name}.png")) as picture:
        said, (across, down) = picture.info.get("dpi"), picture.size
    if said is None:
        yield "the PNG does not say its resolution"
        return
    for what, pixels, mm, there in zip(("width", "height"), (across, down), (width_mm, height_mm), said):
        wanted = dpi or there
        if abs(there / wanted - 1) > DPI_SHARE:
            yield f"the PNG says {there} dpi, not {wanted}"
        # A page that ends within a pixel gets all of it.
        if not -0.5 <= pixels - mm / 25.4 * wanted <= 1.5 + DPI_SHARE * pixels:
            yield f"the PNG's {what} is {pixels} pixels for {mm} mm at {wanted} dpi"
