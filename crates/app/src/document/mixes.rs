//! Mixes: kinds with shares by count, given as shares, counts, weights or packs.

use super::model::{Kind, Spot};
use super::walk::{Fields, Node, nearest, shortened};
use lay::MixPart;
use std::collections::BTreeMap;
use std::ops::Range;
use units::trimmed;

/// Shares may miss 100 % by this much: three thirds written as 33.3 % do.
const SUM_TOLERANCE: f64 = 0.001;
/// Most parts of a mix once the mixes in it are unfolded.
const MAX_PARTS: usize = 100;
/// How deep mixes may lie in mixes.
const MAX_DEPTH: usize = 16;

/// What a name stands for: the index of a kind or of a mix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Entry {
    Kind(usize),
    Mix(usize),
}

/// Every name that a mix may use.
#[derive(Default)]
pub(super) struct Shelf {
    /// The kinds; `None` for one with faults, so that using it is no second fault.
    pub(super) kinds: Vec<Option<Kind>>,
    /// The named mixes.
    pub(super) mixes: Vec<NamedMix>,
    /// Names of both, and where they were first given.
    pub(super) names: BTreeMap<String, (Entry, Range<usize>)>,
}

/// A mix of its own.
pub(super) struct NamedMix {
    pub(super) name: String,
    pub(super) spot: Spot,
    /// `None` if there are faults in them.
    pub(super) parts: Option<Vec<Part>>,
}

/// One part as written.
#[derive(Clone)]
pub(super) struct Part {
    entry: Entry,
    measure: Measure,
    rows: u32,
    spot: Spot,
}

#[derive(Clone, Copy, PartialEq)]
enum Measure {
    Even,
    Share(f64),
    Count(f64),
    Weight(f64),
    Packs(f64),
}

/// The parts of a mix written as a list; `entry` is what one is called in the way to its place.
pub(super) fn parts(node: &Node<'_, '_>, entry: &str, shelf: &Shelf) -> Option<Vec<Part>> {
    let example =
        "it like [{ kind = \"dew\", share = \"40 %\" }, { kind = \"coral\", share = \"60 %\" }]";
    let nodes = node.list(entry, example)?;
    if nodes.is_empty() || nodes.len() > MAX_PARTS {
        let text = format!("a mix cannot have {} parts", nodes.len());
        return node.wrong(text, format!("it has 1 to {MAX_PARTS}"));
    }
    let read: Vec<Option<Part>> = nodes.iter().map(|n| part(n, shelf)).collect();
    read.into_iter().collect()
}

fn part(node: &Node<'_, '_>, shelf: &Shelf) -> Option<Part> {
    let mut fields =
        node.fields("a part of a mix", "it like { kind = \"dew\", share = \"40 %\" }")?;
    let entry = if fields.has("mix") && !fields.has("kind") {
        fields.get("mix").and_then(|n| named(&n, shelf))
    } else {
        fields.misplaced("mix", "a part is either a kind or a mix", "leave one of the two out");
        fields
            .need("kind", "`kind = \"dew\"`")
            .and_then(|n| kind_of_part(&n, shelf))
            .map(Entry::Kind)
    };
    let share = fields.get("share").map(|n| n.share().map(Measure::Share));
    let count = fields.get("count").map(|n| whole(&n).map(Measure::Count));
    let weight = fields.get("weight").map(|n| n.mass().map(Measure::Weight));
    let packs = fields.get("packs").map(|n| whole(&n).map(Measure::Packs));
    let rows = fields.get("rows").map_or(Some(1), |n| n.whole(1..1001, "it like 2"));
    let given: Vec<Option<Measure>> = [share, count, weight, packs].into_iter().flatten().collect();
    let measure = match given.as_slice() {
        [] => Some(Measure::Even),
        [one] => *one,
        _ => {
            fields.wrong("a part has one measure", "give one of: share, count, weight, packs");
            None
        }
    };
    let spot = fields.spot.clone();
    fields.done();
    Some(Part { entry: entry?, measure: measure?, rows: rows? as u32, spot })
}

fn whole(node: &Node<'_, '_>) -> Option<f64> {
    node.whole(1..10_000_001, "it like 120").map(|n| n as f64)
}

/// The kind or mix that a name stands for.
pub(super) fn named(node: &Node<'_, '_>, shelf: &Shelf) -> Option<Entry> {
    let name = node.text("a name in quotes", "the name of a kind or a mix")?.trim();
    shelf
        .names
        .get(name)
        .map(|e| e.0)
        .or_else(|| unknown(node, name, "kind or mix", shelf, |_| true))
}

