//! Stones to pick from: those of the order, and those on the shelf.

use crate::{Desk, DeskError, Opened};
use app::edit::{Change, Path, Sheet};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A kind or mix that a piece can be covered with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StoneToPick {
    /// Its name.
    pub name: String,
    /// Its size as it was written; of a mix, that it is one.
    pub size: String,
    /// Its colour, `#rrggbb`; none of a mix.
    pub colour: Option<String>,
}

/// A stone that is new to the workshop.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NewStone {
    /// Its name.
    pub name: String,
    /// Its size: `SS16`, `4 mm`.
    pub size: String,
    /// Its colour, `#rrggbb`.
    #[serde(default)]
    pub colour: Option<String>,
}

impl Desk {
    /// What a new piece of an order can be covered with: the order's own kinds and mixes, then what
    /// only the workshop has.
    ///
    /// # Errors
    /// The shop's.
    pub fn stones_to_pick(&self, opened: &Opened) -> Result<Vec<StoneToPick>, DeskError> {
        let workshop = self.workshop()?;
        let mut all: Vec<StoneToPick> = vec![];
        for document in [opened, &workshop] {
            let kinds = document.order.kinds.iter().map(|k| StoneToPick {
                name: k.kind.name.clone(),
                size: k.kind.size.clone(),
                colour: Some(k.kind.colour.hex()),
            });
            let sheet = Sheet::of(&document.revision.text);
            let mixes = sheet.map(|s| s.names(&Path::root().key("mix"))).unwrap_or_default();
            let mixes = mixes.into_iter().map(|name| StoneToPick {
                name,
                size: "mix".to_owned(),
                colour: None,
            });
            for stone in kinds.chain(mixes) {
                if !all.iter().any(|s| s.name == stone.name) {
                    all.push(stone);
                }
            }
        }
        Ok(all)
    }

    /// Puts a stone that is new to the workshop into its document.
    ///
    /// # Errors
    /// A name that is taken, a size that cannot be read; the shop's.
    pub fn new_stone(&self, new: &NewStone) -> Result<Opened, DeskError> {
        let workshop = self.workshop()?;
        let mut toml = format!("name = {}\nsize = {}", quoted(&new.name), quoted(new.size.trim()));
        if let Some(colour) = new.colour.as_deref().filter(|c| !c.is_empty()) {
            toml.push_str(&format!("\ncolour = {}", quoted(colour)));
        }
        let add = Change::Add { path: Path::root().key("kind"), toml };
        let what = format!("stone `{}` added", new.name);
        self.change(workshop.document.id, workshop.revision.id, &[add], &what, None)
    }
}

/// A text as a TOML string.
pub fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
