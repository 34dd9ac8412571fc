//! Single values: lengths, names, choices, colours, points.

use super::model::Spot;
use super::walk::{Node, joined, nearest, shortened};
use lay::Colour;
use std::str::FromStr;
use toml::de::DeValue;
use units::{Angle, Length, Mass, ReadError, Share, trimmed};

/// Smallest and largest length allowed, mm.
#[derive(Clone, Copy)]
pub(super) struct Limits(pub(super) f64, pub(super) f64);

impl Limits {
    /// Sides of blanks, holes and zones.
    pub(super) const SIDE: Limits = Limits(0.1, 5000.0);
    /// Places on a blank.
    pub(super) const PLACE: Limits = Limits(-5000.0, 5000.0);
    /// Diameters of stones: far on both sides of what is sold.
    pub(super) const STONE: Limits = Limits(0.5, 100.0);
    /// Margins and spacings.
    pub(super) const GAP: Limits = Limits(0.0, 500.0);
}

impl Node<'_, '_> {
    /// A length in mm within limits.
    pub(super) fn length(&self, limits: Limits, example: &str) -> Option<f64> {
        let length: Length = self.quantity("a length", example)?;
        let mm = length.mm();
        if !(limits.0..=limits.1).contains(&mm) {
            let hint =
                format!("it must be {} to {} mm", trimmed(limits.0, 3), trimmed(limits.1, 3));
            let shown = if mm.abs() < 1e9 { trimmed(mm, 6) } else { format!("{mm:e}") };
            return self.wrong(format!("out of range: {shown} mm"), hint);
        }
        Some(mm)
    }

    /// An angle in degrees, at most a few turns.
    pub(super) fn angle(&self) -> Option<f64> {
        let angle: Angle = self.quantity("an angle", "\"30 deg\"")?;
        if angle.degrees().abs() > 3600.0 {
            return self.wrong(format!("out of range: {angle}"), "it must be within ten turns");
        }
        Some(angle.degrees())
    }

    /// A mass in grams, above 0.
    pub(super) fn mass(&self) -> Option<f64> {
        let mass: Mass = self.quantity("a mass", "\"0.12 g\"")?;
        if !(mass.grams() > 0.0 && mass.grams() <= 1e6) {
            let hint = "it must be above 0 and at most 1000 kg";
            return self.wrong(format!("out of range: {mass:.9}"), hint);
        }
        Some(mass.grams())
    }

    /// A share as a part of 1, above 0. Plain numbers are parts of 1.
    pub(super) fn share(&self) -> Option<f64> {
        let share = match self.value {
            DeValue::Float(n) => n.as_str().parse().ok().and_then(Share::from_part),
            DeValue::Integer(n) if n.as_str() == "1" => Share::from_part(1.0),
            _ => Some(self.quantity("a share", "\"30 %\"")?),
        };
        match share {
            Some(s) if s.part() > 0.0 => Some(s.part()),
            Some(_) => {
                self.wrong("a share of nothing", "leave the kind out, or give it more than 0 %")
            }
            None => self.wrong(
                "out of range: a share lies between 0 and 1",
                "write it like `\"30 %\"`, `0.3` or `\"1/3\"`",
            ),
        }
    }

    pub(super) fn quantity<T: FromStr<Err = ReadError>>(
        &self,
        wanted: &str,
        example: &str,
    ) -> Option<T> {
        let number = match self.value {
            DeValue::Integer(n) => Some(n.to_string()),
            DeValue::Float(n) => Some(n.to_string()),
            _ => None,
        };
        if let Some(number) = number {
            let text = format!("{wanted} is wanted here, not the number {}", shortened(&number));
            return self
                .wrong(text, format!("write it in quotes and with its unit, like {example}"));
        }
        let text = self.text(&format!("{wanted} in quotes"), example)?;
        if text.len() > 100 {
            return self.wrong(
                format!("not {wanted}: `{}`", shortened(text)),
                format!("write it like {example}"),
            );
        }
        text.parse().or_else(|e: ReadError| self.wrong(e.to_string(), e.hint()).ok_or(())).ok()
    }

    /// A name: some text, not too long, without control characters.
    pub(super) fn name(&self) -> Option<String> {
        let text = self.text("a name in quotes", "it like \"sea glass\"")?.trim();
        if text.is_empty() {
            return self.wrong("the name is empty", "give it a name of at least one letter");
        }
        if text.chars().count() > 80 {
            return self.wrong("the name is too long", "use at most 80 letters");
        }
        if text.chars().any(char::is_control) {
            return self
                .wrong("the name has a line end or another invisible sign", "use plain letters");
        }
        Some(text.to_owned())
    }

    /// One of a few words. Case does not matter, nor hyphens for spaces.
    pub(super) fn choice<T: Copy>(&self, what: &str, options: &[(&'static str, T)]) -> Option<T> {
        let words: Vec<&'static str> = options.iter().map(|o| o.0).collect();
        let list = words.join(", ");
        let text = self.text(&format!("{what} in quotes"), &format!("one of: {list}"))?;
        let plain = |t: &str| t.trim().to_lowercase().replace(['-', '_'], " ");
        let tidy = plain(text);
        if let Some(found) = options.iter().find(|o| plain(o.0) == tidy) {
            return Some(found.1);
        }
        let hint = match nearest(&tidy, &words) {
            Some(near) => format!("did you mean `{near}`? There are: {list}"),
            None => format!("there are: {list}"),
        };
        self.wrong(format!("unknown {what} `{}`", shortened(text)), hint)
    }

    /// `#rrggbb` or `#rgb`.
    pub(super) fn colour(&self) -> Option<Colour> {
        let text = self.text("a colour in quotes", "it like \"#2f8f83\"")?;
        Colour::from_hex(text.trim()).or_else(|| {
            let hint = "write `#` and six digits 0–9, a–f for red, green and blue, like `#2f8f83`";
            self.wrong(format!("not a colour: `{}`", shortened(text)), hint)
        })
    }

    /// `["30 mm", "5 mm"]`: to the right and down.
    pub(super) fn point(&self) -> Option<(f64, f64)> {
        let example = "it like [\"30 mm\", \"5 mm\"], to the right and down";
        let DeValue::Array(values) = self.value else {
            return self.wrong_type("a list of two lengths", example);
        };
        if values.len() != 2 {
            let text = format!("two lengths are wanted here, not {}", values.len());
            return self.wrong(text, format!("write {example}"));
        }
        let mut found = values.iter().zip(["right", "down"]).map(|(v, step)| {
            let spot = Spot { place: joined(&self.spot.place, step), span: v.span() };
            let node = Node { value: v.get_ref(), spot, walk: self.walk };
            node.length(Limits::PLACE, "\"30 mm\"")
        });
        // Both are read before either decides, so that both faults are found.
        let (right, down) = (found.next().flatten(), found.next().flatten());
        Some((right?, down?))
    }
}