/// The kind of a part of a mix, which might as well be a mix.
fn kind_of_part(node: &Node<'_, '_>, shelf: &Shelf) -> Option<usize> {
    let name = node.value.as_str().unwrap_or_default().trim();
    if let Some((Entry::Mix(_), _)) = shelf.names.get(name) {
        let text = format!("`{name}` is a mix, not a kind");
        return node.wrong(text, format!("write `mix = \"{name}\"`"));
    }
    kind_named(node, shelf)
}

/// The kind that a name stands for.
pub(super) fn kind_named(node: &Node<'_, '_>, shelf: &Shelf) -> Option<usize> {
    let name = node.text("a name in quotes", "the name of a kind")?.trim();
    match shelf.names.get(name) {
        Some((Entry::Kind(i), _)) => Some(*i),
        Some((Entry::Mix(_), _)) => {
            node.wrong(format!("`{name}` is a mix, not a kind"), "name a kind: one of its parts")
        }
        None => unknown(node, name, "kind", shelf, |e| matches!(e, Entry::Kind(_))),
    }
}

fn unknown<T>(
    node: &Node<'_, '_>,
    name: &str,
    what: &str,
    shelf: &Shelf,
    fits: fn(&Entry) -> bool,
) -> Option<T> {
    let known: Vec<&str> =
        shelf.names.iter().filter(|(_, e)| fits(&e.0)).map(|(n, _)| n.as_str()).collect();
    let hint = match nearest(name, &known) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => "the document has none yet: add a `[[kind]]`".to_owned(),
        None => {
            let shown = known.iter().take(8).copied().collect::<Vec<_>>().join(", ");
            let more = if known.len() > 8 { " …" } else { "" };
            format!("there are: {shown}{more}")
        }
    };
    node.wrong(format!("there is no {what} called `{}`", shortened(name)), hint)
}

/// Unfolds mixes into kinds with shares by count.
pub(super) struct Unfolding<'s, 'a, 'i> {
    shelf: &'s Shelf,
    /// Reports faults.
    root: &'s Fields<'a, 'i>,
    done: Vec<State>,
}

#[derive(Clone)]
enum State {
    Untouched,
    Open,
    Done(Option<Vec<MixPart>>),
}

impl<'s, 'a, 'i> Unfolding<'s, 'a, 'i> {
    pub(super) fn new(shelf: &'s Shelf, root: &'s Fields<'a, 'i>) -> Self {
        Unfolding { shelf, root, done: vec![State::Untouched; shelf.mixes.len()] }
    }

    /// Unfolds every named mix, so that faults of unused ones are found too.
    pub(super) fn all(&mut self) {
        for i in 0..self.shelf.mixes.len() {
            self.mix(i, &mut vec![]);
        }
    }

    /// The kinds of one kind or mix.
    pub(super) fn entry(&mut self, entry: Entry) -> Option<Vec<MixPart>> {
        match entry {
            Entry::Kind(kind) => Some(vec![MixPart { kind, share: 1.0, rows: 1 }]),
            Entry::Mix(i) => self.mix(i, &mut vec![]),
        }
    }

    /// The kinds of a mix written in place.
    pub(super) fn list(&mut self, parts: &[Part], spot: &Spot) -> Option<Vec<MixPart>> {
        self.parts(parts, spot, &mut vec![])
    }

    fn mix(&mut self, index: usize, open: &mut Vec<usize>) -> Option<Vec<MixPart>> {
        match &self.done[index] {
            State::Done(found) => return found.clone(),
            // The caller sees to mixes that contain themselves.
            State::Open => return None,
            State::Untouched => {}
        }
        self.done[index] = State::Open;
        open.push(index);
        let shelf = self.shelf;
        let mix = &shelf.mixes[index];
        let found = mix.parts.as_ref().and_then(|parts| self.parts(parts, &mix.spot, open));
        open.pop();
        self.done[index] = State::Done(found.clone());
        found
    }

    fn parts(
        &mut self,
        parts: &[Part],
        spot: &Spot,
        open: &mut Vec<usize>,
    ) -> Option<Vec<MixPart>> {
        let shares = self.shares(parts, spot);
        let mut found = vec![];
        let mut complete = true;
        for (i, part) in parts.iter().enumerate() {
            let Some(inner) = self.inner(part, open) else {
                complete = false;
                continue;
            };
            let Some(shares) = &shares else { continue };
            found.extend(inner.iter().map(|p| MixPart { share: p.share * shares[i], ..*p }));
            if found.len() > MAX_PARTS {
                self.wrong(
                    spot,
                    "the mixes in this mix unfold to too many parts".to_owned(),
                    format!("a mix has at most {MAX_PARTS} in all"),
                );
                return None;
            }
        }
        (complete && shares.is_some()).then_some(found)
    }

