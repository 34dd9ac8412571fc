"""DXF files by another library, ezdxf: sound, in millimetres, each stone where the table says."""

import math

import ezdxf
from ezdxf.colors import DXF_DEFAULT_COLORS

#: How far a measure may be off, mm.
TOLERANCE_MM = 1e-6
#: Files: extension, what the DXF Reference calls the edition, and whether layers have a true colour.
EDITIONS = [("dxf", "AC1032", True), ("r12.dxf", "AC1009", False)]
#: Numbered colours that may be chosen: those on which programs agree. Numbers that end in 7
#: and 9 are left out: ezdxf's own table breaks the series at some of them.
NUMBERED = [8, 9, *(n for n in range(10, 249) if n % 10 not in (7, 9)), 250, 255]


def complaints(stem, rows, kinds, blank):
    """Everything that is wrong with both DXF files of a piece.

    `stem` is their path without extension, `rows` the table's, `kinds` the lay's kinds in order,
    `blank` its region.
    """
    for extension, version, true_colour in EDITIONS:
        path = stem.with_name(f"{stem.name}.{extension}")
        text = path.read_bytes()
        try:
            document = ezdxf.readfile(path)
        except Exception as error:
            yield f"{extension}: ezdxf cannot read it: {type(error).__name__}: {error}"
            continue
        audit = document.audit()
        for fault in [*audit.errors, *audit.fixes][:5]:
            yield f"{extension}: ezdxf's audit: {fault.code}: {fault.message}"
        if document.dxfversion != version:
            yield f"{extension}: is {document.dxfversion}, not {version}"
        # DXF Reference, header variables: $INSUNITS 4 is millimetres, $MEASUREMENT 1 metric.
        if (document.header.get("$INSUNITS"), document.header.get("$MEASUREMENT")) != (4, 1):
            yield f"{extension}: the unit is {document.header.get('$INSUNITS')}"
        for word in (b"$TDCREATE", b"$TDUPDATE", b"GUID"):
            if word in text:
                yield f"{extension}: has {word.decode()}, which would differ from run to run"
        for found in (layers(document, kinds, true_colour), edges(document, blank), stones(document, rows, kinds, blank)):
            yield from (f"{extension}: {c}" for c in found)


def kind_layers(document):
    """The layers of the kinds, in the order of the file."""
    return [layer for layer in document.layers if layer.dxf.name not in ("0", "Defpoints", "BLANK")]


def layers(document, kinds, true_colour):
    """One for each kind, of a name that release 12 takes, of its colour or the nearest one."""
    found = kind_layers(document)
    names = [layer.dxf.name for layer in found]
    if len(found) != len(kinds):
        yield f"{len(found)} layers for {len(kinds)} kinds"
    if len({n.upper() for n in names} | {"BLANK", "0"}) != len(names) + 2:
        yield "two layers have one name"
    for name in names:
        if not (0 < len(name) <= 31 and name.isascii() and all(c.isalnum() or c in "-_" for c in name)):
            yield f"release 12 takes no layer of the name {name!r}"
    for layer, kind in zip(found, kinds):
        rgb = tuple(int(kind["colour_hex"][i : i + 2], 16) for i in (1, 3, 5))
        if true_colour and layer.rgb != rgb:
            yield f"layer {layer.dxf.name} has the colour {layer.rgb}, not {rgb}"
        off = lambda number: sum((a - b) ** 2 for a, b in zip(rgb, rgb_of(number)))
        nearest = min(map(off, NUMBERED))
        if layer.dxf.color not in NUMBERED or off(layer.dxf.color) > nearest:
            yield f"layer {layer.dxf.name}: colour {layer.dxf.color} is not the nearest to {rgb}"


def rgb_of(number):
    value = DXF_DEFAULT_COLORS[number]
    return value >> 16 & 255, value >> 8 & 255, value & 255


def edges(document, blank):
    """The blank's edges: as many as it has, of its area; arcs by the definition of the bulge."""
    area, n = [], 0
    for shape in document.modelspace().query('*[layer=="BLANK"]'):
        n += 1
        if shape.dxftype() == "CIRCLE":
            area.append(math.pi * shape.dxf.radius**2)
        elif shape.dxftype() in ("LWPOLYLINE", "POLYLINE"):
            if not shape.is_closed:
                yield "an edge of the blank is open"
            area.append(abs(polyline_area(corners(shape))))
        else:
            yield f"a {shape.dxftype()} on the layer of the blank"
    if n != len(blank.rings):
        yield f"the blank has {len(blank.rings)} edges, {n} are drawn"
    # The largest is the outside; holes are taken off it.
    outside = max(area, default=0.0)
    drawn, wanted = 2 * outside - sum(area), blank.area()
    if abs(drawn - wanted) > max(1e-6, 1e-9 * wanted):
        yield f"the blank's area is {wanted}, {drawn} is drawn"


def corners(shape):
    """x, y and bulge of each corner."""
    if shape.dxftype() == "LWPOLYLINE":
        return list(shape.get_points("xyb"))
    return [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in shape.vertices]


def polyline_area(points):
    """Area within a closed polyline: its corners' and each arc's segment, r²(θ − sin θ)/2, where the
    bulge is tan(θ/4)."""
    total = 0.0
    for (x1, y1, bulge), (x2, y2, _) in zip(points, points[1:] + points[:1]):
        total += (x1 * y2 - x2 * y1) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.hypot(x2 - x1, y2 - y1) / (2 * math.sin(abs(angle) / 2))
            total += math.copysign(radius**2 * (abs(angle) - math.sin(abs(angle))) / 2, bulge)
    return total


def stones(document, rows, kinds, blank):
    """A circle for each row of the table, in its order, y turned up, on the layer of its kind."""
    names = [layer.dxf.name for layer in kind_layers(document)]
    layer_of = {kind["name"]: name for kind, name in zip(kinds, names)}
    _, bottom, _, top = blank.bounds()
    circles = [s for s in document.modelspace() if s.dxf.layer != "BLANK"]
    if len(circles) != len(rows):
        yield f"{len(circles)} stones are drawn, the table has {len(rows)}"
    for circle, row in zip(circles, rows):
        if circle.dxftype() != "CIRCLE":
            yield f"stone {row['place_no']} is a {circle.dxftype()}"
            return
        x, y, _ = circle.dxf.center
        off = max(
            abs(x - float(row["x_mm"])),
            abs((top - bottom) - y - float(row["y_mm"])),
            abs(2 * circle.dxf.radius - float(row["drawn_mm"])),
        )
        if off > TOLERANCE_MM or circle.dxf.layer != layer_of[row["kind"]]:
            yield f"stone {row['place_no']} is off by {off} mm or on the wrong layer, {circle.dxf.layer}"
            return
