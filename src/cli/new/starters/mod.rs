//! The pieces that `new` starts: what it asks, the file it writes, and what each size means in the picture.
//!
//! A size has the words of its question for a name, so that `set` knows it by them. What an explanation calls usual is common
//! practice, from memory, no source.

mod boxes;
mod flat;
mod leaning_frames;
mod splayed_legs;

use crate::geometry::Point;
use crate::layout::Dimension;
use crate::units::Units;
use boxes::{BOARDS, SPLAYED_BOX};
use flat::{BOWED_EDGE, BRACKET, CURVED_LEG};
use leaning_frames::LEANING_FRAMES;
use splayed_legs::SPLAYED_LEGS;

/// What kind of answer is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// A length above zero.
    Length,
    /// A length above zero, or none, which stands in the file as 0.
    Perhaps,
    /// An angle; how large it may be the table of the file's fields says.
    Angle,
    /// A whole number; it stands in the file itself, not among its sizes, and the table of its fields says how large it may be.
    Count,
    /// One of some words, which decides what else stands in the file.
    OneOf(&'static [&'static str]),
    /// A word or two that stand in the file itself, such as a wood.
    Words,
}

/// Something that is asked for.
#[derive(Debug)]
pub struct Question {
    /// Its name: what it is called, as a size of the file is named where it is one.
    pub name: &'static str,
    /// What it is called, in the question and in the picture.
    pub called: &'static str,
    /// What it means, as a maker asks; empty where its name says it.
    pub meaning: &'static str,
    /// What `?` says: from where to where it is measured, what is usual and why, what follows from it.
    pub explained: &'static str,
    /// Default in millimetres and in inches, as written.
    pub default: (&'static str, &'static str),
    /// Lengths that it follows while nobody has given it: the first of them that somebody has given, times this.
    pub follows: &'static [(&'static str, f64)],
    /// The question and the answers without which it is not asked.
    pub only: Option<(&'static str, &'static [&'static str])>,
    /// What kind of answer is wanted.
    pub wanted: Wanted,
    /// Whether what is proposed gives way to what was answered before, where it does not go with that.
    pub gives_way: bool,
}

/// A length that is asked for: its name, what it is called, what it means, what `?` says, what is proposed in millimetres and in inches.
const fn length(
    name: &'static str,
    called: &'static str,
    meaning: &'static str,
    explained: &'static str,
    default: (&'static str, &'static str),
) -> Question {
    let wanted = Wanted::Length;
    Question { name, called, meaning, explained, default, follows: &[], only: None, wanted, gives_way: false }
}

/// An angle that is asked for.
const fn angle(
    name: &'static str,
    called: &'static str,
    meaning: &'static str,
    explained: &'static str,
    default: &'static str,
) -> Question {
    Question { wanted: Wanted::Angle, ..length(name, called, meaning, explained, (default, default)) }
}

/// A length that may be left out.
const fn perhaps(
    name: &'static str,
    called: &'static str,
    meaning: &'static str,
    explained: &'static str,
) -> Question {
    Question { wanted: Wanted::Perhaps, ..length(name, called, meaning, explained, (NONE, NONE)) }
}

/// One of some words, the first unless another is chosen.
const fn one_of(
    name: &'static str,
    called: &'static str,
    meaning: &'static str,
    explained: &'static str,
    words: &'static [&'static str],
) -> Question {
    Question { wanted: Wanted::OneOf(words), ..length(name, called, meaning, explained, (words[0], words[0])) }
}

/// A length of which what is proposed gives way.
const fn giving_way(question: Question) -> Question {
    Question { gives_way: true, ..question }
}

/// A length that follows others.
const fn following(question: Question, follows: &'static [(&'static str, f64)]) -> Question {
    Question { follows, ..question }
}

/// A size that follows others and is asked only where something is wanted; what is proposed gives way.
const fn where_wanted(question: Question, of: &'static str, follows: &'static [(&'static str, f64)]) -> Question {
    following(only(giving_way(question), of, &[YES]), follows)
}

/// What is asked only after some answers to another question.
const fn only(question: Question, other: &'static str, answers: &'static [&'static str]) -> Question {
    Question { only: Some((other, answers)), ..question }
}

/// What is answered where something is left out.
pub const NONE: &str = "none";

/// Answers to whether there is something.
const YES: &str = "yes";
pub const NO: &str = "no";

/// A size of the file by its name, mm.
pub type Size<'a> = dyn Fn(&str) -> f64 + 'a;

/// Dimensions, and the guide lines that make them plain.
pub type Meaning = (Vec<Dimension>, Vec<(Point, Point)>);

/// A part of a file that is there after some answers.
#[derive(Debug)]
pub struct Part {
    /// What stands in its place in the starter's file.
    pub mark: &'static str,
    /// Questions with the answers after which it is there, all of them.
    pub after: &'static [(&'static str, &'static [&'static str])],
    /// Its text; `@NAME@` is the answer to a question.
    pub text: &'static str,
}

