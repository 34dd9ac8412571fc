//! The rules that the compiler does not know.

mod crates;
mod documents;
mod files;
mod words;

use crate::house::House;
use anyhow::Result;

/// Prints every breach; `true` if there is none.
pub(crate) fn run() -> Result<bool> {
    let found = breaches(&House::find()?)?;
    found.iter().for_each(|breach| println!("{breach}"));
    println!("{} breaches of the tidy rules", found.len());
    Ok(found.is_empty())
}

/// Every breach, one line each: where, what, and what would be right.
pub(crate) fn breaches(house: &House) -> Result<Vec<String>> {
    let mut found = crates::breaches(house);
    let texts = texts(house)?;
    found.extend(files::breaches(&texts));
    found.extend(words::breaches(&texts));
    found.extend(documents::breaches(house, &texts));
    Ok(found)
}

/// A text file of the checkout.
struct Text {
    /// Its path from the root.
    path: String,
    /// What it says.
    body: String,
}

impl Text {
    fn has_extension(&self, extension: &str) -> bool {
        self.path.rsplit_once('.').is_some_and(|(_, e)| e == extension)
    }
}

fn texts(house: &House) -> Result<Vec<Text>> {
    let mut texts = Vec::new();
    for path in house.files()? {
        if let Some(body) = house.text(&path)? {
            texts.push(Text { path, body });
        }
    }
    Ok(texts)
}
