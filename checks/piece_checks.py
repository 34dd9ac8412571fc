"""The laws that a laid piece must keep, each as one function that yields what is wrong."""

import hashlib
import math

import numpy as np
import rfc8785
import shapely
from scipy.spatial import cKDTree

from bare_search import Clearance, largest_bare_spot
from lay_files import beside, measure_svg, png_size, read_csv
from regions import CHORD_ERROR_MM, Region

#: Tolerance of a lay: places are rounded to 1e-9 mm and then checked to 1e-6 mm (promise of the
#: lay itself; a rounding error in a chain of doubles of 300 mm is below 1e-12).
TOLERANCE_MM = 1e-6
#: How far an outline flattened at import or in a union may lie from the arc it stands for, mm.
FLATTENED_MM = 2e-3


class Laid:
    """One piece of the JSON, with its stones and regions as arrays."""

    def __init__(self, piece):
        self.piece = piece
        self.name = piece["name"]
        self.zones = piece["zones"]
        self.kinds = piece["kinds"]
        stones = piece["stones"]
        self.centres = np.array([(s["u"], s["v"]) for s in stones], dtype=float).reshape(-1, 2)
        self.pitch = np.array([s["pitch_mm"] for s in stones], dtype=float)
        self.drawn = np.array([s["drawn_mm"] for s in stones], dtype=float)
        self.zone = np.array([s["zone"] for s in stones], dtype=int)
        self.kind = np.array([s["kind"] for s in stones], dtype=int)
        self.row = np.array([s["row"] for s in stones], dtype=int)
        self.place_no = [s["place_no"] for s in stones]
        self.blank = Region(piece["blank"]["region"])
        self.regions = [Region(z["region"]) for z in self.zones]

    def stone(self, i):
        """A stone as a message names it."""
        return f"stone {self.place_no[i]} at ({self.centres[i][0]:.6f}, {self.centres[i][1]:.6f})"


def close(a, b, tolerance):
    """Whether two numbers agree to a share of the larger."""
    return abs(a - b) <= tolerance * max(abs(a), abs(b), 1e-300)


def numbers(laid):
    """Stones are numbered in order; each refers to what exists and is as wide as its kind."""
    if laid.place_no != list(range(1, len(laid.place_no) + 1)):
        yield "stones are not numbered 1, 2, 3 … in order"
    for i, stone in enumerate(laid.piece["stones"]):
        kind, zone = laid.kinds[stone["kind"]], laid.zones[stone["zone"]]
        gauge = kind["fit_mm"] if zone["gauge"] == "fit" else kind["reach_mm"]
        if stone["pitch_mm"] != gauge or stone["drawn_mm"] != kind["reach_mm"]:
            yield f"{laid.stone(i)} is not as wide as its kind {kind['name']!r}"
        if any(abs(x * 1e9 - round(x * 1e9)) > 1e-3 for x in (stone["u"], stone["v"])):
            yield f"{laid.stone(i)} is not rounded to 1e-9 mm"


def fingerprint(laid):
    """The hash is SHA-256 of the canonical JSON (RFC 8785) of the lay itself."""
    plain = hashed_part(laid.piece)
    digest = hashlib.sha256(rfc8785.dumps(as_doubles(plain))).hexdigest()
    if digest != laid.piece["hash"]:
        yield f"hash {laid.piece['hash']} written, {digest} measured"


def hashed_part(piece):
    """What of a piece its hash covers: the lay, not how many are made nor what is said of it."""
    part = {k: v for k, v in piece.items() if k not in ("hash", "quantity", "findings")}
    part["zones"] = [{k: v for k, v in zone.items() if k != "note"} for zone in piece["zones"]]
    return part


def as_doubles(value):
    """Whole numbers past 2^53 as the nearest double: RFC 8785 knows no others."""
    if isinstance(value, dict):
        return {key: as_doubles(v) for key, v in value.items()}
    if isinstance(value, list):
        return [as_doubles(v) for v in value]
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def overlaps(laid):
    """No two stones closer than half of each and the spacing between."""
    if len(laid.centres) < 2:
        return
    spacing = np.array([z["spacing_mm"] for z in laid.zones])[laid.zone]
    reach = laid.pitch.max() + spacing.max() + TOLERANCE_MM
    pairs = cKDTree(laid.centres).query_pairs(reach, output_type="ndarray")
    a, b = pairs[:, 0], pairs[:, 1]
    apart = np.linalg.norm(laid.centres[a] - laid.centres[b], axis=1)
    # Between two zones each keeps half of its own spacing.
    wanted = (laid.pitch[a] + laid.pitch[b]) / 2 + (spacing[a] + spacing[b]) / 2
    for k in np.flatnonzero(apart < wanted - TOLERANCE_MM)[:5]:
        short = wanted[k] - apart[k]
        yield f"{laid.stone(a[k])} and {laid.stone(b[k])} are {short:.9f} mm too close"


