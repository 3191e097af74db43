//! Words for what is wrong with the fields of a file.

use super::listed;
use crate::finding::{Amount, Cures, Names, Said, Unit, Words, quoted};
use crate::model::RuleBar;
use crate::project::{Count, Expected, FieldProblem, Missing, OtherFile, Ranged, WhyBadName, WrongWord};
use crate::units::{Length, Notation, Units};

/// The denominators of a maker's rule.
const DENOMINATORS: &str = "write 2, 4, 8, 16, 32, 64 or 128";

const STEPS: &str = "write 0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5 or 1, in millimetres";

impl Expected {
    /// What belongs there, and how it is written.
    fn said(&self) -> Said {
        match self {
            Expected::Object | Expected::Project | Expected::ObjectWith(_) | Expected::ObjectOfKind(_) => {
                self.object()
            }
            Expected::Angle => Said::new("an angle", "write an angle, for example 12 or \"1:6\""),
            Expected::Number => Said::new("a number", "write a number, for example 2"),
            Expected::Length => Said::new("a length", "write a length, for example \"38 mm\" or \"1 1/2 in\""),
            Expected::LengthOrAngle => {
                Said::new("a length or an angle", "write for example \"38 mm\", \"1 1/2 in\" or \"12 deg\"")
            }
            Expected::Text(example) => {
                Said::new("a text", format!("write a text in quotes, for example {}", example.0))
            }
            Expected::Note => Said::new("a text", "write \"note\": \"…\""),
            Expected::Whole(low, high) => {
                Said::new("a whole number", format!("write a whole number from {low} to {high}"))
            }
            Expected::Bool => Said::new("true or false", "write true or false, without quotes"),
            Expected::List(example) => Said::new("a list", format!("write a list, for example {}", example.0)),
            Expected::Pair => Said::new("a pair of lengths", "write two in a list, for example [100, 50]"),
            Expected::AnglePair => Said::new("a pair of angles", "write two in a list, for example [0, 90]"),
            Expected::Triple(example) => {
                Said::new("a list of three", format!("write three, for example {}", example.0))
            }
            Expected::Entries(example) => {
                Said::new("an object of named entries", format!("write for example {}", example.0))
            }
            Expected::Word(all) => Said::new("a word", format!("write one of {}", listed(all))),
            Expected::Edge => {
                Said::new("\"straight\" or a curve", "write \"straight\", or for example { \"rise\": 20 }")
            }
            Expected::Profile => Said::new("a profile", "write for example { \"round_over\": 6 }"),
            Expected::GrainRuns => {
                Said::new("true, false or thresholds", "write true, or for example { \"along\": 4 }")
            }
            Expected::Denominator => Said::new("a whole number", DENOMINATORS),
            Expected::Step => Said::new("a number", STEPS),
            Expected::Format => Said::new("the number of the format", "write 1"),
            Expected::Changes => {
                Said::new("an object of changes", "write for example { \"sizes\": { \"height\": 900 } }")
            }
            Expected::ShopFile => Said::new("one object", "write for example { \"paper\": \"A4\" }"),
        }
    }

    fn object(&self) -> Said {
        match self {
            Expected::Project => {
                Said::new("the object that is the project", "write { \"fullsize\": 1, \"title\": \"…\", … }")
            }
            Expected::ObjectWith(all) => {
                Said::new("an object", format!("write an object with one of {}", listed(all)))
            }
            Expected::ObjectOfKind(kind) => Said::new("an object", format!("write {{ \"kind\": \"{kind}\", … }}")),
            _ => Said::new("an object", "write { \"name\": value, … }"),
        }
    }
}

impl Missing {
    fn said(&self) -> Said {
        match self {
            Missing::Field { name, meaning, example, taken_away: true } => Said::new(
                format!("\"{name}\" cannot be taken away: {meaning}"),
                format!("give it a value, such as {}, or leave it as it is", example.0),
            ),
            Missing::Field { name, meaning, example, taken_away: false } => {
                Said::new(format!("\"{name}\" is missing: {meaning}"), format!("add \"{name}\": {}", example.0))
            }
            Missing::Form(all) => {
                Said::new("this object does not say what it is", format!("give it one of {}", listed(all)))
            }
            Missing::Kind(what, all) => Said::new(
                format!("\"kind\" is missing: what kind of {what} this is"),
                format!("add \"kind\": one of {}", listed(all)),
            ),
            Missing::MortiseDepth => Said::new("how deep the first part is mortised is missing", "add \"length\""),
            Missing::TenonLength => Said::new("the length of the tenon is missing", "add \"length\""),
            Missing::LegSection(field) => Said::new(
                format!("\"{field}\" is missing: the size of the leg's section"),
                format!("add \"{field}\", or \"round\" for turned legs"),
            ),
            Missing::HoleDiameter => {
                Said::new("\"diameter\" is missing: that of the hole in the top", "add \"diameter\"")
            }
            Missing::BoxSize => Said::new("the size of the box is missing", "add \"side\" or \"across\""),
            Missing::Span(name) => Said::new(
                format!("the {name} is missing"),
                format!("add \"{name}_at_top\", \"{name}_at_floor\", or an \"overhang\" under the top"),
            ),
        }
    }
}

