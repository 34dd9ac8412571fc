//! Other devices: the code that pairs one, the secret that it keeps from then on.
//!
//! Off unless the worktop was opened to be shared. The code is new at every start and after each
//! pairing; whoever guesses is made to wait, longer each time. Of a device's secret only a hash is
//! kept.

use crate::nonce::{hex, random};
use crate::problem::Problem;
use crate::state::State;
use axum::http::StatusCode;
use qrcode::QrCode;
use qrcode::render::{svg, unicode};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};
use subtle::ConstantTimeEq;

/// Wrong codes in a row after which nobody may try for a while.
const MOST_WRONG: u32 = 5;
/// The first such pause; each is twice as long as the one before. Ours: a million codes at five for
/// each pause, which soon is an hour, take years.
const FIRST_PAUSE: Duration = Duration::from_secs(30);
/// The longest pause.
const LONGEST_PAUSE: Duration = Duration::from_secs(60 * 60);
/// A device that was seen is noted on the disk no more often than this.
const SEEN_EVERY: Duration = Duration::from_secs(60);

/// Longest name of a device.
pub(crate) const MOST_LETTERS: usize = 60;
/// The cookie that holds a device's secret.
pub(crate) const DEVICE: &str = "device";

/// What other devices need to come in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Invitation {
    /// The addresses of the worktop for other devices, `http://192.168.1.5:7878/`.
    pub addresses: Vec<String>,
    /// The code that pairs one device.
    pub code: String,
}

impl Invitation {
    /// What the QR code of an address holds: where the device is paired with one tap.
    pub fn link(&self, address: &str) -> String {
        format!("{address}pair?code={}", self.code)
    }

    /// The QR code of an address as lines of blocks, two rows to a line, the blocks being what is
    /// light: to be shown light on dark. Empty if the address is too long for one.
    pub fn blocks(&self, address: &str) -> String {
        let (dark, light) = (unicode::Dense1x2::Light, unicode::Dense1x2::Dark);
        let drawn =
            |c: QrCode| c.render::<unicode::Dense1x2>().dark_color(dark).light_color(light).build();
        QrCode::new(self.link(address)).map(drawn).unwrap_or_default()
    }

    /// The QR code of an address as an SVG element; empty if the address is too long for one.
    pub(crate) fn svg(&self, address: &str) -> String {
        let drawn = |c: QrCode| c.render::<svg::Color<'_>>().min_dimensions(240, 240).build();
        let whole = QrCode::new(self.link(address)).map(drawn).unwrap_or_default();
        // Within a page the element stands alone.
        whole.find("<svg").map_or(String::new(), |at| whole[at..].to_owned())
    }
}

/// Told at every new code.
pub type Say = Arc<dyn Fn(&Invitation) + Send + Sync>;

/// A worktop that other devices may reach.
pub(crate) struct Sharing {
    addresses: Vec<SocketAddr>,
    code: Mutex<Code>,
    seen: Mutex<BTreeMap<i64, Instant>>,
    say: Say,
}

/// The code that holds, and who has guessed at it.
struct Code {
    digits: String,
    wrong: u32,
    pauses: u32,
    until: Option<Instant>,
}

/// Why a code was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Refused {
    /// It is another; so many more may be tried.
    Wrong {
        /// Tries that are left.
        left: u32,
    },
    /// Nobody may try now.
    Wait {
        /// For so many seconds more.
        seconds: u64,
    },
}