def insides(laid):
    """Every stone wholly inside its zone less what each edge wants kept, and inside the blank."""
    for z, (zone, region) in enumerate(zip(laid.zones, laid.regions, strict=True)):
        here = np.flatnonzero(laid.zone == z)
        if not len(here):
            continue
        centres, radii = laid.centres[here], laid.pitch[here] / 2
        room = (region.distances(centres) - region.keep).min(axis=1)
        for k in np.flatnonzero((room < radii - TOLERANCE_MM) | ~region.contains(centres))[:5]:
            yield f"{laid.stone(here[k])} leaves zone {zone['name']!r}: room {room[k]:.9f} mm"
        yield from insides_by_shapely(laid, here, zone, region)
    if len(laid.centres):
        room = laid.blank.distances(laid.centres).min(axis=1)
        inside = laid.blank.contains(laid.centres)
        for i in np.flatnonzero((room < laid.pitch / 2 - TOLERANCE_MM) | ~inside)[:5]:
            yield f"{laid.stone(i)} leaves the blank: room {room[i]:.9f} mm"


def insides_by_shapely(laid, here, zone, region):
    """The same by Shapely, on the flattened region."""
    points = shapely.points(laid.centres[here])
    polygon = region.polygon()
    shapely.prepare(polygon)
    outside = ~shapely.contains(polygon, points)
    for keep, tree in region.edge_trees().items():
        indices, apart = tree.query_nearest(points, return_distance=True, all_matches=False)
        nearest = np.empty(len(points))
        nearest[indices[0]] = apart
        wanted = laid.pitch[here] / 2 + keep
        outside |= nearest < wanted - TOLERANCE_MM - CHORD_ERROR_MM
    for k in np.flatnonzero(outside)[:5]:
        yield f"{laid.stone(here[k])} leaves zone {zone['name']!r}, says Shapely"


def zones_apart(laid):
    """Zones lie in the blank and not on one another; each edge keeps what its kind of edge wants."""
    polygons = [region.polygon() for region in laid.regions]
    slack = FLATTENED_MM * sum(region.perimeter() for region in [laid.blank, *laid.regions])
    outside = shapely.difference(shapely.union_all(polygons), laid.blank.polygon()).area
    if outside > slack:
        yield f"{outside:.6f} mm² of the zones lie outside the blank"
    for i, a in enumerate(polygons):
        for j in range(i):
            if (both := shapely.intersection(a, polygons[j]).area) > slack:
                yield f"zones {laid.zones[j]['name']!r} and {laid.zones[i]['name']!r} share {both:.6f} mm²"
    for zone, region in zip(laid.zones, laid.regions, strict=True):
        three = np.array([midway(region, i) for i in range(len(region))])
        own = (laid.blank.distances(three.reshape(-1, 2)).min(axis=1) <= FLATTENED_MM).reshape(-1, 3)
        wanted = np.where(own.all(axis=1), zone["margin_mm"], zone["spacing_mm"] / 2)
        # A piece this short at a corner lies near both kinds of edge.
        long = np.linalg.norm(three[:, 2] - three[:, 0], axis=1) > 5 * FLATTENED_MM
        wrong = np.flatnonzero(long & (np.abs(region.keep - wanted) > 1e-12))
        for i in wrong[:3]:
            yield f"edge {i} of zone {zone['name']!r} keeps {region.keep[i]}, not {wanted[i]} mm"


