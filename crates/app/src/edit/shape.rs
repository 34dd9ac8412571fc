//! An outline becomes another shape: keys that it does not have go, usual ones come.

use super::path::{Path, Step};
use super::spell::{length, quoted};
use super::tree::Node;
use super::work::{Refusal, Work};
use crate::fields;
use units::{Length, trimmed};

/// Sides where an outline had none, mm.
const USUAL_MM: (f64, f64) = (60.0, 40.0);

/// Gives an outline the shape or file written in `toml`.
pub(super) fn set(work: &mut Work, path: &Path, toml: &str) -> Result<(), Refusal> {
    let Some((outline, Step::Key(key))) = path.split_last() else {
        return Err(Refusal::nowhere(path));
    };
    let other = if key == "shape" { "file" } else { "shape" };
    let table = fields::table_at(&outline).ok_or_else(|| Refusal::nowhere(path))?;
    let before = Sides::of(work, &outline);
    work.put(path, toml)?;
    // A band has no shape.
    for key in [other, "band", "of"] {
        if table.field(key).is_some() {
            work.clear(&outline.key(key))?;
        }
    }
    let value = |work: &Work, key: &str| work.shown(&outline.key(key));
    for field in table.fields() {
        if !field.belongs(|k| value(work, k)) && work.node(&outline.key(field.key)).is_some() {
            work.clear(&outline.key(field.key))?;
        }
    }
    if key == "file" {
        // One of the two sides gives the scale.
        if value(work, "width").is_some() {
            work.clear(&outline.key("height"))?;
        }
    } else {
        for field in table.fields() {
            let missing = work.node(&outline.key(field.key)).is_none();
            if missing
                && field.belongs(|k| value(work, k))
                && let Some(toml) = before.usual(field.key)
            {
                work.put(&outline.key(field.key), &toml)?;
            }
        }
        if value(work, "shape").as_deref() == Some("heart") {
            before.slender(work, &outline)?;
        }
    }
    Ok(())
}

/// How large an outline was, as it was written.
struct Sides {
    width: String,
    height: String,
}

impl Sides {
    fn of(work: &Work, outline: &Path) -> Sides {
        let side = |keys: [&str; 4]| keys.iter().find_map(|k| work.shown(&outline.key(k)));
        let width = side(["width", "diameter", "across", "height"]);
        let height = side(["height", "diameter", "across", "width"]);
        let usual = |mm: f64| format!("{} mm", trimmed(mm, 3));
        Sides {
            width: width.unwrap_or_else(|| usual(USUAL_MM.0)),
            height: height.unwrap_or_else(|| usual(USUAL_MM.1)),
        }
    }

    fn mm(&self) -> (f64, f64) {
        let mm = |text: &str, usual| text.parse::<Length>().map_or(usual, Length::mm);
        (mm(&self.width, USUAL_MM.0), mm(&self.height, USUAL_MM.1))
    }

    /// The usual value of a key that a shape needs, in TOML.
    fn usual(&self, key: &str) -> Option<String> {
        let (width, height) = self.mm();
        let side = |mm: f64| quoted(&format!("{} mm", trimmed(mm, 3)));
        let corner = |x: f64, y: f64| format!("[{}, {}]", side(x), side(y));
        Some(match key {
            "width" | "diameter" | "across" => quoted(&self.width),
            "height" => quoted(&self.height),
            // A tenth of the shorter side, as badges have it; common practice, no source.
            "corner" => side(width.min(height) / 10.0),
            "corners" => "6".to_owned(),
            "tips" => "5".to_owned(),
            "points" => {
                let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
                format!("[{}]", corners.map(|(x, y)| corner(x, y)).join(", "))
            }
            "at" => corner(width / 2.0, height / 2.0),
            _ => return None,
        })
    }

    /// A heart is three quarters to twice as high as it is wide.
    fn slender(&self, work: &mut Work, outline: &Path) -> Result<(), Refusal> {
        let (width, height) = self.mm();
        if (0.75..=2.0).contains(&(height / width)) {
            return Ok(());
        }
        let toml = quoted(&self.width);
        work.put(&outline.key("height"), &toml)
    }
}

/// The keys of a new outline of a shape and its sides, in TOML, as they stand in braces.
pub(crate) fn outline(shape: &str, width: &str, height: &str) -> Result<String, Refusal> {
    let mut work = Work::on("[[piece]]\nblank = {}\n")?;
    let blank = Path::root().key("piece").number(1).key("blank");
    work.put(&blank.key("width"), &quoted(&length(width)))?;
    work.put(&blank.key("height"), &quoted(&length(height)))?;
    set(&mut work, &blank.key("shape"), &quoted(shape))?;
    let node = work.node(&blank).and_then(Node::bytes).cloned();
    Ok(node.map(|bytes| work.text[bytes].to_owned()).unwrap_or_default())
}
