//! Another name for a stone: in the workshop's document and in the ledger.

use crate::orders::Shown;
use crate::shelf::level_key;
use crate::{Desk, DeskError, Opened};
use app::edit::{self, Change, Path, Sheet};
use shop::{RevisionId, StoneRenamed};

impl Desk {
    /// Renames a stone of the workshop, whose document stands at `from`. The lines of the ledger and
    /// the level below which it runs short go with it, all or none; orders keep the name that they
    /// have in their own documents.
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
        let workshop = self.workshop()?;
        if name == stone {
            return Ok(workshop);
        }
        if name.is_empty() {
            return Err(DeskError::unfit(
                "the new name is missing",
                "type one, or leave it as it is",
            ));
        }
        if self.shop.stones()?.iter().any(|s| s == name) {
            return Err(DeskError::unfit(
                format!("the ledger has stones of this name already: `{name}`"),
                "take another name: what was written of two stones cannot be told apart again",
            ));
        }
        let id = workshop.document.id;
        let what = format!("stone `{stone}` named `{name}`");
        let text = self.text_with_name(from, stone, name)?;
        let order = text.as_ref().map(|text| self.meaning(id, text)).transpose()?;
        let shown = order.as_ref().map(|order| Shown::of(order));
        let change = text.as_ref().zip(shown.as_ref());
        let change = change.map(|(text, s)| shop::Change { what: &what, ..s.change(text) });
        self.shop.rename_stone(&StoneRenamed {
            from: stone,
            to: name,
            text: change.map(|change| (id, from, change)),
            preference: Some((&level_key(stone), &level_key(name))),
        })?;
        self.forget_used();
        self.workshop()
    }

    /// The workshop's text at a revision with another name for a kind; none if it has no such kind.
    fn text_with_name(
        &self,
        from: RevisionId,
        stone: &str,
        name: &str,
    ) -> Result<Option<String>, DeskError> {
        let before = self.shop.revision(from)?.text;
        let sheet = Sheet::of(&before).ok_or(DeskError::Missing("text"))?;
        let Some(path) = sheet.named(&Path::root().key("kind"), stone) else { return Ok(None) };
        let rename = Change::Rename { path, name: name.to_owned() };
        Ok(Some(edit::apply(&before, &[rename])?))
    }
}
