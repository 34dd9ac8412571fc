//! How long an adhesive stays usable in this room.

use super::label::Facts;
use crate::Given;

/// The air of the workshop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Temperature, °C.
    pub temperature_c: Given<f64>,
    /// Relative humidity, 0..=1.
    pub humidity: Given<f64>,
}

/// The temperature for which times are stated, °C.
pub const STATED_AT_C: f64 = 25.0;
/// The mass for which pot lives are stated, g.
pub const STATED_FOR_G: f64 = 100.0;

/// By how much a mass in a cup stays usable longer than at 25 °C: twice as long for each 10 °C
/// below, half as long above (one source).
pub fn mass_factor(temperature_c: f64) -> f64 {
    libm::exp2((STATED_AT_C - temperature_c) / 10.0)
}

/// By how much a thin film stays open longer than at 25 °C: 1.3 times for each 10 °C, since it
/// gives off its heat (one source). Solvents and water leave faster in the warm too; the same
/// factor is taken for them (our choice).
pub fn film_factor(temperature_c: f64) -> f64 {
    libm::pow(1.3, (STATED_AT_C - temperature_c) / 10.0)
}

/// By how much a batch of `mass_g` stays usable shorter than 100 g.
///
/// A reacting mass heats by its volume and cools by its surface, which for one form grow as m and
/// m^⅔: the time is taken to go with m^−⅓. Below 100 g the stated time stands: a batch that goes
/// off early spoils more than one that lasts (our choice; labels state 100 g only).
pub fn batch_factor(mass_g: f64) -> f64 {
    libm::cbrt(STATED_FOR_G / mass_g.max(STATED_FOR_G))
}

/// Pot life of a batch of `mass_g` in this room, min; `None` where nothing is mixed.
pub fn pot_min(facts: &Facts, room: &Room, mass_g: f64) -> Option<f64> {
    let stated = facts.pot_min?.value;
    Some(stated * mass_factor(room.temperature_c.value) * batch_factor(mass_g))
}

/// How long the adhesive may lie open in this room before a stone is set into it, min; `None`: no
/// limit.
///
/// What lies on the piece is a thin film; of two parts, what is still in the cup must last as
/// long, so that the shorter of the two times counts.
pub fn open_min(facts: &Facts, room: &Room) -> Option<f64> {
    let film = facts.open_min?.value * film_factor(room.temperature_c.value);
    Some(pot_min(facts, room, STATED_FOR_G).map_or(film, |pot| pot.min(film)))
}
