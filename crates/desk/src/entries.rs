//! New entries of a document's lists: what stands in one before its maker has typed anything.

use crate::stones::quoted;
use app::edit::{Path, Sheet, Step};
use app::fields::{self, Sort, Table};

/// The keys of a new entry of the list `path`, as TOML; `None` if there is no such list.
///
/// An entry has what it must have: usual values where there are some, examples elsewhere, a name
/// that no other entry has, and the document's first kind where a kind is wanted.
pub fn new_entry(sheet: &Sheet<'_>, path: &Path) -> Option<String> {
    let table = fields::table_at(&path.number(1))?;
    match table {
        Table::Zone => return Some(new_zone(sheet, path)),
        Table::Hole => {
            return Some(
                "shape = \"circle\"\ndiameter = \"4 mm\"\nat = [\"10 mm\", \"10 mm\"]".to_owned(),
            );
        }
        Table::Supplier => {
            let name = free_name(sheet, path, "supplier");
            return Some(format!("name = {}\noffers = []", quoted(&name)));
        }
        _ => {}
    }
    let mut lines = vec![];
    for field in table.fields().iter().filter(|f| f.needed) {
        let first = |list: &str| sheet.names(&Path::root().key(list)).first().map(|n| quoted(n));
        let value = match field.sort {
            Sort::Name => quoted(&free_name(sheet, path, word(table))),
            Sort::Kind => first("kind").unwrap_or_else(|| field.example.to_owned()),
            Sort::Mix => {
                first("mix").or_else(|| first("kind")).unwrap_or_else(|| field.example.to_owned())
            }
            Sort::Piece => first("piece").unwrap_or_else(|| field.example.to_owned()),
            Sort::Adhesive => first("adhesive").unwrap_or_else(|| field.example.to_owned()),
            _ => field.example.to_owned(),
        };
        lines.push(format!("{} = {value}", field.key));
    }
    Some(lines.join("\n"))
}

/// A key's value as a table of its own, to begin with; `None` if it is never one.
pub fn detail(path: &Path) -> Option<String> {
    let field = fields::at(path)?;
    let table = field.table?;
    let needed: Vec<_> = table.fields().iter().filter(|f| f.needed).collect();
    let shown = if needed.is_empty() { table.fields().iter().take(1).collect() } else { needed };
    let keys: Vec<String> = shown.iter().map(|f| format!("{} = {}", f.key, f.example)).collect();
    Some(format!("{{ {} }}", keys.join(", ")))
}

/// A zone that takes a band along the edge, with the stones of the zone before it.
fn new_zone(sheet: &Sheet<'_>, path: &Path) -> String {
    let first = path.number(1);
    let mix = sheet.value(&first.key("mix")).filter(|_| sheet.count(&first.key("mix")) == 0);
    let kind = || sheet.names(&Path::root().key("kind")).into_iter().next();
    let stones = mix.or_else(kind).unwrap_or_default();
    let name = free_name(sheet, path, "zone");
    format!(
        "name = {}\nwhere = \"rest\"\narrangement = \"honeycomb\"\nmix = {}",
        quoted(&name),
        quoted(&stones)
    )
}

/// What an entry of a table is called while it has no name of its own.
fn word(table: Table) -> &'static str {
    match table {
        Table::Kind => "stone",
        Table::Mix => "mix",
        Table::Adhesive => "adhesive",
        Table::Kit => "kit",
        Table::Bag => "bag",
        Table::Fee => "fee",
        Table::Piece => "piece",
        _ => "entry",
    }
}

fn free_name(sheet: &Sheet<'_>, list: &Path, word: &str) -> String {
    let taken: Vec<String> = ["kind", "mix"]
        .iter()
        .map(|l| Path::root().key(l))
        .chain([list.clone()])
        .flat_map(|l| sheet.names(&l))
        .collect();
    let mut all = (1..).map(|i| if i == 1 { word.to_owned() } else { format!("{word} {i}") });
    all.find(|n| !taken.contains(n)).unwrap_or_else(|| word.to_owned())
}

/// What a path leads to, as a form calls it.
pub fn label(path: &Path) -> String {
    if let Some(field) = fields::at(path) {
        return field.label.to_lowercase();
    }
    let mut words = vec![];
    for step in &path.steps {
        match step {
            Step::Key(key) => words.push(key.replace('_', " ")),
            Step::Number(n) => words.push(n.to_string()),
        }
    }
    words.join(" ")
}
