//! How the JSON text is broken into lines: one thing of a list a line, so that a person can read
//! it and a diff shows which stone moved.

use serde::Serialize;
use serde_json::ser::{CompactFormatter, Formatter, PrettyFormatter};
use std::io::{self, Write};

/// Containers nested deeper than this stay on one line: file, `pieces`, piece, `stones`.
const DEPTH: u32 = 4;

/// The text of `value`, indented by two spaces down to the things of a piece's lists, each of
/// which takes one line. Ends with a line break.
pub(super) fn one_thing_a_line(value: &impl Serialize) -> String {
    let mut bytes = vec![];
    let layout = Layout { pretty: PrettyFormatter::new(), depth: 0 };
    let mut serializer = serde_json::Serializer::with_formatter(&mut bytes, layout);
    // Writing to memory does not fail, and every key of the format is a string.
    let written = value.serialize(&mut serializer);
    debug_assert!(written.is_ok());
    bytes.push(b'\n');
    String::from_utf8(bytes).unwrap_or_default()
}

struct Layout {
    pretty: PrettyFormatter<'static>,
    depth: u32,
}

/// Hands a call on to the indenting or to the compact formatter, by depth.
macro_rules! by_depth {
    ($self:ident, $method:ident($($arg:expr),*)) => {
        if $self.depth <= DEPTH {
            $self.pretty.$method($($arg),*)
        } else {
            CompactFormatter.$method($($arg),*)
        }
    };
}

impl Formatter for Layout {
    fn begin_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.depth += 1;
        by_depth!(self, begin_array(writer))
    }

    fn end_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        let done = by_depth!(self, end_array(writer));
        self.depth -= 1;
        done
    }

    fn begin_array_value<W: ?Sized + Write>(
        &mut self,
        writer: &mut W,
        first: bool,
    ) -> io::Result<()> {
        by_depth!(self, begin_array_value(writer, first))
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        by_depth!(self, end_array_value(writer))
    }

    fn begin_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.depth += 1;
        by_depth!(self, begin_object(writer))
    }

    fn end_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        let done = by_depth!(self, end_object(writer));
        self.depth -= 1;
        done
    }

    fn begin_object_key<W: ?Sized + Write>(
        &mut self,
        writer: &mut W,
        first: bool,
    ) -> io::Result<()> {
        by_depth!(self, begin_object_key(writer, first))
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        by_depth!(self, begin_object_value(writer))
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        by_depth!(self, end_object_value(writer))
    }
}