    fn inner(&mut self, part: &Part, open: &mut Vec<usize>) -> Option<Vec<MixPart>> {
        let index = match part.entry {
            Entry::Kind(kind) => return Some(vec![MixPart { kind, share: 1.0, rows: part.rows }]),
            Entry::Mix(index) => index,
        };
        if let Some(from) = open.iter().position(|&i| i == index) {
            let names =
                open[from..].iter().chain([&index]).map(|&i| self.shelf.mixes[i].name.as_str());
            let way = names.collect::<Vec<_>>().join(" → ");
            self.wrong(
                &part.spot,
                format!("a mix cannot contain itself: {way}"),
                "leave this part out, or name kinds in its place".to_owned(),
            );
            return None;
        }
        if open.len() >= MAX_DEPTH {
            self.wrong(
                &part.spot,
                format!("mixes lie in mixes more than {MAX_DEPTH} deep"),
                "name kinds in place of mixes".to_owned(),
            );
            return None;
        }
        self.mix(index, open)
    }

    /// The share by count of each part; they add up to 1.
    fn shares(&self, parts: &[Part], spot: &Spot) -> Option<Vec<f64>> {
        let is_share = |p: &&Part| matches!(p.measure, Measure::Share(_));
        let is_even = |p: &&Part| p.measure == Measure::Even;
        let (n_shares, n_even) =
            (parts.iter().filter(is_share).count(), parts.iter().filter(is_even).count());
        if n_even == parts.len() {
            return Some(vec![1.0 / parts.len() as f64; parts.len()]);
        }
        if let Some(bare) = parts.iter().find(is_even) {
            self.wrong(
                &bare.spot,
                "this part has no measure, but others of its mix have".to_owned(),
                "give it a share, a count, a weight or packs like them".to_owned(),
            );
            return None;
        }
        let amounts: Option<Vec<f64>> = if n_shares == parts.len() {
            self.by_share(parts, spot)
        } else if n_shares > 0 {
            self.wrong(
                spot,
                "shares and amounts do not go together in one mix".to_owned(),
                "give all parts shares, or all counts, weights or packs".to_owned(),
            );
            None
        } else {
            self.amounts(parts)
        };
        let amounts = amounts?;
        let total: f64 = amounts.iter().sum();
        Some(amounts.iter().map(|a| a / total).collect())
    }

    fn by_share(&self, parts: &[Part], spot: &Spot) -> Option<Vec<f64>> {
        let share = |p: &Part| if let Measure::Share(s) = p.measure { s } else { 0.0 };
        let shares: Vec<f64> = parts.iter().map(share).collect();
        let sum: f64 = shares.iter().sum();
        if (sum - 1.0).abs() <= SUM_TOLERANCE + 1e-12 {
            return Some(shares);
        }
        let off = (sum - 1.0) * 100.0;
        let too = if off > 0.0 { "too much" } else { "missing" };
        let text = format!("the shares add up to {} %, not 100 %", trimmed(sum * 100.0, 2));
        self.wrong(spot, text, format!("{} % {too}", trimmed(off.abs(), 2)));
        None
    }

    /// How many stones each part is, or a number in the same proportion.
    fn amounts(&self, parts: &[Part]) -> Option<Vec<f64>> {
        if let Some(weights) = self.equal_stones_by_weight(parts) {
            return Some(weights);
        }
        let read: Vec<Option<f64>> = parts.iter().map(|p| self.stones(p)).collect();
        read.into_iter().collect()
    }

    /// Weights of stones of one size are in the proportion of their counts: no weight of one stone
    /// is needed.
    fn equal_stones_by_weight(&self, parts: &[Part]) -> Option<Vec<f64>> {
        let one = |p: &Part| match (p.measure, p.entry) {
            (Measure::Weight(grams), Entry::Kind(kind)) => {
                let kind = self.shelf.kinds[kind].as_ref()?;
                kind.weight_g.is_none().then_some((grams, kind.size))
            }
            _ => None,
        };
        let found: Vec<_> = parts.iter().map(one).collect::<Option<_>>()?;
        let (_, size) = found.first()?;
        found.iter().all(|f| f.1 == *size).then(|| found.iter().map(|f| f.0).collect())
    }

    fn stones(&self, part: &Part) -> Option<f64> {
        let kind = match part.entry {
            Entry::Kind(kind) => Some(self.shelf.kinds[kind].as_ref()?),
            Entry::Mix(_) => None,
        };
        let name = kind.map_or("", |k| k.name.as_str());
        match (part.measure, kind) {
            (Measure::Count(n), _) => Some(n),
            (Measure::Weight(grams), Some(k)) => k.weight_g.map(|one| grams / one).or_else(|| {
                self.wrong(&part.spot, format!("nothing says what one stone of `{name}` weighs"),
                    "weigh a heap and add it to the kind, like `weight = { stones = 144, total = \"5.8 g\" }`".to_owned());
                None
            }),
            (Measure::Packs(n), Some(k)) => k.pack.map(|pack| n * f64::from(pack)).or_else(|| {
                self.wrong(&part.spot, format!("nothing says how many stones of `{name}` are in a pack"),
                    "add it to the kind, like `pack = 1440`".to_owned());
                None
            }),
            _ => {
                self.wrong(&part.spot, "a mix within a mix has a share or a count".to_owned(),
                    "give `share` or `count` in place of weight or packs".to_owned());
                None
            }
        }
    }

