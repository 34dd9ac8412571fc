"""A seeded SciPy search for the largest empty circle of a zone.

Candidates are the Voronoi vertices of points sampled on the stones' circles and on the boundary,
random points, and the place that the lay reports; the best are then refined by SLSQP on the true
distances. What it returns is always measured at the place found, so it can be too small but never
too large: a lay whose reported spot is smaller is wrong.
"""

import numpy as np
import shapely
from scipy.optimize import differential_evolution, minimize
from scipy.spatial import Voronoi, cKDTree


class Clearance:
    """Radius of the largest circle at a point that touches no stone and no edge."""

    def __init__(self, region, centres, radii):
        self.region = region
        self.centres = np.asarray(centres, dtype=float).reshape(-1, 2)
        self.radii = np.asarray(radii, dtype=float)
        # One tree for each radius: the nearest centre of a class is its nearest stone.
        self.trees = [
            (r, cKDTree(self.centres[self.radii == r])) for r in np.unique(self.radii)
        ]
        self.every = cKDTree(self.centres) if len(self.centres) else None
        self.radius_max = self.radii.max(initial=0.0)

    def to_stones(self, points):
        """Distance to the nearest stone's circle, negative inside it."""
        best = np.full(len(points), np.inf)
        for r, tree in self.trees:
            best = np.minimum(best, tree.query(points)[0] - r)
        return best

    def at(self, points):
        """The radius itself; −inf outside the region."""
        points = np.atleast_2d(points)
        edges = self.region.distances(points).min(axis=1)
        value = np.minimum(edges, self.to_stones(points))
        return np.where(self.region.contains(points), value, -np.inf)

    def near(self, point, reach):
        """Stones and segments whose distance from `point` is at most `reach`."""
        stones = np.array([], dtype=int)
        if self.every is not None:
            close = self.every.query_ball_point(point, reach + self.radius_max)
            stones = np.array(sorted(close), dtype=int)
            gap = np.linalg.norm(self.centres[stones] - point, axis=1) - self.radii[stones]
            stones = stones[gap <= reach]
        edges = np.flatnonzero(self.region.distances(point)[0] <= reach)
        return stones, edges


def largest_bare_spot(region, centres, radii, seed, hints=(), deep=False):
    """Centre and diameter of the largest empty circle that the search finds."""
    clearance = Clearance(region, centres, radii)
    rng = np.random.default_rng(seed)
    points = candidates(region, clearance, rng, deep)
    for hint in hints:
        points = np.vstack([points, hint])
    value = estimate(region, clearance, points)
    order = np.argsort(-value, kind="stable")
    kept = thinned(points[order], value[order], 2000 if deep else 80)
    best_point, best = None, -np.inf
    for start in list(kept) + [np.asarray(h, dtype=float) for h in hints]:
        point, radius = refined(clearance, start)
        if radius > best:
            best_point, best = point, radius
    if deep:
        point, radius = by_evolution(clearance, seed)
        if radius > best:
            best_point, best = point, radius
    return best_point, 2 * best


def candidates(region, clearance, rng, deep):
    """Voronoi vertices and random points inside the region."""
    left, bottom, right, top = region.bounds()
    step = region.perimeter() / (8000 if deep else 3000)
    on_edges = region.samples(max(step, 0.02))
    n_round = 32 if deep else 20
    angle = np.linspace(0.0, 2 * np.pi, n_round, endpoint=False) + 0.1
    round_ = np.column_stack([np.cos(angle), np.sin(angle)])
    on_stones = clearance.centres[:, None, :] + clearance.radii[:, None, None] * round_[None]
    sites = np.concatenate([on_edges, on_stones.reshape(-1, 2)])
    random = rng.uniform((left, bottom), (right, top), size=(4000 if deep else 400, 2))
    # Joggled, since a regular lay has many sites on one circle.
    vertices = Voronoi(sites, qhull_options="Qbb Qc QJ Pp").vertices
    points = np.vstack([vertices, random])
    inside = ((points > (left, bottom)) & (points < (right, top))).all(axis=1)
    points = points[inside]
    return points[clearance.to_stones(points) > 0]


def estimate(region, clearance, points):
    """The clearance, edges by close samples; too large by less than 1e-3 mm where it matters."""
    if not len(points):
        return np.empty(0)
    edges = cKDTree(region.samples(0.02)).query(points)[0]
    value = np.minimum(edges, clearance.to_stones(points))
    polygon = region.polygon()
    shapely.prepare(polygon)
    return np.where(shapely.contains_xy(polygon, points), value, -np.inf)


def thinned(points, value, most):
    """The first points, none closer than 0.02 mm to one before, none far below the best."""
    kept, cells = [], set()
    for point, v in zip(points, value, strict=True):
        if len(kept) == most or v == -np.inf or (kept and v < value[0] * 0.6 - 0.05):
            break
        cell = (round(point[0] / 0.02), round(point[1] / 0.02))
        if cell not in cells:
            cells.add(cell)
            kept.append(point)
    return kept


def refined(clearance, start):
    """The local best from `start`, by SLSQP on the distances to what is near."""
    best_point = np.asarray(start, dtype=float)
    best = clearance.at(best_point)[0]
    if best == -np.inf:
        return best_point, best
    for _ in range(3):
        stones, edges = clearance.near(best_point, best * 1.5 + 0.3)
        point = ascend(clearance, best_point, best, stones, edges)
        radius = clearance.at(point)[0]
        if radius <= best + 1e-10:
            break
        best_point, best = point, radius
    return best_point, best


def ascend(clearance, start, radius, stones, edges):
    """Largest t with every distance at least t, from `start`."""
    region = clearance.region
    centres, radii = clearance.centres[stones], clearance.radii[stones]

    def slack(x):
        gaps = np.linalg.norm(centres - x[:2], axis=1) - radii
        walls = np.linalg.norm(region.nearest_points(x[:2], edges) - x[:2], axis=1)
        return np.concatenate([gaps, walls]) - x[2]

    def slope(x):
        feet = np.vstack([centres, region.nearest_points(x[:2], edges)])
        away = x[:2] - feet
        length = np.maximum(np.linalg.norm(away, axis=1, keepdims=True), 1e-300)
        return np.hstack([away / length, np.full((len(feet), 1), -1.0)])

    answer = minimize(
        lambda x: -x[2],
        np.array([*start, radius]),
        jac=lambda x: np.array([0.0, 0.0, -1.0]),
        constraints={"type": "ineq", "fun": slack, "jac": slope},
        method="SLSQP",
        options={"ftol": 1e-13, "maxiter": 60},
    )
    return answer.x[:2] if np.all(np.isfinite(answer.x)) else start


def by_evolution(clearance, seed):
    """The same by differential evolution over the whole box: no idea of ours behind it."""
    left, bottom, right, top = clearance.region.bounds()

    def depth(x):
        value = clearance.at(x)[0]
        return 1e3 if value == -np.inf else -value

    answer = differential_evolution(
        depth, [(left, right), (bottom, top)], rng=seed, maxiter=60, popsize=20, polish=False
    )
    return refined(clearance, answer.x)
