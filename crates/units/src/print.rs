//! Numbers as a maker reads them.

/// `value` with at most `decimals` decimals and no zeros at the end; never `-0`.
pub fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        text.as_str()
    };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::trimmed;

    #[test]
    fn zeros_at_the_end_go_and_others_stay() {
        assert_eq!(trimmed(60.0, 3), "60");
        assert_eq!(trimmed(3.90, 3), "3.9");
        assert_eq!(trimmed(1200.0, 0), "1200");
        assert_eq!(trimmed(-0.0001, 3), "0");
        assert_eq!(trimmed(0.1547, 3), "0.155");
    }
}
