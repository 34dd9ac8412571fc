//! The order to begin with: put there, removed, and put there again.

use crate::{Bundle, Desk, DeskError, Opened};
use app::adopt::{self, Entry, Present};
use app::demo::FILES;
use app::edit::{self, Change, Path, Sheet};
use shop::{Asked, DocumentId, Moved, NewEntry};

/// Under this key stands which entries of the workshop's document came with the demo order.
const CAME_WITH_IT: &str = "demo.entries";
/// So many orders are looked through at once for what they use.
const A_PAGE: u32 = 200;

impl Desk {
    /// The demonstration order, if it is there.
    ///
    /// # Errors
    /// The shop's.
    pub fn demo(&self) -> Result<Option<shop::Document>, DeskError> {
        for put_away in [false, true] {
            let found = self.find_document(put_away, |d| Ok(d.demo.then(|| d.clone())))?;
            if found.is_some() {
                return Ok(found);
            }
        }
        Ok(None)
    }

    /// Puts the demonstration order there, if it is not: with its stones on the shelf, and what the
    /// workshop does not have yet in the workshop's document.
    ///
    /// # Errors
    /// The shop's.
    pub fn show_demo(&self) -> Result<Opened, DeskError> {
        if let Some(there) = self.demo()? {
            return self.open(there.id);
        }
        let bundle = Bundle {
            text: FILES[0].1.to_owned(),
            files: FILES[1..]
                .iter()
                .map(|(n, t)| ((*n).to_owned(), t.as_bytes().to_vec()))
                .collect(),
        };
        let opened = self.keep(&bundle, "the order to begin with", true)?;
        let workshop = self.workshop()?;
        let new = adopt::new_entries(&bundle.text, &workshop.revision.text)?;
        let known = adopt::take_over(&workshop.revision.text, &bundle.text, &new, Present::Keep)?;
        if known != workshop.revision.text {
            self.revise(
                workshop.document.id,
                workshop.revision.id,
                &known,
                "with the demo order",
                None,
            )?;
        }
        let came = serde_json::to_string(&new).map_err(|e| DeskError::Ours(e.to_string()))?;
        self.shop.set_preference(CAME_WITH_IT, Some(&came))?;
        self.shop.write(&demo_stock(&opened))?;
        self.open(opened.document.id)
    }

    /// Removes the demonstration order and what hangs on it: its stones are taken back, and what
    /// came with it into the workshop's document is taken out, as far as it was not changed and
    /// nothing else uses it.
    ///
    /// # Errors
    /// The shop's.
    pub fn remove_demo(&self) -> Result<(), DeskError> {
        let Some(there) = self.demo()? else { return Ok(()) };
        let came = self.shop.preference(CAME_WITH_IT)?.unwrap_or_default();
        let came: Vec<Entry> = serde_json::from_str(&came).unwrap_or_default();
        if !came.is_empty() {
            self.forget_entries(there.id, &came)?;
        }
        self.shop.set_preference(CAME_WITH_IT, None)?;
        self.shop.remove_demo(there.id)?;
        Ok(())
    }

    /// Takes entries out of the workshop's document that are as they came and not in use elsewhere.
    fn forget_entries(&self, demo: DocumentId, came: &[Entry]) -> Result<(), DeskError> {
        let workshop = self.workshop()?;
        let before = workshop.revision.text;
        let changed = adopt::differing(FILES[0].1, &before)?;
        let mut out: Vec<&Entry> = came.iter().filter(|e| !changed.contains(e)).collect();
        for put_away in [false, true] {
            self.find_document(put_away, |d| {
                if d.id != demo && !out.is_empty() {
                    let uses = adopt::entries(&self.shop.head(d.id)?.revision.text)?;
                    out.retain(|e| !uses.contains(e));
                }
                Ok(None::<()>)
            })?;
        }
        let mut text = before.clone();
        // What names others goes before what is named; whatever the maker's own entries name stays.
        out.sort_by_key(|e| matches!(e, Entry::Kind(_)));
        while let Some(at) = out.iter().position(|e| without(&text, e).is_some()) {
            let entry = out.remove(at);
            if let Some(less) = without(&text, entry) {
                text = less;
            }
        }
        if text != before {
            let (id, from) = (workshop.document.id, workshop.revision.id);
            self.revise(id, from, &text, "without what came with the demo order", None)?;
        }
        Ok(())
    }

    /// The first order for which `wanted` gives something, read page by page.
    fn find_document<T>(
        &self,
        put_away: bool,
        mut wanted: impl FnMut(&shop::Document) -> Result<Option<T>, DeskError>,
    ) -> Result<Option<T>, DeskError> {
        let mut after = None;
        loop {
            let page = Asked { put_away, after, limit: A_PAGE, ..Asked::default() };
            let documents = self.shop.documents(&page)?;
            for document in &documents {
                if let Some(found) = wanted(document)? {
                    return Ok(Some(found));
                }
            }
            match documents.last() {
                Some(last) if documents.len() == A_PAGE as usize => after = Some(last.id),
                _ => return Ok(None),
            }
        }
    }
}

/// A text without an entry, if it is one without it.
fn without(text: &str, entry: &Entry) -> Option<String> {
    let sheet = Sheet::of(text)?;
    let named = |list: &str, name: &str| sheet.named(&Path::root().key(list), name);
    let change = match entry {
        Entry::Kind(name) => Change::Remove { path: named("kind", name)? },
        Entry::Mix(name) => Change::Remove { path: named("mix", name)? },
        Entry::Supplier(name) => Change::Remove { path: named("supplier", name)? },
        Entry::Adhesive(name) => Change::Remove { path: named("adhesive", name)? },
        Entry::Workshop => Change::Clear { path: Path::root().key("workshop") },
        Entry::Price => Change::Clear { path: Path::root().key("price") },
    };
    let less = edit::apply(text, &[change]).ok()?;
    edit::check(&less).is_empty().then_some(less)
}

/// The stock that the demo order speaks of, as received with it.
fn demo_stock(opened: &Opened) -> Vec<NewEntry> {
    let line = |(i, stock): (usize, &planning::buying::Stock)| NewEntry {
        nonce: format!("demo-{}-{i}", opened.document.id),
        what: Moved::Received,
        stone: opened.order.kinds[stock.kind].kind.name.clone(),
        lot: stock.lot.clone().unwrap_or_default(),
        stones: i64::try_from(stock.stones).unwrap_or(i64::MAX),
        unit_price: stock.price_per_stone,
        supplier: None,
        order: Some(opened.document.id),
        piece: None,
        who: String::new(),
        why: "came with the demo order".to_owned(),
    };
    opened.order.terms.stock.iter().enumerate().map(line).collect()
}
