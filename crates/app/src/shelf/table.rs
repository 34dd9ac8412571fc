//! A spreadsheet's text as columns and records: encoding, separators, header.

use super::MAX_LETTERS;
use crate::document::{Fault, Refused, nearest, shortened};
use std::ops::Range;

/// A column with a meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Column {
    Kind,
    Stones,
    Lot,
    Reserved,
    Price,
    /// What the maker notes for himself; not read.
    Note,
}

/// Names of the columns, each with its first name first.
const COLUMNS: &[(&str, Column)] = &[
    ("kind", Column::Kind),
    ("stones", Column::Stones),
    ("lot", Column::Lot),
    ("reserved", Column::Reserved),
    ("price", Column::Price),
    ("note", Column::Note),
    ("notes", Column::Note),
];

/// Words that stand for a column elsewhere: suggested, never taken.
const OTHER_WORDS: &[(&str, &str)] = &[
    ("count", "stones"),
    ("quantity", "stones"),
    ("qty", "stones"),
    ("amount", "stones"),
    ("pieces", "stones"),
    ("name", "kind"),
    ("stone", "kind"),
    ("colour", "kind"),
    ("color", "kind"),
    ("batch", "lot"),
    ("cost", "price"),
    ("price per stone", "price"),
];

impl Column {
    pub(super) fn name(self) -> &'static str {
        COLUMNS.iter().find(|c| c.1 == self).map_or("", |c| c.0)
    }

    fn read(text: &str) -> Option<Column> {
        let tidy = text.to_lowercase();
        COLUMNS.iter().find(|c| c.0 == tidy).map(|c| c.1)
    }
}

/// One line of the table that is not blank; in quotes it may run over several.
#[derive(Debug)]
pub(super) struct Record {
    /// Its cells, trimmed.
    pub(super) cells: Vec<String>,
    /// Its bytes in the text.
    pub(super) span: Range<usize>,
}

/// A table whose header was understood.
#[derive(Debug)]
pub(super) struct Table {
    /// What each column means; a column without a name means nothing.
    pub(super) columns: Vec<Option<Column>>,
    /// All but the header.
    pub(super) records: Vec<Record>,
}

/// The text of a table.
pub(super) fn text<'b>(name: &str, bytes: &'b [u8]) -> Result<&'b str, Refused> {
    const HOW: &str =
        "save it again as `CSV UTF-8`, or choose the character set Unicode (UTF-8) when saving";
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        let fault = Fault::new("", 0..0, "the table is not UTF-8 but UTF-16").with_hint(HOW);
        return Err(Refused::new(name, &String::from_utf8_lossy(bytes), vec![fault]));
    }
    let plain = bytes.strip_prefix(&[0xef, 0xbb, 0xbf]).unwrap_or(bytes);
    std::str::from_utf8(plain).map_err(|e| {
        // What stands before is the same in the shown text.
        let at = e.valid_up_to();
        let text = "the table is not UTF-8 (Windows-1252, most likely): a letter cannot be read";
        let fault = Fault::new("", at..at, text).with_hint(HOW);
        Refused::new(name, &String::from_utf8_lossy(plain), vec![fault])
    })
}

impl Table {
    /// The table in `text`.
    pub(super) fn new(text: &str) -> Result<Table, Vec<Fault>> {
        let (separator, from) = separator(text);
        let mut records = records(text, from, separator)?.into_iter();
        let Some(header) = records.next() else {
            let fault = Fault::new("", 0..0, "the table is empty");
            return Err(vec![fault.with_hint("its first line names the columns: kind, stones")]);
        };
        let columns = columns(&header)?;
        Ok(Table { columns, records: records.collect() })
    }
}