fn wrong_count(wanted: &Count, count: usize) -> Said {
    match wanted {
        Count::Pair => Said::new(format!("two lengths belong here, not {count}"), "write two, for example [100, 50]"),
        Count::Triple(example) => {
            Said::new(format!("three belong here, not {count}"), format!("write for example {}", example.0))
        }
        Count::Edges => Said::new(
            format!("a template carries one edge or two, not {count}"),
            "name one edge, or the two that it runs between",
        ),
    }
}

fn bad_name(name: &str, why: WhyBadName) -> Said {
    let cannot = format!("{} cannot be used as a name", quoted(name));
    match why {
        WhyBadName::NotPlain(longest) => Said::new(
            cannot,
            format!("write a name of 1 to {longest} characters on one line, without spaces around it"),
        ),
        WhyBadName::NotInSums => {
            Said::new(cannot, "use letters, digits and _, a letter first, and no name of a unit")
        }
        WhyBadName::Unit => Said::new(
            format!("{name} is a unit here, and cannot name a size"),
            format!("call it \"{}\"", other_name(name)),
        ),
    }
}

/// A name that a size may have in place of a unit's.
fn other_name(unit: &str) -> String {
    match unit.to_ascii_lowercase().as_str() {
        "foot" | "feet" | "ft" => "foot_width".to_owned(),
        lower => format!("{lower}_size"),
    }
}

fn wrong_word(what: &WrongWord) -> Said {
    match what {
        WrongWord::Choice(text, all, near) => {
            let all = listed(all);
            Said::new(
                format!("{} is none of the choices here", quoted(text)),
                match near.0 {
                    Some(near) => format!("did you mean \"{near}\"? the choices are {all}"),
                    None => format!("write one of {all}"),
                },
            )
        }
        WrongWord::Edge(text, blends) => {
            let blend = if *blends { ", \"blend\"" } else { "" };
            Said::new(
                format!("{} does not name an edge", quoted(text)),
                format!("write \"straight\"{blend}, or for example {{ \"rise\": 20 }}"),
            )
        }
        WrongWord::ShopUnits => Said::new("the units of a shop file are \"mm\" or \"in\"", "write \"mm\" or \"in\""),
    }
}

/// A number to three decimals, for a message.
pub(super) fn rounded(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0
}

/// An amount; a length is written by this.
fn amount(Amount(number, unit): Amount, length: impl Fn(Length) -> String) -> String {
    match unit {
        Unit::Mm => length(Length::from_mm(number)),
        Unit::Degree => format!("{}°", rounded(number)),
        _ => rounded(number).to_string(),
    }
}

fn of_field(name: &str, [value, smallest, largest]: [Option<Amount>; 3], notation: &Notation) -> Said {
    let value = value.unwrap_or(Amount(0.0, Unit::Plain));
    let said = amount(value, |length| notation.exact(length));
    match (smallest, largest) {
        (Some(least), _) if value.0 < least.0 => Said::new(
            format!("{said} is too small for \"{name}\""),
            format!("at least {} may be written here", amount(least, |length| notation.range_start(length))),
        ),
        (_, most) => Said::new(
            format!("{said} is too large for \"{name}\""),
            most.map_or_else(String::new, |most| {
                format!("at most {} may be written here", amount(most, |length| notation.range_end(length)))
            }),
        ),
    }
}

/// The bar that a reading is taken for, and the reading, in the units in which it was read.
pub(super) fn bar_read(inches: bool, reading: Length, notation: &Notation) -> (String, String) {
    let units = if inches { Units::Inch } else { Units::Mm };
    let bar = RuleBar::read(reading, inches);
    let name = if inches { format!("{} in", bar.inches) } else { format!("{} mm", bar.mm) };
    (name, Notation { units, ..notation.clone() }.exact(reading).replace('"', " in"))
}

fn out_of_range(what: &Ranged, amounts: [Option<Amount>; 3], notation: &Notation) -> Said {
    match what {
        Ranged::Field(name) => of_field(name, amounts, notation),
        Ranged::Whole(number, low, high) => Said::new(
            format!("{number} is not a whole number from {low} to {high}"),
            format!("write a whole number from {low} to {high}"),
        ),
        Ranged::Bar(inches, reading) => {
            let (bar, read) = bar_read(*inches, *reading, notation);
            let share = reading.mm() / RuleBar::read(*reading, *inches).side(*inches).mm() - 1.0;
            let way = if share > 0.0 { "long" } else { "short" };
            Said::new(
                format!(
                    "a bar of {bar} that reads {read} is {:.1} % too {way}, and no printer or paper does so much",
                    share.abs() * 100.0
                ),
                format!(
                    "a scaling setting (\"fit to page\") was left on: print again at 100 % (\"actual size\") and write what the bar of {bar} \
                     then reads; a reading in inches is of its side in inches, one in millimetres of its side in millimetres"
                ),
            )
        }
    }
}

