//! What is wrong with the fields of a file, as data; worded elsewhere.

use super::json::NodeKind;
use crate::finding::{Amount, Names, Offered, data, problems};
use crate::units::Length;

/// What belongs at a place; an example is as it may be written into the file.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Expected {
    /// The project itself.
    Project,
    /// An object.
    Object,
    /// An object with one of these fields.
    ObjectWith(Vec<&'static str>),
    /// An object of a kind, such as this.
    ObjectOfKind(&'static str),
    /// An angle.
    Angle,
    /// A number.
    Number,
    /// A length.
    Length,
    /// A length or an angle.
    LengthOrAngle,
    /// A text, such as this.
    Text(Offered<String>),
    /// The text of a note.
    Note,
    /// A whole number in a range.
    Whole(f64, f64),
    /// True or false.
    Bool,
    /// A list, such as this.
    List(Offered<String>),
    /// Two lengths.
    Pair,
    /// Two angles.
    AnglePair,
    /// Three quantities, such as these.
    Triple(Offered<String>),
    /// Named entries, such as these.
    Entries(Offered<String>),
    /// One of these words.
    Word(Vec<&'static str>),
    /// How an edge runs.
    Edge,
    /// The profile of an edge.
    Profile,
    /// From which angles on grain is marked.
    GrainRuns,
    /// Into how many parts an inch is divided.
    Denominator,
    /// The step to which millimetres are shown.
    Step,
    /// The number of the format.
    Format,
    /// The changes of a variant.
    Changes,
    /// What a shop file holds.
    ShopFile,
}

/// What is missing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Missing {
    /// A field, with its meaning and an example.
    Field {
        /// Its name.
        name: &'static str,
        /// Its meaning.
        meaning: &'static str,
        /// Its value as it may be written.
        example: Offered<String>,
        /// Whether a variant takes it away.
        taken_away: bool,
    },
    /// The one field of these that tells what an object is.
    Form(Vec<&'static str>),
    /// Of which of these kinds something is.
    Kind(&'static str, &'static [&'static str]),
    /// The depth of the mortise in a joint's first part.
    MortiseDepth,
    /// The length of a tenon.
    TenonLength,
    /// A size of a leg's section.
    LegSection(&'static str),
    /// The diameter of a hole in the top.
    HoleDiameter,
    /// The size of a box.
    BoxSize,
    /// The length or the width of a base.
    Span(&'static str),
}

/// How many belong in a list.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Count {
    /// Two lengths.
    Pair,
    /// Three, such as these.
    Triple(Offered<String>),
    /// One edge of a template or two.
    Edges,
}

/// Why a name cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WhyBadName {
    /// It is empty, longer than so many characters, or holds what is not seen.
    NotPlain(usize),
    /// It cannot stand in a sum.
    NotInSums,
    /// It is that of a unit.
    Unit,
}

/// A word that is none of those that belong there.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum WrongWord {
    /// This is none of the choices.
    Choice(String, Vec<&'static str>, Offered<Option<&'static str>>),
    /// This names no edge; whether an edge may run on from its neighbours.
    Edge(String, bool),
    /// The units of a shop file.
    ShopUnits,
}

/// A file of another kind than the one that belongs in its place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum OtherFile {
    /// A shop file where a piece's belongs.
    Shop,
    /// A piece's, as this field of it shows, where a shop file belongs.
    Piece(String),
}

/// What lies out of its range.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Ranged {
    /// The value of a field of this name.
    Field(String),
    /// A number that is to be whole, and from the second to the third.
    Whole(f64, f64, f64),
    /// What a bar reads, on its side in inches or else on that in millimetres.
    Bar(bool, Length),
}

data!(Expected, Missing, Count, WhyBadName, WrongWord, OtherFile, Ranged);

problems! {
    /// About fields and what stands in them.
    pub(crate) enum FieldProblem {
        /// A null stands in place of this.
        Stop "null-value" Null { wanted: Option<Expected> }
        /// One kind stands in place of another.
        Stop "wrong-kind" WrongKind { wanted: Expected, found: NodeKind }
        /// There is no such field.
        Stop "unknown-field" UnknownField { name: String, fields: Offered<Names> }
        /// Something is missing.
        Stop "field-missing" Missing { what: Missing }
        /// A text is empty.
        Stop "empty-text" EmptyText { example: Offered<String> }
        /// A text has too many characters.
        Stop "text-too-long" LongText { length: usize, most: usize }
        /// Something has too many entries.
        Stop "too-many" TooMany { count: usize, most: usize }
        /// A list has another number of entries than it must.
        Stop "wrong-count" WrongCount { wanted: Count, count: usize }
        /// A name cannot be used.
        Stop "bad-name" BadName { name: String, why: WhyBadName }
        /// A word is none of those that are known.
        Stop "unknown-word" UnknownWord { what: WrongWord }
        /// A number lies out of its range.
        Stop "out-of-range" OutOfRange {
            what: Ranged, value: Option<Amount> as "value", smallest: Option<Amount> as "smallest",
            largest: Option<Amount> as "largest",
        }
        /// An object is of two forms.
        Stop "two-forms" TwoForms { first: &'static str, second: &'static str }
        /// A file is of a format yet to come, or of one that never was.
        Stop "unknown-format" UnknownFormat { newer: Option<Amount> }
        /// A field is not read yet.
        Stop "not-in-this-version" NotYet { field: &'static str }
        /// A variant changes the variants.
        Stop "variant-in-variant" VariantInVariant {}
        /// No rule is divided so.
        Stop "bad-denominator" BadDenominator { number: Amount }
        /// Millimetres are not shown in such steps.
        Stop "bad-step" BadStep { number: Amount }
        /// What holds a top is a word by itself, which would be words only.
        Stop "fasteners-in-words" FastenersInWords { word: &'static str }
        /// There is no such variant.
        Stop "unknown-variant" UnknownVariant { name: String, variants: Offered<Names> }
        /// A file is of another kind than the one that belongs in its place.
        Stop "other-file" OtherFile { is: OtherFile }
        /// There are more than are shown.
        Stop "more-problems" More { shown: usize }
    }
}
