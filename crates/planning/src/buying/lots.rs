//! Which lot goes to which copy: one lot of a colour to a copy, as far as lots reach.

use super::purchase::{CopyLots, LotPart};

/// Stones of one shade: a lot on the shelf, a line, or both where they name the same lot.
#[derive(Clone, Debug)]
pub(super) struct Lot {
    /// The kind (index).
    pub(super) kind: usize,
    /// The kind's name.
    pub(super) kind_name: String,
    /// Where the stones are, for the maker.
    pub(super) source: String,
    /// The lot's name.
    pub(super) name: Option<String>,
    /// Stones by where they are, the shelf first.
    pub(super) parts: Vec<(Place, u64)>,
}

/// Where stones are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// On the shelf (index into the stock).
    Shelf(usize),
    /// In a line of the purchase (index).
    Line(usize),
}

impl Lot {
    /// Stones left in the lot.
    pub(super) fn left(&self) -> u64 {
        self.parts.iter().map(|p| p.1).sum()
    }

    /// Takes `stones`, the shelf first.
    fn take(&mut self, mut stones: u64, taken: &mut Vec<(Place, u64)>) {
        for (place, left) in &mut self.parts {
            let some = stones.min(*left);
            if some > 0 {
                *left -= some;
                stones -= some;
                taken.push((*place, some));
            }
        }
    }
}

/// Copies that want the same number of stones.
#[derive(Clone, Copy, Debug)]
pub(super) struct Copies {
    pub(super) stones: u64,
    pub(super) copies: u32,
}

/// What became of the need for one kind.
#[derive(Clone, Debug, Default)]
pub(super) struct Given {
    /// By use: copies by the lots they are set with.
    pub(super) uses: Vec<Vec<CopyLots>>,
    /// Where stones were taken, spare included.
    pub(super) taken: Vec<(Place, u64)>,
}

/// Gives `need` stones for `uses` from `lots`, of kind k at most `quota[k]`.
pub(super) fn give(lots: &mut [Lot], quota: &mut [u64], uses: &[Copies], need: u64) -> Given {
    let mut given = Given::default();
    let mut open = need;
    let bins: Vec<u64> = lots.iter().map(|l| l.left().min(quota[l.kind])).collect();
    let whole = whole(&bins, quota, lots, uses);
    let mut rest: Vec<u32> = uses.iter().map(|u| u.copies).collect();
    given.uses = vec![vec![]; uses.len()];
    for (l, row) in whole.iter().enumerate() {
        for (u, &n) in row.iter().enumerate().filter(|(_, n)| **n > 0) {
            let stones = u64::from(n) * uses[u].stones;
            quota[lots[l].kind] -= stones;
            open = open.saturating_sub(stones);
            lots[l].take(stones, &mut given.taken);
            rest[u] -= n;
            given.uses[u].push(CopyLots { copies: n, parts: vec![part(&lots[l], uses[u].stones)] });
        }
    }
    for (u, &n) in rest.iter().enumerate() {
        for _ in 0..n {
            let wanted = uses[u].stones.min(open);
            let parts = mixed(lots, quota, wanted, &mut given.taken);
            open -= parts.iter().map(|p| p.stones).sum::<u64>();
            match given.uses[u].last_mut().filter(|c| c.parts == parts) {
                Some(same) => same.copies += 1,
                None => given.uses[u].push(CopyLots { copies: 1, parts }),
            }
        }
    }
    // Spare comes from whatever is left, the shelf first.
    for lot in lots.iter_mut() {
        let some = open.min(quota[lot.kind]).min(lot.left());
        quota[lot.kind] -= some;
        open -= some;
        lot.take(some, &mut given.taken);
    }
    given
}

fn part(lot: &Lot, stones: u64) -> LotPart {
    LotPart { source: lot.source.clone(), kind: lot.kind_name.clone(), stones }
}

/// Stones for one copy from as few lots as possible: the fullest first.
fn mixed(
    lots: &mut [Lot],
    quota: &mut [u64],
    stones: u64,
    taken: &mut Vec<(Place, u64)>,
) -> Vec<LotPart> {
    let mut open = stones;
    let mut parts = vec![];
    while open > 0 {
        let room = |l: &Lot| l.left().min(quota[l.kind]);
        let fullest = (0..lots.len()).max_by_key(|&l| (room(&lots[l]), std::cmp::Reverse(l)));
        let Some(l) = fullest.filter(|&l| room(&lots[l]) > 0) else { break };
        let some = open.min(room(&lots[l]));
        quota[lots[l].kind] -= some;
        lots[l].take(some, taken);
        parts.push(part(&lots[l], some));
        open -= some;
    }
    parts
}

