//! What the program ends with.

use std::process::ExitCode;

/// Exit codes. They are stable: scripts may rely on them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Exit {
    /// 0: done.
    Done = 0,
    /// 1: something outside the document failed: a file, a folder, the disk.
    Trouble = 1,
    /// 2: the command line is not right.
    Usage = 2,
    /// 3: the document, or an outline it names, was refused; the messages name every place.
    Refused = 3,
    /// 4: `check` found something serious.
    Serious = 4,
    /// 130: stopped by Ctrl-C.
    Stopped = 130,
}

/// The codes as `--help` and the manual show them.
pub(crate) const HELP: &str = "\
Exit codes:
  0    done
  1    a file, a folder or the disk failed
  2    the command line is not right
  3    the document was refused; every mistake is named
  4    `check` found something serious
  130  stopped by Ctrl-C";

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}