/// A piece to start from.
#[derive(Debug)]
pub struct Starter {
    /// Its name on the command line.
    pub kind: &'static str,
    /// What it is.
    pub title: &'static str,
    /// What is asked.
    pub questions: &'static [Question],
    /// The file, with `@title@`, `@units@`, `@shop@` and `@sizes@` to be filled in, and the marks of parts.
    pub file: &'static str,
    /// Parts of the file that hang on answers; of one mark they follow each other.
    pub parts: &'static [Part],
    /// What each size of a flat part means: dimensions on the pattern and the guide lines under them, with the file's
    /// sizes by name in mm. A base is drawn with its own dimensions.
    pub dimensions: Option<Dimensions>,
}

/// Dimensions of a flat part, of its sizes.
pub type Dimensions = fn(&Size) -> Meaning;

impl Question {
    /// The default in the given units, as written.
    pub fn default_in(&self, units: Units) -> &'static str {
        match units {
            Units::Mm => self.default.0,
            Units::Inch => self.default.1,
        }
    }

    /// Whether its answer is one of the file's named sizes.
    pub fn is_size(&self) -> bool {
        matches!(self.wanted, Wanted::Length | Wanted::Perhaps | Wanted::Angle)
    }
}

/// Everything that `new` can start.
pub const STARTERS: [&Starter; 7] =
    [&BOWED_EDGE, &CURVED_LEG, &BRACKET, &LEANING_FRAMES, &SPLAYED_LEGS, &SPLAYED_BOX, &BOARDS];

/// What holds the top.
const FASTENERS: Question = one_of(
    "fasteners",
    "Fasteners",
    "what holds the top to the base",
    "Across its grain a top of solid wood grows and shrinks by some millimetres a year; held fast it splits. Buttons are small blocks \
     that hook into the base and slide there, usual under a heavy top or where parts lean. Slots are screws in long holes, quick where \
     the parts under the top stand plumb and are thick enough for a screw's head. From this follow patterns of the buttons and of their \
     mortises, or of the slots, and where each stands.",
    &["buttons", "slots", NONE],
);

/// What holds it where it moves.
const HOLDS: &[&str] = &["buttons", "slots"];

/// The wood and its moisture, by which it is known how far the top moves.
const SPECIES: Question = only(
    Question {
        wanted: Wanted::Words,
        ..length(
            "species",
            "Species",
            "the wood of the top",
            "How far the top moves hangs on its wood: white oak moves about half as much again as mahogany. Its moisture is taken as 8 % \
             today and as 6 to 11 % in use, as in a heated house; \"set\" changes both. From this follow the length of slots and the \
             room in the mortises of buttons.",
            ("white oak", "white oak"),
        )
    },
    "fasteners",
    HOLDS,
);

/// The part of a file that holds the top.
const HELD: Part = Part {
    mark: "@fasteners@\n",
    after: &[("fasteners", HOLDS)],
    text: "    \"species\": \"@species@\",\n    \"moisture\": { \"today\": 8, \"driest\": 6, \"dampest\": 11 },\n    \"fasteners\": { \"by\": \"@fasteners@\" },\n",
};

/// Whether there are tenons.
const JOINTS: Question = one_of(
    "joints",
    "Joints",
    "a loose tenon in every joint of the base",
    "A loose tenon is a slip of wood glued into a mortise on either side of the joint, so that rails and aprons are sawn to their \
     shoulders and no longer. With yes every mortise stands on the patterns and in the schedule, and what is too near to a surface is \
     told; with no the joints are left to you.",
    &[YES, NO],
);

/// How thick the tenons are.
const fn tenon_thickness(usual: (&'static str, &'static str)) -> Question {
    only(
        giving_way(length(
            "tenon_thickness",
            "Tenon thickness",
            "of all tenons",
            "Measured square to its broad faces; it is the width of the cutter or chisel that cuts the mortises. A third of the thinnest \
             part that it goes into is usual, so that about as much wood stays on either side. What is proposed leaves walls that are \
             thick enough in all parts as answered.",
            usual,
        )),
        "joints",
        &[YES],
    )
}