/// How many copies of every use each lot covers whole, so that these are as many as possible.
///
/// Exact for one size of copy; for several, small copies are given first, and if a count by stones
/// alone leaves hope for more, every distribution is tried within a number of steps.
fn whole(bins: &[u64], quota: &[u64], lots: &[Lot], uses: &[Copies]) -> Vec<Vec<u32>> {
    let mut order: Vec<usize> = (0..bins.len()).collect();
    order.sort_by_key(|&l| (bins[l], l));
    let mut sizes: Vec<usize> = (0..uses.len()).filter(|&u| uses[u].stones > 0).collect();
    sizes.sort_by_key(|&u| (uses[u].stones, u));
    let mut packing = Packing {
        bins: order.iter().map(|&l| (bins[l], lots[l].kind)).collect(),
        uses: sizes.iter().map(|&u| uses[u]).collect(),
        rows: vec![vec![0; sizes.len()]; bins.len()],
        best: (0, vec![]),
        steps: 20_000,
    };
    let copies: Vec<u32> = packing.uses.iter().map(|u| u.copies).collect();
    packing.best = (0, packing.rows.clone());
    packing.fill(0, &mut copies.clone(), &mut quota.to_vec(), 0);
    let mut whole = vec![vec![0; uses.len()]; bins.len()];
    for (&l, row) in order.iter().zip(&packing.best.1) {
        for (&u, &n) in sizes.iter().zip(row) {
            whole[l][u] = n;
        }
    }
    whole
}

/// A search for the most whole copies.
struct Packing {
    /// Stones and kind of every lot, small lots first.
    bins: Vec<(u64, usize)>,
    /// Small copies first.
    uses: Vec<Copies>,
    rows: Vec<Vec<u32>>,
    best: (u64, Vec<Vec<u32>>),
    steps: u32,
}

impl Packing {
    /// Fills the lots from the `at`-th on.
    fn fill(&mut self, at: usize, copies: &mut [u32], quota: &mut [u64], placed: u64) {
        if placed > self.best.0 {
            self.best = (placed, self.rows.clone());
        }
        if at == self.bins.len() || placed + self.hope(at, copies) <= self.best.0 {
            return;
        }
        let (bin, kind) = self.bins[at];
        self.choose(at, 0, bin.min(quota[kind]), copies, quota, placed);
    }

    /// Chooses how many copies of the uses from `u` on go into lot `at`, most first.
    fn choose(
        &mut self,
        at: usize,
        u: usize,
        room: u64,
        copies: &mut [u32],
        quota: &mut [u64],
        placed: u64,
    ) {
        if u == self.uses.len() {
            self.fill(at + 1, copies, quota, placed);
            return;
        }
        let (stones, kind) = (self.uses[u].stones, self.bins[at].1);
        let most = copies[u].min(u32::try_from(room / stones).unwrap_or(u32::MAX));
        for n in (0..=most).rev() {
            let used = u64::from(n) * stones;
            self.rows[at][u] = n;
            copies[u] -= n;
            quota[kind] -= used;
            self.choose(at, u + 1, room - used, copies, quota, placed + u64::from(n));
            copies[u] += n;
            quota[kind] += used;
            self.rows[at][u] = 0;
            self.steps = self.steps.saturating_sub(1);
            if self.steps == 0 {
                return;
            }
        }
    }

    /// More copies than this do not fit into the lots from `at` on, by stones alone.
    fn hope(&self, at: usize, copies: &[u32]) -> u64 {
        let mut room: u64 = self.bins[at..].iter().map(|b| b.0).sum();
        let mut hope = 0;
        for (u, &n) in self.uses.iter().zip(copies) {
            let fit = u64::from(n).min(room / u.stones);
            room -= fit * u.stones;
            hope += fit;
        }
        hope
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lots(stones: &[u64]) -> Vec<Lot> {
        let lot = |(i, &n): (usize, &u64)| Lot {
            kind: 0,
            kind_name: "sea glass".into(),
            source: format!("lot {i}"),
            name: None,
            parts: vec![(Place::Shelf(i), n)],
        };
        stones.iter().enumerate().map(lot).collect()
    }

    fn n_mixed(given: &Given) -> u32 {
        given.uses.iter().flatten().filter(|c| c.parts.len() > 1).map(|c| c.copies).sum()
    }

    #[test]
    fn copies_take_one_lot_each_where_lots_reach() {
        // 250 and 130 stones, copies of 100: two and one whole, the fourth would mix.
        let uses = [Copies { stones: 100, copies: 3 }];
        let given = give(&mut lots(&[250, 130]), &mut [380], &uses, 320);
        assert_eq!(n_mixed(&given), 0);
        let uses = [Copies { stones: 90, copies: 4 }];
        let given = give(&mut lots(&[200, 160]), &mut [360], &uses, 360);
        assert_eq!(n_mixed(&given), 1);
        assert_eq!(given.taken.iter().map(|t| t.1).sum::<u64>(), 360);
    }

    #[test]
    fn two_sizes_of_copies_find_the_lots_that_suit_them() {
        // 60 + 40 and 70 + 30: small copies first would spoil it.
        let uses = [30, 40, 60, 70].map(|stones| Copies { stones, copies: 1 });
        let given = give(&mut lots(&[100, 100]), &mut [200], &uses, 200);
        assert_eq!(n_mixed(&given), 0);
    }

    #[test]
    fn what_is_short_is_left_out_and_not_mixed() {
        let uses = [Copies { stones: 50, copies: 3 }];
        let given = give(&mut lots(&[120]), &mut [120], &uses, 150);
        assert_eq!(n_mixed(&given), 0);
        assert_eq!(given.taken, [(Place::Shelf(0), 100), (Place::Shelf(0), 20)]);
    }
}