impl From<Refused> for Problem {
    fn from(refused: Refused) -> Problem {
        match refused {
            Refused::Wrong { left } => Problem::new(StatusCode::FORBIDDEN, "this is not the code")
                .hint(format!(
                    "it stands on the screen of the machine that shares; {left} more tries"
                )),
            Refused::Wait { seconds } => {
                Problem::new(StatusCode::TOO_MANY_REQUESTS, "too many wrong codes").hint(format!(
                    "wait {seconds} seconds, then type the code that stands there now"
                ))
            }
        }
    }
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Sharing {
    /// At these addresses. `say` is told each code.
    ///
    /// # Errors
    /// The machine has no source of chance.
    pub(crate) fn new(addresses: Vec<SocketAddr>, say: Say) -> Result<Sharing, Problem> {
        let code = Code { digits: digits()?, wrong: 0, pauses: 0, until: None };
        Ok(Sharing { addresses, code: Mutex::new(code), seen: Mutex::default(), say })
    }

    /// Whether `host`, of a request, is one of ours.
    pub(crate) fn has(&self, host: &str) -> bool {
        self.addresses.iter().any(|a| a.to_string().eq_ignore_ascii_case(host))
    }

    /// What is to be shown on this machine.
    pub(crate) fn invitation(&self) -> Invitation {
        let addresses = self.addresses.iter().map(|a| format!("http://{a}/")).collect();
        Invitation { addresses, code: locked(&self.code).digits.clone() }
    }

    /// Shows the code that holds.
    pub(crate) fn say(&self) {
        (self.say)(&self.invitation());
    }

    /// Makes a new code; the old one is worth nothing from then on.
    ///
    /// # Errors
    /// The machine has no source of chance.
    pub(crate) fn turn(&self) -> Result<(), Problem> {
        let new = digits()?;
        locked(&self.code).digits = new;
        self.say();
        Ok(())
    }

    /// Tries a code. The right one is used up by it.
    ///
    /// # Errors
    /// It is wrong, or nobody may try now.
    pub(crate) fn try_code(&self, typed: &str, now: Instant) -> Result<(), Refused> {
        let mut code = locked(&self.code);
        if let Some(left) =
            code.until.and_then(|u| u.checked_duration_since(now)).filter(|l| !l.is_zero())
        {
            return Err(Refused::Wait { seconds: left.as_secs() + 1 });
        }
        let typed: String = typed.chars().filter(|c| !c.is_whitespace() && *c != '-').collect();
        // Between a pairing and the next code there is none, which nothing matches.
        let there = !code.digits.is_empty();
        if there && bool::from(code.digits.as_bytes().ct_eq(typed.as_bytes())) {
            *code = Code { digits: String::new(), wrong: 0, pauses: 0, until: None };
            return Ok(());
        }
        code.wrong += 1;
        if code.wrong < MOST_WRONG {
            return Err(Refused::Wrong { left: MOST_WRONG - code.wrong });
        }
        let pause = FIRST_PAUSE.saturating_mul(1 << code.pauses.min(16)).min(LONGEST_PAUSE);
        code.wrong = 0;
        code.pauses += 1;
        code.until = Some(now + pause);
        Err(Refused::Wait { seconds: pause.as_secs() })
    }

    /// Whether it is time to note on the disk that a device was seen.
    pub(crate) fn sees(&self, device: i64, now: Instant) -> bool {
        let mut seen = locked(&self.seen);
        let lately = seen.get(&device).is_some_and(|at| now.duration_since(*at) < SEEN_EVERY);
        if !lately {
            seen.insert(device, now);
        }
        !lately
    }
}

/// The sharing of a worktop.
///
/// # Errors
/// It is not shared.
pub(crate) fn of(state: &State) -> Result<Arc<Sharing>, Problem> {
    state.sharing().cloned().ok_or_else(|| {
        let off = Problem::new(StatusCode::CONFLICT, "the worktop is not shared");
        off.hint("close it and open it anew with `stonelay open --share`")
    })
}

/// Pairs a device by the code that was typed, and gives the secret that it keeps.
///
/// # Errors
/// The code is wrong, or nobody may try now; the shop's.
pub(crate) async fn pair(
    state: &State,
    sharing: &Sharing,
    code: &str,
    name: &str,
) -> Result<String, Problem> {
    sharing.try_code(code, Instant::now())?;
    // Whatever comes of it, this code is used up.
    sharing.turn()?;
    let (secret, hash) = secret()?;
    let name: String = name.trim().chars().take(MOST_LETTERS).collect();
    let name = if name.is_empty() { "device".to_owned() } else { name };
    state.at_desk(move |desk| desk.shop().pair_device(&hash, &name)).await?;
    Ok(secret)
}

/// The cookie in which a browser keeps its secret.
pub(crate) fn cookie(secret: &str) -> String {
    format!("{DEVICE}={secret}; Path=/; Max-Age=31536000; SameSite=Strict; HttpOnly")
}

/// Six digits, each code as likely as another.
fn digits() -> Result<String, Problem> {
    // The highest multiple of a million: what lies above would make low codes likelier.
    const MOST: u32 = u32::MAX - u32::MAX % 1_000_000;
    loop {
        let number = u32::from_le_bytes(random()?);
        if number < MOST {
            return Ok(format!("{:06}", number % 1_000_000));
        }
    }
}

/// A new secret for a device, and the hash that is kept of it.
///
/// # Errors
/// The machine has no source of chance.
fn secret() -> Result<(String, String), Problem> {
    let secret = hex(&random::<32>()?);
    let hash = hash_of(&secret);
    Ok((secret, hash))
}

/// The hash under which a device's secret is known.
pub(crate) fn hash_of(secret: &str) -> String {
    hex(&Sha256::digest(secret.as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sharing() -> Sharing {
        let address = "192.168.1.5:7878".parse().unwrap();
        Sharing::new(vec![address], Arc::new(|_| {})).unwrap()
    }

    #[test]
    fn five_wrong_codes_make_everybody_wait_longer_each_time() {
        let (sharing, mut now) = (sharing(), Instant::now());
        let right = sharing.invitation().code;
        let wrong = if right == "000000" { "000001" } else { "000000" };
        for pause in [30, 60, 120] {
            for left in (1..MOST_WRONG).rev() {
                assert_eq!(sharing.try_code(wrong, now), Err(Refused::Wrong { left }));
            }
            assert_eq!(sharing.try_code(wrong, now), Err(Refused::Wait { seconds: pause }));
            let refused = sharing.try_code(&right, now + Duration::from_secs(pause - 1));
            assert!(matches!(refused, Err(Refused::Wait { .. })), "even the right one waits");
            now += Duration::from_secs(pause);
        }
        assert_eq!(sharing.try_code(&right, now), Ok(()));
    }

    #[test]
    fn a_code_pairs_once_and_the_next_is_another() {
        let sharing = sharing();
        let code = sharing.invitation().code;
        assert_eq!(code.len(), 6);
        let typed = format!("{} {}", &code[..3], &code[3..]);
        assert_eq!(sharing.try_code(&typed, Instant::now()), Ok(()));
        for used in [code.as_str(), ""] {
            assert!(sharing.try_code(used, Instant::now()).is_err(), "`{used}` pairs nothing now");
        }
        sharing.turn().unwrap();
        assert_eq!(sharing.invitation().code.len(), 6);
    }
}
