//! Sharing the worktop: at which addresses of this machine, and what is said of it on a terminal.

use crate::args::Open;
use crate::output;
use std::fmt::Write;
use std::io::IsTerminal;
use std::net::{IpAddr, Ipv4Addr};
use worktop::Invitation;

/// The addresses at which the worktop is shared; none if it is not. Nothing is sent to find them.
///
/// # Errors
/// What is wrong, and what would be right.
pub(super) fn addresses(args: &Open) -> Result<Vec<IpAddr>, (String, &'static str)> {
    if !args.share {
        return Ok(vec![]);
    }
    let hint = "name one of this machine's own addresses with `--share-address`";
    if !args.share_address.is_empty() {
        // Any other address of the machine itself is a way to try sharing out without a network.
        let own = |ip: &IpAddr| matches!(ip, IpAddr::V4(v4) if *v4 == Ipv4Addr::LOCALHOST);
        let unfit = |ip: &&IpAddr| ip.is_unspecified() || ip.is_multicast() || own(ip);
        return match args.share_address.iter().find(unfit) {
            Some(ip) => Err((format!("other devices cannot reach this address: {ip}"), hint)),
            None => Ok(args.share_address.clone()),
        };
    }
    let all = if_addrs::get_if_addrs()
        .map_err(|e| (format!("the addresses of this machine are not known: {e}"), hint))?;
    let mut found: Vec<IpAddr> = all.iter().map(if_addrs::Interface::ip).filter(is_fit).collect();
    found.sort_unstable();
    found.dedup();
    if found.is_empty() {
        return Err((
            "this machine is in no network".to_owned(),
            "join one, or open without `--share`",
        ));
    }
    Ok(found)
}

/// Addresses of version 4 in a network of one's own. Others can be named; to listen on one that all
/// the world reaches must not happen by itself.
fn is_fit(ip: &IpAddr) -> bool {
    matches!(ip, IpAddr::V4(v4) if v4.is_private())
}

/// Says how other devices come in.
pub(super) fn invite(invitation: &Invitation) {
    let mut text = format!("other devices: pair each with this code: {}", invitation.code);
    // Which of black and white is light must not depend on the terminal's own colours.
    let (on, off) =
        if std::io::stderr().is_terminal() { ("\x1b[97;40m", "\x1b[0m") } else { ("", "") };
    for address in &invitation.addresses {
        let _ = write!(text, "\n{address}pair\n");
        for line in invitation.blocks(address).lines() {
            let _ = write!(text, "\n{on}{line}{off}");
        }
    }
    output::verbatim(&text);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_addresses_of_ones_own_network_are_taken_by_themselves() {
        let fit = |text: &str| is_fit(&text.parse().unwrap());
        assert!(fit("192.168.1.5") && fit("10.0.0.2") && fit("172.16.9.9"));
        assert!(!fit("127.0.0.1") && !fit("8.8.8.8") && !fit("169.254.3.3") && !fit("fe80::1"));
    }
}
