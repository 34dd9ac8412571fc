//! Recipes by count and by weight.

use super::WeighingError;

/// One kind of a recipe by count.
#[derive(Clone, Debug, PartialEq)]
pub struct RecipePart {
    /// The kind.
    pub kind: String,
    /// Its share by count, any positive scale.
    pub share: f64,
    /// Weight of one stone, g.
    pub unit_g: f64,
}

/// Shares by weight of a recipe by count; they add up to 1.
///
/// # Errors
/// Shares or weights that are negative, not numbers, or add up to nothing.
pub fn weight_shares(recipe: &[RecipePart]) -> Result<Vec<f64>, WeighingError> {
    shares(recipe, |p| p.share * p.unit_g)
}

/// Shares by count of a recipe whose shares are by weight; they add up to 1.
///
/// # Errors
/// As [`weight_shares`].
pub fn count_shares(recipe: &[RecipePart]) -> Result<Vec<f64>, WeighingError> {
    shares(recipe, |p| p.share / p.unit_g)
}

fn shares(
    recipe: &[RecipePart],
    amount: impl Fn(&RecipePart) -> f64,
) -> Result<Vec<f64>, WeighingError> {
    for part in recipe {
        let kind = part.kind.clone();
        if !(part.share >= 0.0 && part.share.is_finite()) {
            let (what, wanted) = ("share", "0 or more");
            return Err(WeighingError::Range { what, kind, value: part.share, wanted });
        }
        if !(part.unit_g > 0.0 && part.unit_g.is_finite()) {
            let (what, wanted) = ("weight of one stone", "above 0 g");
            return Err(WeighingError::Range { what, kind, value: part.unit_g, wanted });
        }
    }
    let amounts: Vec<f64> = recipe.iter().map(amount).collect();
    let sum: f64 = amounts.iter().sum();
    if !(sum > 0.0 && sum.is_finite()) {
        let kind = recipe.first().map_or_else(|| "mix".to_owned(), |p| p.kind.clone());
        let (what, wanted) = ("sum of the shares", "above 0");
        return Err(WeighingError::Range { what, kind, value: sum, wanted });
    }
    Ok(amounts.iter().map(|a| a / sum).collect())
}
