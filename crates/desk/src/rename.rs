//! Another name for a stone: in the workshop's document and in the ledger.

use crate::{Desk, DeskError, Opened};
use app::edit::{Change, Path, Sheet};
use shop::RevisionId;

impl Desk {
    /// Renames a stone of the workshop, whose document stands at `from`. The lines of the ledger go
    /// with it; orders keep the name that they have in their own documents.
    ///
    /// # Errors
    /// A name that is empty or taken; the document was changed meanwhile; the shop's.
    pub fn rename_stone(
        &self,
        from: RevisionId,
        stone: &str,
        name: &str,
    ) -> Result<Opened, DeskError> {
        let name = name.trim();
        if name == stone {
            return self.workshop();
        }
        if name.is_empty() {
            return Err(DeskError::unfit(
                "the new name is missing",
                "type one, or leave it as it is",
            ));
        }
        let workshop = self.workshop()?;
        let ledger = self.shop.stones()?;
        let known = ledger.iter().any(|s| s == stone);
        if ledger.iter().any(|s| s == name) {
            return Err(DeskError::unfit(
                format!("the ledger has stones of this name already: `{name}`"),
                "take another name: what was written of two stones cannot be told apart again",
            ));
        }
        let text = self.shop.revision(from)?.text;
        let sheet = Sheet::of(&text).ok_or(DeskError::Missing("text"))?;
        let path = sheet.named(&Path::root().key("kind"), stone);
        let opened = match path {
            Some(path) => {
                let rename = Change::Rename { path, name: name.to_owned() };
                let what = format!("stone `{stone}` named `{name}`");
                self.change(workshop.document.id, from, &[rename], &what, None)?
            }
            None if known => workshop,
            None => return Err(DeskError::Missing("stone")),
        };
        if known {
            self.shop.rename_stone(stone, name)?;
        }
        self.move_level(stone, name)?;
        self.forget_used();
        Ok(opened)
    }
}
