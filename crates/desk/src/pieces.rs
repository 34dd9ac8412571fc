//! A new piece: a shape, a size, stones and an arrangement, and it can be laid.

use crate::{Desk, DeskError, Opened};
use app::adopt::{self, Entry, Present};
use app::begin::{self, NewBlank, NewPiece, Stones};
use app::edit::{Change, Path, Sheet, apply};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, RevisionId};
use units::Length;

/// A piece as it is asked for.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PieceAsked {
    /// Its name.
    pub name: String,
    /// How many are made; 1 if left out.
    #[serde(default)]
    pub quantity: Option<u32>,
    /// The shape of the blank, as the document calls it; left out if there is a file.
    #[serde(default)]
    pub shape: Option<String>,
    /// The outline file, as it is kept; left out if there is a shape.
    #[serde(default)]
    pub file: Option<String>,
    /// Its width: `60`, `60 mm`, `2 3/8 in`. Left out, a file is taken as drawn.
    #[serde(default)]
    pub width: Option<String>,
    /// Its height, where the shape has one of its own.
    #[serde(default)]
    pub height: Option<String>,
    /// The arrangement, as the document calls it.
    pub arrangement: String,
    /// Kinds or mixes, of the order or the workshop.
    pub stones: Vec<String>,
}

impl Desk {
    /// Adds a piece to an order that stands at `from`. Kinds and mixes that the order does not have
    /// are taken over from the workshop, and so is what is glued with.
    ///
    /// # Errors
    /// A size or name that cannot be read or used; the document was changed meanwhile; the shop's.
    pub fn add_piece(
        &self,
        id: DocumentId,
        from: RevisionId,
        asked: &PieceAsked,
    ) -> Result<Opened, DeskError> {
        let before = self.shop.revision(from)?.text;
        let workshop = self.workshop()?.revision.text;
        let mut text = before.clone();
        let wanted = {
            let (own, shelf) = (sheet(&before)?, sheet(&workshop)?);
            wanted(&own, &shelf, &asked.stones)?
        };
        if !wanted.is_empty() {
            text = adopt::take_over(&text, &workshop, &wanted, Present::Keep)?;
        }
        let new = NewPiece {
            name: free_name(&sheet(&text)?, asked.name.trim()),
            quantity: asked.quantity.unwrap_or(1),
            blank: blank(asked)?,
            arrangement: asked.arrangement.clone(),
            stones: stones(&sheet(&text)?, &asked.stones),
        };
        let add = Change::Add { path: Path::root().key("piece"), toml: begin::piece(&new)? };
        text = apply(&text, &[add])?;
        self.revise(id, from, &text, &format!("piece `{}` added", new.name), None)
    }
}

fn sheet(text: &str) -> Result<Sheet<'_>, DeskError> {
    Sheet::of(text).ok_or_else(|| DeskError::Ours("a kept text is no TOML".to_owned()))
}

/// What has to come from the workshop: stones that the order does not have, adhesives and suppliers
/// for its first piece.
fn wanted(own: &Sheet<'_>, shelf: &Sheet<'_>, stones: &[String]) -> Result<Vec<Entry>, DeskError> {
    let names = |sheet: &Sheet<'_>, list: &str| sheet.names(&Path::root().key(list));
    let mut wanted = vec![];
    for stone in stones {
        if names(own, "kind").contains(stone) || names(own, "mix").contains(stone) {
            continue;
        }
        if names(shelf, "kind").contains(stone) {
            wanted.push(Entry::Kind(stone.clone()));
        } else if names(shelf, "mix").contains(stone) {
            wanted.push(Entry::Mix(stone.clone()));
        } else {
            return Err(DeskError::unfit(
                format!("there are no stones of this name: `{stone}`"),
                "pick one that is on the shelf, or add it there first",
            ));
        }
    }
    if names(own, "adhesive").is_empty() {
        wanted.extend(names(shelf, "adhesive").into_iter().map(Entry::Adhesive));
    }
    Ok(wanted)
}

/// Which of the names are kinds and which are mixes.
fn stones(own: &Sheet<'_>, names: &[String]) -> Vec<Stones> {
    let mixes = own.names(&Path::root().key("mix"));
    let of = |name: &String| {
        if mixes.contains(name) { Stones::Mix(name.clone()) } else { Stones::Kind(name.clone()) }
    };
    names.iter().map(of).collect()
}

fn free_name(own: &Sheet<'_>, wanted: &str) -> String {
    let taken = own.names(&Path::root().key("piece"));
    let wanted = if wanted.is_empty() { "piece" } else { wanted };
    let numbered = (2..).map(|i| format!("{wanted} {i}"));
    let mut all = std::iter::once(wanted.to_owned()).chain(numbered);
    all.find(|n| !taken.contains(n)).unwrap_or_else(|| wanted.to_owned())
}

fn blank(asked: &PieceAsked) -> Result<NewBlank, DeskError> {
    let typed = |text: &Option<String>| text.clone().filter(|t| !t.trim().is_empty());
    let (width, height) = (typed(&asked.width), typed(&asked.height));
    if let Some(file) = typed(&asked.file) {
        return Ok(NewBlank::File { file, width: width.as_deref().map(length).transpose()? });
    }
    let (Some(shape), Some(width)) = (typed(&asked.shape), width) else {
        return Err(DeskError::unfit(
            "the size of the blank is missing",
            "pick a shape and type its width, or drop an outline",
        ));
    };
    Ok(NewBlank::Shape { shape, height: height.unwrap_or_else(|| width.clone()), width })
}

/// A length as it is typed in a hurry: without a unit it is mm.
fn length(text: &str) -> Result<Length, DeskError> {
    let text = text.trim();
    text.parse().or_else(|_| format!("{text} mm").parse()).map_err(|_| {
        DeskError::unfit(
            format!("the width cannot be read: `{text}`"),
            "write it like 60 mm or 2 3/8 in",
        )
    })
}