fn unknown_variant(name: &str, Names { near, all }: &Names) -> Said {
    let remedy = match near {
        _ if all.is_empty() => "the file has no variants; leave the variant out".to_owned(),
        Some(near) => format!("did you mean \"{near}\"? the variants are {}", listed(all)),
        None => format!("the variants are {}", listed(all)),
    };
    Said::new(format!("there is no variant {}", quoted(name)), remedy)
}

fn wrong_kind(problem: &FieldProblem) -> Said {
    let leave_out = "leave the field out; null takes a field away only inside \"variants\"";
    match problem {
        FieldProblem::Null { wanted: Some(wanted) } => {
            Said::new(format!("null stands where {} belongs", wanted.said().message), leave_out)
        }
        FieldProblem::WrongKind { wanted: Expected::ShopFile, found } => {
            let Said { message, remedy } = Expected::ShopFile.said();
            Said::new(format!("a shop file holds {message}, not {}", found.said()), remedy)
        }
        FieldProblem::WrongKind { wanted, found } => {
            let Said { message, remedy } = wanted.said();
            Said::new(format!("{message} belongs here, not {}", found.said()), remedy)
        }
        _ => Said::new("null stands here", leave_out),
    }
}

impl Words for FieldProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        match self {
            FieldProblem::Null { .. } | FieldProblem::WrongKind { .. } => wrong_kind(self),
            FieldProblem::UnknownField { name, fields } => Said::new(
                format!("there is no field {} here", quoted(name)),
                match &fields.0 {
                    Names { near: Some(near), .. } => format!("did you mean \"{near}\"?"),
                    Names { near: None, all } => format!("the fields here are {}", listed(all)),
                },
            ),
            FieldProblem::Missing { what } => what.said(),
            FieldProblem::EmptyText { example } => {
                Said::new("this text is empty", format!("write for example {}", example.0))
            }
            FieldProblem::LongText { length, most } => Said::new(
                format!("this text has {length} characters; the most is {most}"),
                "shorten it, or put it into a \"note\"",
            ),
            FieldProblem::TooMany { count, most } => Said::new(
                format!("{count} entries stand here; the most is {most}"),
                "divide the project among several files",
            ),
            FieldProblem::WrongCount { wanted, count } => wrong_count(wanted, *count),
            FieldProblem::BadName { name, why } => bad_name(name, *why),
            FieldProblem::UnknownWord { what } => wrong_word(what),
            FieldProblem::OutOfRange { what, value, smallest, largest } => {
                out_of_range(what, [*value, *smallest, *largest], notation)
            }
            FieldProblem::TwoForms { first, second } => {
                Said::new(format!("\"{first}\" and \"{second}\" exclude each other"), "keep one of the two")
            }
            FieldProblem::UnknownFormat { newer: Some(Amount(number, _)) } => Said::new(
                format!("this file has format {number}; this version reads format 1"),
                "use a newer version, or write 1 if the file was made for this one",
            ),
            FieldProblem::UnknownFormat { newer: None } => {
                Said::new("the only format there is has the number 1", "write 1")
            }
            FieldProblem::NotYet { field } => Said::new(
                format!("this version does not read \"{field}\""),
                "draw the parts under \"patterns\", or use a newer version",
            ),
            FieldProblem::VariantInVariant {} => {
                Said::new("a variant cannot change the variants", "remove it from the variant")
            }
            FieldProblem::BadDenominator { number } => {
                Said::new(format!("no rule is divided into {} parts of an inch", number.0), DENOMINATORS)
            }
            FieldProblem::BadStep { number } => {
                Said::new(format!("millimetres are not shown in steps of {}", number.0), STEPS)
            }
            FieldProblem::FastenersInWords { word } => Said::new(
                format!(
                    "\"{word}\" by itself would be words only: nothing would be drawn or checked, and nothing hold the top"
                ),
                format!(
                    "write {{ \"by\": \"{word}\" }}; where set wrote it, set it to none first, and then by={word}"
                ),
            ),
            FieldProblem::UnknownVariant { name, variants } => unknown_variant(name, &variants.0),
            FieldProblem::OtherFile { is: OtherFile::Shop } => Said::new(
                "this is a shop file: it says what a shop prints and cuts with, and holds no piece",
                "name the file of the piece; a shop file stands behind --shop (fullsize print PIECE.json --shop SHOP.json)",
            ),
            FieldProblem::OtherFile { is: OtherFile::Piece(field) } => Said::new(
                format!("this is the file of a piece, since it has {}: no shop file has that", quoted(field)),
                "name a shop file here; it holds what stands between the braces behind \"shop\" in a piece's file, such as { \"paper\": \"A4\" }",
            ),
            FieldProblem::More { shown } => Said::new(
                format!("there are more problems than the {shown} that are shown"),
                "cure these first, then check again",
            ),
        }
    }
}