    fn wrong(&self, spot: &Spot, text: String, hint: String) {
        let fault = super::fault::Fault::new(&spot.place, spot.span.clone(), text);
        self.root.walk.report(fault.with_hint(hint));
    }
}

#[cfg(test)]
mod tests {
    use crate::document::read;

    /// The shares of the one zone of a document with these kinds and this mix.
    fn shares(kinds: &str, mix: &str) -> Result<Vec<f64>, String> {
        let piece = "blank = { shape = 'circle', diameter = '50 mm' }\narrangement = 'scatter'";
        let text = format!(
            "stonelay = 1\norder = 'o'\n{kinds}\n[[piece]]\nname = 'p'\nquantity = 1\n{piece}\nmix = {mix}\n"
        );
        match read("o.toml", text.as_bytes()) {
            Ok(document) => Ok(document.pieces[0].zones[0].mix.iter().map(|p| p.share).collect()),
            Err(refused) => Err(refused.faults[0].text.clone()),
        }
    }

    const TWO: &str = "[[kind]]\nname = 'a'\nsize = 'SS16'\npack = 1440\nweight = '0.05 g'\n\
                       [[kind]]\nname = 'b'\nsize = 'SS20'\npack = 720\nweight = { stones = 100, total = '10 g' }\n";

    #[test]
    fn counts_packs_and_weights_become_shares_by_count() {
        // 1440 and 2 × 720 are as many; 5 g at 0.05 g are 100 stones, 30 g at 0.1 g are 300.
        assert_eq!(
            shares(TWO, "[{ kind = 'a', packs = 1 }, { kind = 'b', packs = 2 }]").unwrap(),
            [0.5, 0.5]
        );
        let by_weight = "[{ kind = 'a', weight = '5 g' }, { kind = 'b', weight = '30 g' }]";
        let found = shares(TWO, by_weight).unwrap();
        assert!((found[0] - 0.25).abs() < 1e-12 && (found[1] - 0.75).abs() < 1e-12);
        assert_eq!(
            shares(TWO, "[{ kind = 'a', count = 30 }, { kind = 'b', count = 10 }]").unwrap(),
            [0.75, 0.25]
        );
        assert_eq!(shares(TWO, "[{ kind = 'a' }, { kind = 'b' }]").unwrap(), [0.5, 0.5]);
    }

    #[test]
    fn stones_of_one_size_need_no_weight_of_one() {
        let same = "[[kind]]\nname = 'a'\nsize = 'SS16'\n[[kind]]\nname = 'b'\nsize = 'SS16'\n";
        let mix = "[{ kind = 'a', weight = '10 g' }, { kind = 'b', weight = '30 g' }]";
        assert_eq!(shares(same, mix).unwrap(), [0.25, 0.75]);
        let other = same.replacen("SS16", "SS20", 1);
        assert_eq!(shares(&other, mix).unwrap_err(), "nothing says what one stone of `a` weighs");
    }

    #[test]
    fn mixes_unfold_and_equal_kinds_are_joined() {
        let kinds = format!(
            "{TWO}[[mix]]\nname = 'm'\nparts = [{{ kind = 'a', share = '40 %' }}, {{ kind = 'b', share = '60 %' }}]\n"
        );
        let found =
            shares(&kinds, "[{ mix = 'm', share = '50 %' }, { kind = 'a', share = '50 %' }]")
                .unwrap();
        assert!((found[0] - 0.7).abs() < 1e-12 && (found[1] - 0.3).abs() < 1e-12);
    }

    #[test]
    fn shares_add_up_to_the_whole_after_rounding() {
        let found =
            shares(TWO, "[{ kind = 'a', share = '33.3 %' }, { kind = 'b', share = '66.6 %' }]")
                .unwrap();
        assert!((found.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        let text = shares(TWO, "[{ kind = 'a', share = '40 %' }, { kind = 'b', share = '70 %' }]")
            .unwrap_err();
        assert_eq!(text, "the shares add up to 110 %, not 100 %");
    }

    #[test]
    fn mixes_that_grow_without_end_are_refused() {
        let mut kinds = TWO.to_owned();
        for i in 0..40 {
            let next =
                if i == 39 { "kind = 'a'".to_owned() } else { format!("mix = 'm{}'", i + 1) };
            kinds += &format!("[[mix]]\nname = 'm{i}'\nparts = [{{ {next} }}, {{ {next} }}]\n");
        }
        assert!(shares(&kinds, "'m0'").is_err());
    }
}
