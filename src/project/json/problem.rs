//! What is wrong with a JSON text, as data; worded elsewhere.

use crate::finding::{data, problems};

/// Which bytes are no UTF-8.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NotUtf8 {
    /// The whole file is UTF-16.
    Utf16,
    /// This one.
    Byte(u8),
}

/// What was meant by a word that is no value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Meant {
    /// This truth.
    Bool(bool),
    /// Some number.
    SomeNumber,
    /// Nothing.
    Nothing,
    /// This number.
    Number(f64),
    /// A number too large to be read.
    SmallerNumber,
    /// The word itself, as a text.
    Text,
}

/// What a text holds that cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum BadText {
    /// A control character in what is written.
    Control,
    /// A control character in what is meant.
    ControlMeant(char),
    /// A backslash before a character that takes none.
    Backslash,
}

/// A text between quotes of another kind.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum WrongQuotes {
    /// It is not closed on its line.
    NotClosed,
    /// It is opened by this, and says that.
    Text(char, String),
}

data!(NotUtf8, Meant, BadText, WrongQuotes, u8);

problems! {
    /// About the characters of a file.
    pub(crate) enum JsonProblem {
        /// The file has more bytes than are read.
        Stop "file-too-large" FileTooLarge { bytes: usize }
        /// The file is not UTF-8.
        Stop "not-utf8" NotUtf8 { what: NotUtf8 }
        /// The file is no text.
        Stop "not-a-text" NotAText {}
        /// There is nothing in the file.
        Stop "empty-file" Empty {}
        /// Something follows the project.
        Stop "text-after-end" AfterEnd {}
        /// A space is none that JSON knows.
        Stop "unusual-space" UnusualSpace { space: char }
        /// There is a comment.
        Stop "comment" Comment {}
        /// The file ends before a value.
        Stop "file-ends" FileEnds {}
        /// Brackets are nested too deep.
        Stop "too-deep" TooDeep {}
        /// A name is written twice.
        Stop "written-twice" Twice { name: String }
        /// A number stands in place of a name.
        Stop "loose-number" LooseNumber {}
        /// There is no name.
        Stop "name-missing" NoName {}
        /// A name has no quotes.
        Stop "name-not-quoted" BareName { name: String }
        /// There is no colon, or an equals sign in its place.
        Stop "colon-missing" NoColon { equals: bool }
        /// A comma stands before nothing, or else after nothing.
        Stop "stray-comma" StrayComma { before_bracket: bool }
        /// There is no comma, or a semicolon in its place.
        Stop "comma-missing" NoComma { semicolon: bool }
        /// A bracket is not closed by this one.
        Stop "not-closed" NotClosed { closing: char }
        /// A bracket is closed by one of another kind.
        Stop "brackets-do-not-pair" NoPair { wanted: char, found: char }
        /// A value is missing where this stands.
        Stop "value-missing" NoValue { found: char }
        /// A word is no value.
        Stop "not-a-value" NotAValue { word: String, meant: Meant }
        /// A text is not closed.
        Stop "text-not-closed" TextNotClosed {}
        /// A text holds an inch mark that ends it.
        Stop "inch-mark" InchMark {}
        /// A text holds what it cannot.
        Stop "bad-text" BadText { what: BadText }
        /// A text stands between quotes of another kind.
        Stop "wrong-quotes" WrongQuotes { what: WrongQuotes }
    }
}
