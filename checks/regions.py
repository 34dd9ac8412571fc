"""Regions of lines and arcs, read from a lay's JSON and measured without any code of ours.

Written from the definitions, not from the Rust code: winding by summed angles, area by Green's
theorem, distances to the arcs themselves. `polygon` gives the same region to Shapely, flattened.
"""

import functools
import math

import numpy as np
import shapely

#: How far a flattened arc may lie from the true one, mm. Well below the lay's tolerance of 1e-6.
CHORD_ERROR_MM = 1e-7


class Region:
    """The segments of every ring in flat arrays, one entry a segment."""

    def __init__(self, json_region):
        rows = []
        self.rings = []
        for ring_no, ring in enumerate(json_region["rings"]):
            at = ring["start"]
            first = len(rows)
            for seg in ring["segments"]:
                centre = seg.get("centre")
                arc = centre is not None
                rows.append((
                    *at, *seg["to"], arc, *(centre if arc else (0.0, 0.0)),
                    seg["radius_mm"] if arc else 0.0,
                    bool(seg.get("ccw", False)), seg.get("keep_mm") or 0.0, ring_no,
                ))
                at = seg["to"]
            if math.dist(at, ring["start"]) > 1e-9:
                raise ValueError(f"ring {ring_no} does not close")
            self.rings.append((first, len(rows), bool(ring["hole"])))
        table = np.array(rows, dtype=float).reshape(-1, 11)
        self.a = table[:, 0:2]
        self.b = table[:, 2:4]
        self.arc = table[:, 4] > 0.5
        self.centre = table[:, 5:7]
        self.radius = table[:, 7]
        self.ccw = table[:, 8] > 0.5
        self.keep = table[:, 9]
        self.ring_no = table[:, 10].astype(int)
        self.sweep = self._sweeps()

    def __len__(self):
        return len(self.a)

    def _sweeps(self):
        """Signed angle of each arc, counter-clockwise positive; 0 for lines."""
        from_a = np.arctan2(*(self.a - self.centre).T[::-1])
        to_b = np.arctan2(*(self.b - self.centre).T[::-1])
        turn = np.where(self.ccw, (to_b - from_a) % (2 * math.pi), -((from_a - to_b) % (2 * math.pi)))
        return np.where(self.arc, turn, 0.0)

    def bounds(self):
        """Left, bottom, right, top, with the bulge of arcs."""
        points = [self.a, self.b]
        for i in np.flatnonzero(self.arc):
            for angle in (0.0, math.pi / 2, math.pi, -math.pi / 2):
                way = np.array([math.cos(angle), math.sin(angle)])
                if self._spans(i, way[None, :])[0]:
                    points.append((self.centre[i] + self.radius[i] * way)[None, :])
        every = np.concatenate(points)
        return (*every.min(axis=0), *every.max(axis=0))

    def _spans(self, i, ways):
        """For arc `i`: which of the directions from its centre meet it."""
        start = self.a[i] - self.centre[i]
        angle = np.arctan2(ways[:, 1], ways[:, 0]) - math.atan2(start[1], start[0])
        angle = angle % (2 * math.pi) if self.ccw[i] else (-angle) % (2 * math.pi)
        span = abs(self.sweep[i])
        # An end may fall a rounding error outside: there the end point itself is as near.
        return (angle <= span + 1e-12) | (angle >= 2 * math.pi - 1e-12)

    def distances(self, points, segments=None):
        """Distance of every point from every segment (or those given): points × segments."""
        points = np.atleast_2d(points)
        which = np.arange(len(self)) if segments is None else np.asarray(segments)
        out = np.empty((len(points), len(which)))
        lines = np.flatnonzero(~self.arc[which])
        if len(lines):
            a, b = self.a[which[lines]], self.b[which[lines]]
            along = b - a
            length2 = np.maximum((along**2).sum(axis=1), 1e-300)
            to_p = points[:, None, :] - a[None]
            t = np.clip((to_p * along).sum(axis=2) / length2, 0.0, 1.0)
            out[:, lines] = np.linalg.norm(to_p - t[..., None] * along, axis=2)
        for column in np.flatnonzero(self.arc[which]):
            i = which[column]
            ways = points - self.centre[i]
            to_circle = np.abs(np.linalg.norm(ways, axis=1) - self.radius[i])
            to_ends = np.minimum(
                np.linalg.norm(points - self.a[i], axis=1),
                np.linalg.norm(points - self.b[i], axis=1),
            )
            out[:, column] = np.where(self._spans(i, ways), to_circle, to_ends)
        return out

    def nearest_points(self, point, segments):
        """The point of each of the given segments that is nearest to one point."""
        out = np.empty((len(segments), 2))
        for row, i in enumerate(segments):
            a, b = self.a[i], self.b[i]
            if not self.arc[i]:
                along = b - a
                t = np.dot(point - a, along) / max(np.dot(along, along), 1e-300)
                out[row] = a + min(max(t, 0.0), 1.0) * along
                continue
            way = point - self.centre[i]
            n = math.hypot(*way)
            if n > 0 and self._spans(i, way[None, :])[0]:
                out[row] = self.centre[i] + way * (self.radius[i] / n)
            else:
                out[row] = a if math.dist(point, a) <= math.dist(point, b) else b
        return out

    def winding(self, points):
        """How often the boundary goes round each point: the angles it sweeps as seen from there."""
        points = np.atleast_2d(points)
        total = np.zeros(len(points))
        lines = np.flatnonzero(~self.arc)
        # In slices, so that a long boundary and many points do not fill the memory.
        for some in np.array_split(lines, max(1, len(lines) * len(points) // 2_000_000)):
            total += turns(self.a[some][None] - points[:, None], self.b[some][None] - points[:, None]).sum(axis=1)
        for i in np.flatnonzero(self.arc):
            turn = turns(self.a[i] - points, self.b[i] - points)
            # From inside its circle an arc runs one way round all along, whatever its chord does.
            # From outside it spans the same angle as its chord, since it is at most half a turn.
            inside = np.linalg.norm(points - self.centre[i], axis=1) < self.radius[i]
            one_way = turn % (2 * math.pi) if self.ccw[i] else -(-turn % (2 * math.pi))
            total += np.where(inside, one_way, turn)
        return np.rint(total / (2 * math.pi)).astype(int)

    def contains(self, points):
        """Which points lie inside."""
        return self.winding(points) > 0

    def area(self):
        """Area in mm² by Green's theorem; the holes' clockwise rings count against it."""
        chords = self.a[:, 0] * self.b[:, 1] - self.a[:, 1] * self.b[:, 0]
        segments = self.radius**2 * (self.sweep - np.sin(self.sweep))
        return float((chords + np.where(self.arc, segments, 0.0)).sum() / 2)

    def perimeter(self):
        """Length of every edge, mm."""
        straight = np.linalg.norm(self.b - self.a, axis=1)
        return float(np.where(self.arc, self.radius * np.abs(self.sweep), straight).sum())

    def along(self, i, step):
        """Points along segment `i`, both ends included, each at most `step` radians (arcs) or
        `step` mm (lines) from the next."""
        length = abs(self.sweep[i]) if self.arc[i] else math.dist(self.a[i], self.b[i])
        t = np.linspace(0.0, 1.0, max(1, math.ceil(length / step)) + 1)[:, None]
        if not self.arc[i]:
            return self.a[i] + t * (self.b[i] - self.a[i])
        start = self.a[i] - self.centre[i]
        angle = (math.atan2(start[1], start[0]) + t * self.sweep[i])[:, 0]
        points = self.centre[i] + self.radius[i] * np.column_stack([np.cos(angle), np.sin(angle)])
        points[0], points[-1] = self.a[i], self.b[i]
        return points

    def samples(self, step_mm):
        """Points all along the boundary, at most `step_mm` apart."""
        per_mm = [step_mm / self.radius[i] if self.arc[i] else step_mm for i in range(len(self))]
        return np.concatenate([self.along(i, s)[:-1] for i, s in enumerate(per_mm)])

    def flattened(self, i):
        """Segment `i` as points on it, no chord farther than `CHORD_ERROR_MM` from the arc."""
        if not self.arc[i]:
            return np.array([self.a[i], self.b[i]])
        step = 2 * math.acos(max(-1.0, 1 - CHORD_ERROR_MM / self.radius[i]))
        return self.along(i, step)

    def polygon(self):
        """The region as Shapely sees it."""
        rings = []
        for first, end, _ in self.rings:
            points = np.concatenate([self.flattened(i)[:-1] for i in range(first, end)])
            rings.append(shapely.Polygon(points))
        # No two rings cross: what lies within an odd number of them is inside.
        return functools.reduce(shapely.symmetric_difference, rings)

    def edge_trees(self):
        """For each distance to keep: Shapely's index over the flattened edges that ask for it."""
        trees = {}
        for keep in np.unique(self.keep):
            lines = [self.flattened(i) for i in np.flatnonzero(self.keep == keep)]
            pairs = np.concatenate([np.stack([p[:-1], p[1:]], axis=1) for p in lines])
            trees[float(keep)] = shapely.STRtree(shapely.linestrings(pairs))
        return trees


def turns(a, b):
    """Angle from direction a to direction b, −π to π, counter-clockwise positive."""
    cross = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return np.arctan2(cross, (a * b).sum(axis=-1))
