//! Numbers that nobody guesses: for forms that must write once, and for secrets.

use crate::problem::Problem;

/// So many bytes from the machine's own source of chance.
///
/// # Errors
/// The machine has none.
pub(crate) fn random<const N: usize>() -> Result<[u8; N], Problem> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|_| Problem::ours())?;
    Ok(bytes)
}

/// As small hexadecimal digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// A number for one form: what it writes is written once, however often it is sent.
///
/// # Errors
/// As for [`random`].
pub(crate) fn nonce() -> Result<String, Problem> {
    Ok(hex(&random::<16>()?))
}