/// What separates cells, and where the table begins: as a first line `sep=;` says, or else what
/// splits the header into most known names.
fn separator(text: &str) -> (u8, usize) {
    let first = text.lines().next().unwrap_or("");
    if let Some(said) = first.strip_prefix("sep=")
        && let [separator] = said.trim_end_matches('\r').as_bytes()
    {
        return (*separator, first.len());
    }
    let header = text.lines().find(|l| l.contains(char::is_alphanumeric)).unwrap_or("");
    let known = |separator: u8| {
        let cells = header.split(char::from(separator));
        let names = cells.map(|c| c.trim().trim_matches('"').trim());
        // A mistyped header still has as many cells.
        let cells = header.matches(char::from(separator)).count();
        (names.filter(|n| Column::read(n).is_some()).count(), cells)
    };
    // Of equals the last wins: a comma.
    let best = [b'\t', b';', b','].into_iter().max_by_key(|&s| known(s));
    (best.unwrap_or(b','), 0)
}

/// Every record that is not blank.
fn records(text: &str, from: usize, separator: u8) -> Result<Vec<Record>, Vec<Fault>> {
    let body = &text[from..];
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .from_reader(body.as_bytes());
    let mut records = vec![];
    let mut faults = vec![];
    let mut record = csv::StringRecord::new();
    loop {
        let start = reader.position().byte() as usize;
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(e) => {
                let at = from + start;
                faults.push(Fault::new("", at..at, format!("cannot be read as a table: {e}")));
                break;
            }
        }
        let end = reader.position().byte() as usize;
        // Blank lines before a record belong to none.
        let raw = &body[start.min(body.len())..end.min(body.len())];
        let blank = raw.len() - raw.trim_start_matches(['\r', '\n']).len();
        let start = from + start + blank;
        let span = start..start + raw[blank..].trim_end_matches(['\r', '\n']).len();
        let cells: Vec<String> = record.iter().map(|c| c.trim().to_owned()).collect();
        if cells.iter().any(|c| c.contains(['\n', '\r'])) {
            let line = text[span.clone()].find(['\n', '\r']).unwrap_or(0);
            faults.push(
                Fault::new("", span.start..span.start + line, "a cell goes on in the next line")
                    .with_hint("close the quote that is open, or take the line end out"),
            );
        } else if cells.iter().any(|c| !c.is_empty()) {
            records.push(Record { cells, span });
        }
    }
    if faults.is_empty() { Ok(records) } else { Err(faults) }
}

/// What each column of the header means.
fn columns(header: &Record) -> Result<Vec<Option<Column>>, Vec<Fault>> {
    let mut columns: Vec<Option<Column>> = vec![];
    let mut faults = vec![];
    let fault = |text: String| Fault::new("header", header.span.clone(), text);
    for name in &header.cells {
        let column = Column::read(name);
        if column.is_some_and(|c| c != Column::Note) && columns.contains(&column) {
            let hint = "keep one of them, or call the other `note`";
            faults.push(fault(format!("the column `{name}` is there twice")).with_hint(hint));
        }
        if column.is_none() && !name.is_empty() {
            let near = suggestion(name);
            let hint = match near {
                Some(near) => format!("did you mean `{near}`?"),
                None => "columns are kind, stones, lot, reserved, price; call yours `note`".into(),
            };
            faults.push(fault(format!("unknown column: `{}`", shortened(name))).with_hint(hint));
        }
        columns.push(column);
    }
    for needed in [Column::Kind, Column::Stones] {
        if !columns.contains(&Some(needed)) {
            let text = format!("the column `{}` is missing", needed.name());
            let hint = "the first line names the columns: kind, stones, lot, reserved, price";
            faults.push(fault(text).with_hint(hint));
        }
    }
    if faults.is_empty() { Ok(columns) } else { Err(faults) }
}

/// The column that a mistyped or foreign name may mean.
fn suggestion(name: &str) -> Option<&'static str> {
    if name.chars().count() > MAX_LETTERS {
        return None;
    }
    let tidy = name.to_lowercase();
    let other = OTHER_WORDS.iter().find(|w| w.0 == tidy).map(|w| w.1);
    let names: Vec<&'static str> = COLUMNS.iter().map(|c| c.0).collect();
    other.or_else(|| nearest(name, &names))
}
