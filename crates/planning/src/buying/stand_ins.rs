//! Which kinds may stand in for which, and which stones in the end serve which want.

use super::market::Market;
use crate::colour_difference::colour_difference;

/// One kind that the maker named as a stand-in for another.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Match {
    /// What is wanted (index).
    pub(super) kind: usize,
    /// What would stand in (index).
    pub(super) stand_in: usize,
    /// Diameter of the stand-in less that of the kind, mm.
    pub(super) size_difference_mm: f64,
    /// Difference of colour by CIEDE2000.
    pub(super) colour_difference: f64,
    /// Whether both lie within tolerance.
    pub(super) within: bool,
}

/// Every pair that the maker named, measured, and what lies on the shelf for this order.
#[derive(Debug)]
pub(super) struct Matches {
    /// Pairs by wanted kind, in the maker's order.
    pub(super) pairs: Vec<Match>,
    on_shelf: Vec<u64>,
    /// By kind that is wanted: those that serve it, itself first.
    servers: Vec<Vec<usize>>,
}

impl Matches {
    /// Measures the pairs of `market`. Only kinds that are needed count.
    pub(super) fn new(market: &Market) -> Matches {
        let mut pairs: Vec<Match> = vec![];
        let mut servers = vec![vec![]; market.kinds.len()];
        for (kind, want) in market.kinds.iter().enumerate().filter(|(_, w)| w.need > 0) {
            servers[kind].push(kind);
            for &stand_in in want.stand_ins.iter().filter(|&&s| s != kind) {
                let other = &market.kinds[stand_in];
                let size_difference_mm = other.diameter_mm - want.diameter_mm;
                let difference = colour_difference(want.colour, other.colour);
                let tolerance = &market.tolerance;
                // A size given as 3.9 and 4.0 is 0.1 apart, whatever its binary digits say.
                let within = size_difference_mm.abs() <= tolerance.size_mm.value + 1e-9
                    && difference <= tolerance.colour_difference.value;
                let pair = Match {
                    kind,
                    stand_in,
                    size_difference_mm,
                    colour_difference: difference,
                    within,
                };
                if pairs.iter().any(|p| p.kind == kind && p.stand_in == stand_in) {
                    continue;
                }
                if within {
                    servers[kind].push(stand_in);
                }
                pairs.push(pair);
            }
        }
        let mut on_shelf = vec![0; market.kinds.len()];
        for stock in &market.stock {
            on_shelf[stock.kind] += stock.stones.saturating_sub(stock.reserved);
        }
        Matches { pairs, on_shelf, servers }
    }

    /// Stones of `kind` on the shelf that nobody else has reserved.
    pub(super) fn on_shelf(&self, kind: usize) -> u64 {
        self.on_shelf[kind]
    }

    /// Whether stones of `kind` may serve the need for `wanted`.
    pub(super) fn may_serve(&self, kind: usize, wanted: usize) -> bool {
        self.servers[wanted].contains(&kind)
    }

    /// Whether stones of `kind` serve any need.
    pub(super) fn serves_any(&self, kind: usize) -> bool {
        self.servers.iter().any(|s| s.contains(&kind))
    }

    /// Needed kinds in groups that share supply, each group and all groups in the kinds' order.
    pub(super) fn groups(&self, market: &Market) -> Vec<Vec<usize>> {
        let has_supply =
            |k: usize| self.on_shelf[k] > 0 || market.offers.iter().any(|o| o.kind == k);
        let supplied: Vec<bool> = (0..market.kinds.len()).map(has_supply).collect();
        let mut group_of: Vec<usize> = (0..market.kinds.len()).collect();
        let shares = |a: usize, b: usize| {
            self.servers[a].iter().any(|s| supplied[*s] && self.servers[b].contains(s))
        };
        let needed: Vec<usize> =
            (0..market.kinds.len()).filter(|&k| market.kinds[k].need > 0).collect();
        let many: Vec<usize> = needed
            .iter()
            .copied()
            .filter(|&k| !market.kinds[k].stand_ins.is_empty() || self.serves_other(k))
            .collect();
        for (i, &a) in many.iter().enumerate() {
            for &b in &many[..i] {
                let (from, to) = (group_of[a].max(group_of[b]), group_of[a].min(group_of[b]));
                if from != to && shares(a, b) {
                    group_of.iter_mut().filter(|g| **g == from).for_each(|g| *g = to);
                }
            }
        }
        needed
            .iter()
            .filter(|&&k| group_of[k] == k)
            .map(|&k| needed.iter().copied().filter(|&m| group_of[m] == k).collect())
            .collect()
    }

