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

/// A whole number with a comma between thousands: `100,000`.
pub fn grouped(n: u64) -> String {
    let digits = n.to_string();
    let mut text = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            text.push(',');
        }
        text.push(c);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::{grouped, trimmed};

    #[test]
    fn thousands_are_set_apart() {
        let shown = [0, 7, 999, 1000, 65_536, 1_234_567].map(grouped);
        assert_eq!(shown, ["0", "7", "999", "1,000", "65,536", "1,234,567"]);
    }

    #[test]
    fn zeros_at_the_end_go_and_others_stay() {
        assert_eq!(trimmed(60.0, 3), "60");
        assert_eq!(trimmed(3.90, 3), "3.9");
        assert_eq!(trimmed(1200.0, 0), "1200");
        assert_eq!(trimmed(-0.0001, 3), "0");
        assert_eq!(trimmed(0.1547, 3), "0.155");
    }
}
