//! A zone's stones by how they are worked: round holes, in rows, in patches.

use super::plan::Work;
use lay::{Arrangement, Zone};
use std::f64::consts::{FRAC_PI_2, TAU};

/// Stones that belong together, before they are cut.
pub(super) enum Group {
    /// Rows, in their order: (number, stones).
    Rows(Vec<(u32, Vec<usize>)>),
    /// Stones along one way, as round a hole.
    Way(Vec<usize>),
    /// Stones without rows.
    Patch(Vec<usize>),
}

impl Work<'_> {
    /// A zone's stones by how they are worked: round holes, then rows or a scatter, then fillers.
    pub(super) fn groups(&self, zone: usize, stones: &[usize]) -> Vec<Group> {
        let fillers = self.input.lay.zones[zone].n_fillers;
        let (own, fillers) = stones.split_at(stones.len().saturating_sub(fillers));
        let zone = &self.input.piece.zones[zone];
        let mut groups = match zone.arrangement {
            Arrangement::Scatter(options) => {
                let ring = if options.ring_holes { self.round_holes(zone, own) } else { vec![] };
                let mut ringed = ring.clone();
                ringed.sort_unstable();
                let rest = own.iter().copied().filter(|i| ringed.binary_search(i).is_err());
                vec![Group::Way(ring), Group::Patch(rest.collect())]
            }
            _ => {
                let rows = own.chunk_by(|&a, &b| self.stone(a).row == self.stone(b).row);
                vec![Group::Rows(rows.map(|r| (self.stone(r[0]).row, r.to_vec())).collect())]
            }
        };
        groups.push(Group::Patch(fillers.to_vec()));
        groups.retain(|g| match g {
            Group::Rows(rows) => !rows.is_empty(),
            Group::Way(stones) | Group::Patch(stones) => !stones.is_empty(),
        });
        groups
    }

    /// The stones of a scatter that ring the blank's own holes, hole by hole, each clockwise.
    fn round_holes(&self, zone: &Zone, stones: &[usize]) -> Vec<usize> {
        let mut ring: Vec<usize> = vec![];
        let largest = stones.iter().map(|&i| self.drawn_mm(i)).fold(0.0, f64::max);
        let own =
            |h: &&geometry::Ring| h.is_hole() && h.segments.iter().all(|s| s.tag == lay::EDGE_OWN);
        for hole in zone.region.rings().iter().filter(own) {
            let near = hole.bounds().grown(zone.margin_mm + zone.spacing_mm + largest);
            let beside = |&i: &usize| {
                let p = self.at(i);
                if near.distance(p) > 0.0 || ring.contains(&i) {
                    return false;
                }
                let kept = zone.margin_mm + zone.spacing_mm + 0.3 * self.drawn_mm(i);
                hole.distance(p) - self.drawn_mm(i) / 2.0 <= kept
            };
            let mut found: Vec<usize> = stones.iter().copied().filter(beside).collect();
            let centre = hole.bounds().centre();
            // From the top on.
            let turn = |i: usize| (FRAC_PI_2 - (self.at(i) - centre).angle()).rem_euclid(TAU);
            found.sort_by(|&a, &b| turn(a).total_cmp(&turn(b)).then(a.cmp(&b)));
            ring.extend(found);
        }
        ring
    }
}
