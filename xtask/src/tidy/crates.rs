//! Which crate may use which: only those that come before it.

use crate::house::House;
use cargo_metadata::Metadata;

/// The rooms in the order in which data flows through them.
const ORDER: &[&str] = &[
    "units", "geometry", "outline", "lay", "planning", "drawing", "export", "shop", "app", "paper",
    "desk", "worktop", "stonelay",
];
/// Beside the flow: may use anything, used by nobody.
const BESIDE: &[&str] = &["xtask"];

pub(super) fn breaches(house: &House) -> Vec<String> {
    let mut found = Vec::new();
    let uses = uses(&house.metadata);
    for (from, _) in &uses {
        let known = [ORDER, BESIDE].iter().any(|names| names.contains(&from.as_str()));
        if !known {
            found.push(format!("Cargo.toml: crate `{from}` has no place in the order of crates"));
        }
    }
    found.extend(uses.iter().filter_map(|(from, to)| breach(from, to)));
    found.sort();
    found.dedup();
    found
}

/// Every use of one crate of the house by another.
fn uses(metadata: &Metadata) -> Vec<(String, String)> {
    let packages = metadata.workspace_packages();
    let own = |name: &str| packages.iter().any(|p| p.name.as_str() == name);
    let mut uses = Vec::new();
    for package in &packages {
        for d in package.dependencies.iter().filter(|d| own(&d.name)) {
            uses.push((package.name.to_string(), d.name.clone()));
        }
    }
    uses
}

fn breach(from: &str, to: &str) -> Option<String> {
    let place = |name: &str| ORDER.iter().position(|n| *n == name);
    if BESIDE.contains(&from) {
        return None;
    }
    if BESIDE.contains(&to) {
        return Some(format!("crate `{from}` uses `{to}`, which stands beside the flow"));
    }
    match (place(from), place(to)) {
        (Some(a), Some(b)) if a <= b => {
            Some(format!("crate `{from}` uses `{to}`, which comes after it in the order of crates"))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_earlier_crates_may_be_used() {
        assert_eq!(breach("lay", "geometry"), None);
        assert!(breach("geometry", "lay").is_some());
    }

    #[test]
    fn nobody_uses_the_house_jobs() {
        assert!(breach("app", "xtask").is_some());
        assert_eq!(breach("xtask", "app"), None);
    }
}
