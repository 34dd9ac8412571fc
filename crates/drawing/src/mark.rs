//! What stands for a kind where its colour cannot be seen.

/// The mark of the kind of this index: a letter, or two where there are more than 26.
pub fn mark(index: usize) -> String {
    let letter = |i: usize| char::from(b'A' + (i % 26) as u8);
    match index / 26 {
        0 => letter(index).to_string(),
        n => format!("{}{}", letter(n - 1), letter(index)),
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn marks_are_all_different() {
        let marks: std::collections::BTreeSet<_> = (0..702).map(super::mark).collect();
        assert_eq!(marks.len(), 702);
    }
}