def midway(region, i):
    """Start, middle and end of a segment."""
    if region.arc[i]:
        points = region.along(i, abs(region.sweep[i]) / 2 * (1 + 1e-12))
    else:
        points = np.array([region.a[i], (region.a[i] + region.b[i]) / 2, region.b[i]])
    return points[[0, len(points) // 2, -1]]


def coverages(laid):
    """Areas and coverage as written, and Green's theorem against Shapely."""
    for z, (zone, region) in enumerate(zip(laid.zones, laid.regions, strict=True)):
        area, by_shapely = region.area(), region.polygon().area
        slack = CHORD_ERROR_MM * region.perimeter()
        if abs(area - by_shapely) > slack + 1e-9 * area:
            yield f"zone {zone['name']!r}: area {area} mm², says Green; {by_shapely}, says Shapely"
        if not close(area, zone["area_mm2"], 1e-6):
            yield f"zone {zone['name']!r}: area {zone['area_mm2']} mm² written, {area} measured"
        coverage = (math.pi / 4 * laid.drawn[laid.zone == z] ** 2).sum() / area
        if not close(coverage, zone["coverage"], 1e-6) and abs(coverage - zone["coverage"]) > 1e-12:
            yield f"zone {zone['name']!r}: coverage {zone['coverage']} written, {coverage} measured"


def counts(laid):
    """Stones by zone, kind and row as written and as counted."""
    for z, zone in enumerate(laid.zones):
        here = laid.zone == z
        if zone["stones"] != here.sum():
            yield f"zone {zone['name']!r}: {zone['stones']} stones written, {here.sum()} there"
        by_kind = {entry["kind"]: entry["stones"] for entry in zone["by_kind"]}
        for k, kind in enumerate(laid.kinds):
            n = int((here & (laid.kind == k)).sum())
            if by_kind.pop(kind["name"], 0) != n:
                yield f"zone {zone['name']!r}: {kind['name']!r} is written otherwise than the {n} there"
        if by_kind:
            yield f"zone {zone['name']!r}: counts kinds that the piece does not have: {sorted(by_kind)}"
        rows = np.unique(laid.row[here])
        if zone["rows"] != len(rows) or (len(rows) and rows[-1] != len(rows)):
            yield f"zone {zone['name']!r}: {zone['rows']} rows written, {len(rows)} there"


def bare_spots(laid, seed, deep):
    """Each reported spot is really empty; none is larger than the first."""
    for z, (zone, region) in enumerate(zip(laid.zones, laid.regions, strict=True)):
        spots = zone["bare_spots"]
        clearance = Clearance(region, laid.centres, laid.drawn / 2)
        for n, spot in enumerate(spots):
            room = 2 * clearance.at((spot["u"], spot["v"]))[0]
            if room < spot["diameter_mm"] - TOLERANCE_MM:
                yield f"zone {zone['name']!r}: bare spot {n + 1} of {spot['diameter_mm']:.6f} mm has only {room:.6f}"
        widths = [spot["diameter_mm"] for spot in spots]
        if any(b > a + 1e-9 for a, b in zip(widths, widths[1:], strict=False)):
            yield f"zone {zone['name']!r}: bare spots are not in order: {widths}"
        near = laid.zone == z
        hints = [(s["u"], s["v"]) for s in spots[: 20 if deep else 3]]
        place, best = largest_bare_spot(
            region, laid.centres[near], laid.drawn[near] / 2, seed, hints, deep
        )
        reported = widths[0] if widths else 0.0
        if best > reported + TOLERANCE_MM:
            yield (
                f"zone {zone['name']!r}: largest bare spot {reported:.7f} mm, "
                f"but {best:.7f} at ({place[0]:.6f}, {place[1]:.6f})"
            )


def bare_spots_of_blank(laid, seed, deep):
    """The same over the whole blank, across the borders of zones; and its coverage."""
    area = math.pi / 4 * float(np.sum(laid.drawn**2)) if len(laid.drawn) else 0.0
    coverage = area / laid.blank.area()
    if abs(coverage - laid.piece["coverage"]) > 1e-6:
        yield f"blank: coverage {laid.piece['coverage']:.8f} written, {coverage:.8f} measured"
    spots = laid.piece["bare_spots"]
    clearance = Clearance(laid.blank, laid.centres, laid.drawn / 2)
    for n, spot in enumerate(spots):
        room = 2 * clearance.at((spot["u"], spot["v"]))[0]
        if room < spot["diameter_mm"] - TOLERANCE_MM:
            yield f"blank: bare spot {n + 1} of {spot['diameter_mm']:.6f} mm has only {room:.6f}"
    if len(laid.zones) < 2:
        return
    hints = [(s["u"], s["v"]) for s in spots[: 20 if deep else 3]]
    place, best = largest_bare_spot(laid.blank, laid.centres, laid.drawn / 2, seed, hints, deep)
    reported = spots[0]["diameter_mm"] if spots else 0.0
    if best > reported + TOLERANCE_MM:
        yield (
            f"blank: largest bare spot {reported:.7f} mm, "
            f"but {best:.7f} at ({place[0]:.6f}, {place[1]:.6f})"
        )


def bare_edges(laid):
    """The bare share of each zone's edge, sampled every 0.01 mm.

    A point of the edge is bare if a stone of the smallest kind goes between it and the nearest
    stone: its pitch, the spacing, and what the edge wants kept. The JSON does not tell fillers from
    the mix, so any kind of the zone may be the smallest of its mix.
    """
    for z, (zone, region) in enumerate(zip(laid.zones, laid.regions, strict=True)):
        clearance = Clearance(region, laid.centres[laid.zone == z], laid.drawn[laid.zone == z] / 2)
        pieces = [edge_pieces(region, i) for i in range(len(region))]
        middles = np.concatenate([middle for middle, _ in pieces])
        lengths = np.concatenate([length for _, length in pieces])
        keep = np.concatenate([np.full(len(p[1]), k) for p, k in zip(pieces, region.keep, strict=True)])
        gaps = clearance.to_stones(middles)
        names = {entry["kind"] for entry in zone["by_kind"]}
        widths = {k["fit_mm" if zone["gauge"] == "fit" else "reach_mm"] for k in laid.kinds if k["name"] in names}
        shares = [
            lengths[gaps > width + zone["spacing_mm"] + keep].sum() / lengths.sum() for width in sorted(widths)
        ]
        # Each end of a bare stretch may fall anywhere between two samples.
        if min(abs(share - zone["bare_edge"]) for share in shares) > 2e-3:
            yield f"zone {zone['name']!r}: bare edge {zone['bare_edge']:.5f} written, {shares[0]:.5f} measured"


def edge_pieces(region, i):
    """Segment `i` in pieces of at most 0.01 mm: their middles and lengths."""
    points = region.along(i, 0.01 / region.radius[i] if region.arc[i] else 0.01)
    return (points[1:] + points[:-1]) / 2, np.linalg.norm(points[1:] - points[:-1], axis=1)


def tables(laid, path, name):
    """The CSV says the same as the JSON, in the makers' frame."""
    rows = read_csv(beside(path, name, "csv"))
    if len(rows) != len(laid.centres):
        yield f"the CSV has {len(rows)} stones, the JSON {len(laid.centres)}"
        return
    left, _, _, top = laid.blank.bounds()
    for i, row in enumerate(rows):
        stone = laid.piece["stones"][i]
        kind = laid.kinds[stone["kind"]]
        texts = {
            "piece": laid.name, "zone": laid.zones[stone["zone"]]["name"],
            "place_no": str(stone["place_no"]), "row": str(stone["row"]), "kind": kind["name"],
            "shape": kind["shape"], "colour_hex": kind["colour_hex"],
        }  # fmt: skip
        values = {
            "x_mm": stone["u"] - left, "y_mm": top - stone["v"], "drawn_mm": stone["drawn_mm"],
            "pitch_mm": stone["pitch_mm"], "length_mm": stone["drawn_mm"],
            "width_mm": stone["drawn_mm"], "turn_deg": stone["turn_deg"],
        }  # fmt: skip
        bad = [name for name, text in texts.items() if row[name] != text]
        # Nine decimals: half of the last one, and a rounding error.
        bad += [name for name, v in values.items() if abs(float(row[name]) - v) > 1.01e-9]
        bad += [n for n in values if n.endswith("_mm") and len(row[n].partition(".")[2]) != 9]
        if bad:
            yield f"CSV, {laid.stone(i)}: {', '.join(bad)} differ from the JSON"
            return


def pictures(laid, path, name):
    """The SVG at true size, every stone to 0.001 mm; the PNG in the same proportions."""
    left, bottom, right, top = laid.blank.bounds()
    width, height, stones = measure_svg(beside(path, name, "svg"))
    if abs(width - (right - left)) > 1e-3 or abs(height - (top - bottom)) > 1e-3:
        yield f"the SVG is {width} by {height} mm, the blank {right - left} by {top - bottom}"
    if sorted(stones) != laid.place_no:
        yield f"the SVG draws {len(stones)} stones, the JSON has {len(laid.place_no)}"
        return
    for i, number in enumerate(laid.place_no):
        u, v = laid.centres[i]
        wanted = np.array([u - left, top - v, laid.drawn[i]])
        if np.abs(np.array(stones[number]) - wanted).max() > 1e-3:
            yield f"SVG, {laid.stone(i)}: drawn at {stones[number]}, not {tuple(wanted)}"
            return
    across, down = png_size(beside(path, name, "png"))
    # A side is a whole number of pixels, so the proportions agree to one pixel of the other side.
    if abs(across * height / width - down) > 1 + height / width:
        yield f"the PNG is {across} by {down} pixels for {width} by {height} mm"


def sizes(laid):
    """The size of the blank as written."""
    left, bottom, right, top = laid.blank.bounds()
    blank = laid.piece["blank"]
    for name, measured in (("width_mm", right - left), ("height_mm", top - bottom)):
        if abs(blank[name] - measured) > TOLERANCE_MM:
            yield f"the blank's {name} is written {blank[name]}, measured {measured}"