    fn serves_other(&self, kind: usize) -> bool {
        self.servers.iter().enumerate().any(|(k, s)| k != kind && s.contains(&kind))
    }
}

/// Stones of each kind of supply that serve each demand: as many as possible, and as few stand-ins
/// as possible among those, the maker's preferred ones first.
///
/// `supply` and `need` are stones by kind; the answer lists (kind of supply, wanted kind, stones).
/// By shortest augmenting paths, which keep the number of stones' ranks least at every step.
pub(super) fn serve(matches: &Matches, supply: &[u64], need: &[u64]) -> Vec<(usize, usize, u64)> {
    let mut edges: Vec<Edge> = vec![];
    for (wanted, servers) in matches.servers.iter().enumerate() {
        for (rank, &kind) in servers.iter().enumerate() {
            if supply[kind] > 0 && need[wanted] > 0 {
                edges.push(Edge { kind, wanted, rank: rank as i64, stones: 0 });
            }
        }
    }
    let mut left = supply.to_vec();
    let mut open = need.to_vec();
    while let Some(path) = shortest(&edges, &left, &open) {
        let (Some(&first), Some(&last)) = (path.first(), path.last()) else { break };
        let (from, to) = (edges[first].kind, edges[last].wanted);
        let back = path.iter().skip(1).step_by(2).map(|&e| edges[e].stones).min();
        let stones = left[from].min(open[to]).min(back.unwrap_or(u64::MAX));
        for (i, &e) in path.iter().enumerate() {
            if i % 2 == 0 {
                edges[e].stones += stones;
            } else {
                edges[e].stones -= stones;
            }
        }
        left[from] -= stones;
        open[to] -= stones;
    }
    edges.iter().filter(|e| e.stones > 0).map(|e| (e.kind, e.wanted, e.stones)).collect()
}

struct Edge {
    kind: usize,
    wanted: usize,
    rank: i64,
    stones: u64,
}

/// The path of least rank from a kind with stones left to a want that is open: edges taken forwards
/// and backwards in turn (Bellman–Ford, since edges backwards count less than nothing).
fn shortest(edges: &[Edge], left: &[u64], open: &[u64]) -> Option<Vec<usize>> {
    const FAR: i64 = i64::MAX / 2;
    let n = left.len();
    let mut at_kind: Vec<i64> = left.iter().map(|&l| if l > 0 { 0 } else { FAR }).collect();
    let mut at_want = vec![FAR; n];
    let (mut into_kind, mut into_want) = (vec![None; n], vec![None; n]);
    for _ in 0..2 * n {
        let mut changed = false;
        for (i, e) in edges.iter().enumerate() {
            if at_kind[e.kind] < FAR && at_kind[e.kind] + e.rank < at_want[e.wanted] {
                at_want[e.wanted] = at_kind[e.kind] + e.rank;
                into_want[e.wanted] = Some(i);
                changed = true;
            }
            if e.stones > 0
                && at_want[e.wanted] < FAR
                && at_want[e.wanted] - e.rank < at_kind[e.kind]
            {
                at_kind[e.kind] = at_want[e.wanted] - e.rank;
                into_kind[e.kind] = Some(i);
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    let to =
        (0..n).filter(|&w| open[w] > 0 && at_want[w] < FAR).min_by_key(|&w| (at_want[w], w))?;
    let mut path = vec![];
    let mut want = to;
    // A path visits no want twice.
    for _ in 0..=n {
        let forwards = into_want[want]?;
        path.push(forwards);
        let Some(backwards) = into_kind[edges[forwards].kind] else {
            path.reverse();
            return Some(path);
        };
        path.push(backwards);
        want = edges[backwards].wanted;
    }
    None
}
