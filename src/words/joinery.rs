//! Words for what stops a joint or an aid.

use super::{did_you_mean, or};
use crate::finding::{Change as Worded, Cures, Said, Setting, Words};
use crate::joinery::{
    AidProblem, Change, Fewer, Instead, JointChange, NoMeeting, OffEnd, OffLanding, SeatProblem, SetIn, Square,
    TenonKind, TooLong,
};
use crate::model::joint::{Kind, Mortise, Spread};
use crate::units::{Length, Notation};

impl Worded for JointChange {
    /// `a "width" of 48 mm (2 mm less)`.
    fn say(&self, _settings: &[Setting], notation: &Notation) -> String {
        let said = self.said(notation);
        match &self.named {
            Some(name) => format!("for \"{name}\" {said}"),
            None => said,
        }
    }
}

impl JointChange {
    fn said(&self, notation: &Notation) -> String {
        let exact = |length: Length| notation.exact(length);
        let (joint, given) = (&self.joint, self.given);
        let way = if self.value < given { "less" } else { "more" };
        let by = format!("({} {way})", notation.measured((self.value - given).abs()));
        let (value, leg) = (exact(self.value), joint.is_turned_leg());
        let depths = |[first, second]: [Length; 2]| {
            format!("\"depths\" of {} and {} {by}, the tenon as much shorter,", exact(first), exact(second))
        };
        match &self.change {
            Change::FromFace(_) if joint.from_face.is_some() => format!("a \"from_face\" of {value} {by}"),
            Change::FromFace(_) => format!("a \"from_face\" of {value}"),
            Change::At(_) => format!("{value} {by} in place of the {} under \"at\"", exact(given)),
            Change::Margin if given > Length::ZERO => format!("a \"margin\" of {value} {by}"),
            Change::Margin => format!("a \"margin\" of {value}"),
            Change::Width => format!("a \"width\" of {value} {by}"),
            Change::Thickness => format!("a \"thickness\" of {value} {by}"),
            Change::Round if leg => format!("a \"tenon\" of {value} {by}"),
            Change::Round => format!("a \"thickness\" and \"width\" of {value} {by}"),
            Change::Second if leg => format!("a \"depth\" of {value} {by}"),
            Change::Second if joint.kind == Kind::Fixed => {
                format!("a \"length\" of {} {by}", exact(self.value - joint.clearance))
            }
            Change::First if joint.mortise == Mortise::Through => format!("a \"length\" of {value} {by}"),
            Change::First => depths([self.value, joint.depths[1]]),
            Change::Second => depths([joint.depths[0], self.value]),
            Change::Without(index) => match &joint.spread {
                Spread::At(all) => {
                    format!("leaving out the one at {}", all.get(*index).map_or_else(String::new, |at| exact(*at)))
                }
                Spread::Even { .. } => String::new(),
            },
            // Where it stands is told, as a tenon has a thickness too.
            Change::Number(pointer) => format!(
                "{} of {value} {by} under {}",
                super::piece::with_article(&self.called),
                pointer.trim_start_matches('/').replace('/', ".")
            ),
        }
    }
}

/// A place given by hand, or a hole, off its landing.
fn off_landing(how: &OffLanding, [smallest, largest]: [Length; 2], notation: &Notation) -> String {
    let (low, high) = (notation.at_least(smallest), notation.at_most(largest));
    match how {
        OffLanding::Apart { .. } => "move the tenon with \"from_face\", or make it thinner".to_owned(),
        OffLanding::NoPlace { landing, takes } => format!(
            "no place does: the landing is {} long there and the tenon takes {}",
            notation.exact(*landing),
            notation.exact(*takes)
        ),
        OffLanding::Beside => format!("from {low} to {high} it lies on it"),
        OffLanding::Tried => format!("from {low} to {high} it does"),
        OffLanding::Hole { moved: None, .. } => "set the legs farther in, or make the top larger".to_owned(),
        OffLanding::Hole { moved: Some(SetIn { along, across, tenon }), .. } => {
            let by = |by: &Option<Length>, way: &str| {
                by.map(|by| format!("set each leg {} farther in {way}", notation.at_least(by)))
            };
            let thin = tenon.map(|most| format!("make the \"tenon\" {} at most", notation.at_most(most)));
            let all = [by(along, "along the piece"), by(across, "across it"), thin];
            let all = all.into_iter().flatten().chain(["make the top larger".to_owned()]);
            all.collect::<Vec<_>>().join(", or ")
        }
    }
}

fn off_end(how: &OffEnd, [takes, through, largest]: [Length; 3], notation: &Notation) -> Said {
    let (takes, through, most) = (notation.exact(takes), notation.exact(through), notation.at_most(largest));
    let off_end = format!("a tenon that takes {takes} does not lie in an end {through} through");
    match how {
        OffEnd::Distance => {
            Said::new(off_end, format!("the largest distance from the face side that does is {most}"))
        }
        OffEnd::Thickness => Said::new(off_end, format!("the largest thickness that does is {most}")),
        OffEnd::ThicknessAtDepth => {
            Said::new(off_end, format!("the largest thickness that does at this depth is {most}"))
        }
        OffEnd::GlueDistance(set) => Said::new(
            format!(
                "a tenon {takes} thick, {} from the face side, comes out of a top {through} thick",
                notation.exact(*set)
            ),
            format!("leave \"from_face\" out, and it is centred; the largest that stays inside is {most}"),
        ),
        OffEnd::GlueThickness => Said::new(
            format!("a tenon {takes} thick does not lie in a top {through} thick"),
            format!("make it about a third of that, {most} (common practice)"),
        ),
    }
}

fn too_long(how: &TooLong, [depth, largest]: [Length; 2], notation: &Notation) -> Said {
    let say = |length: Length| notation.exact(length);
    match how {
        TooLong::ComesOut { board, surface, tenon } => {
            let there = say(Length::from_mm((largest.mm() * 1000.0).round() / 1000.0));
            let most = notation.at_most(largest);
            let remedy = match tenon {
                TenonKind::Turned => {
                    format!("less than {most} stays inside; or leave \"depth\" out for a hole that goes through")
                }
                TenonKind::Fixed(clearance) => {
                    let length = Length::from_mm((largest - *clearance).mm().max(0.0));
                    format!("a \"length\" of less than {} stays inside", notation.at_most(length))
                }
                TenonKind::Loose => {
                    format!("less than {most} stays inside: shorten the tenon, or share its length by \"depths\"")
                }
            };
            let depth = say(depth);
            let message =
                format!("a mortise {depth} deep comes out of the {board} ({surface}): there it is {there} deep");
            Said::new(message, remedy)
        }
        TooLong::GlueLine(depths) => Said::new(
            format!("a mortise {} deep goes through a board {} wide", say(depth), say(largest)),
            match depths {
                Some([first, second]) => {
                    format!("\"depths\" of {} and {}, the tenon as much shorter, does", say(*first), say(*second))
                }
                None => "glue it up from wider boards".to_owned(),
            },
        ),
    }
}

/// So many tenons that have no room: the landing with its margin and spacing, what it leaves and what each takes.
fn do_not_fit(
    count: usize,
    [landing, room, each]: [Length; 3],
    [margin, spacing]: [Option<Length>; 2],
    notation: &Notation,
) -> String {
    let say = |length: Length| notation.exact(length);
    let they = if count == 1 { "a tenon does".to_owned() } else { format!("{count} side by side do") };
    let leaves = match margin {
        Some(margin) if room <= Length::ZERO => {
            format!("margins of {} leave nothing of the landing of {}", say(margin), say(landing))
        }
        _ => format!("the landing leaves {}", say(room)),
    };
    let each = say(each);
    let each = if count == 1 { format!("it takes {each}") } else { format!("each takes {each}") };
    let apart =
        spacing.filter(|_| count > 1).map_or_else(String::new, |s| format!(" and they stand {} apart", say(s)));
    format!("{they} not fit: {leaves}, {each}{apart}")
}

fn fewer(fewer: &Fewer, largest: u32, notation: &Notation) -> String {
    match fewer {
        Fewer::Untried => "make them fewer, narrower or thinner, or the part larger".to_owned(),
        Fewer::Apart(spacing, count) => {
            format!("a \"spacing\" of {} with a \"count\" of {count} does", notation.exact(*spacing))
        }
        Fewer::Count => format!("the largest count that does is {largest}"),
        Fewer::None => {
            "there is no room for such tenons there: make the part larger, or the tenons thinner and narrower"
                .to_owned()
        }
    }
}

fn do_not_meet(from: &str, into: &str, why: &NoMeeting) -> Said {
    let remedy = match why {
        NoMeeting::Nothing => {
            format!("the {from} meets nothing; exchange \"from\" and \"into\", or leave the joint out")
        }
        NoMeeting::Reversed => {
            format!("exchange them: \"from\" the {into}, whose ends are sawn, \"into\" the {from}")
        }
        NoMeeting::Others(others) => {
            format!("the {from} meets {}; the part whose end is sawn comes first", others.join(", "))
        }
    };
    Said::new(format!("no sawn end of the {from} lies on the {into}"), remedy)
}

impl Words for SeatProblem {
    fn say(&self, notation: &Notation, cures: &Cures) -> Said {
        let said = self.own_words(notation);
        match cures {
            Cures::Any(all) => Said { remedy: format!("{} does", or(all, " or ", notation)), ..said },
            Cures::Untried | Cures::None | Cures::Nearest(_) | Cures::Half(..) => said,
        }
    }
}

impl SeatProblem {
    fn own_words(&self, notation: &Notation) -> Said {
        let zero = |length: &Option<Length>| length.unwrap_or(Length::ZERO);
        match self {
            SeatProblem::AlongTheJoint {} => {
                Said::new("the tenon would lie in the joint, not across it", "make its axis \"square\"")
            }
            SeatProblem::OffLanding { how, at, smallest, largest, beyond } => {
                let message = match how {
                    OffLanding::Apart { from, into } => {
                        format!("the {from} does not lie on the {into} where the tenon would be")
                    }
                    OffLanding::Hole { joint, board, .. } => format!(
                        "the hole of the {joint} opens {} past the edge of the {board}",
                        notation.at_least(zero(beyond))
                    ),
                    OffLanding::NoPlace { .. } | OffLanding::Beside | OffLanding::Tried => format!(
                        "a tenon centred {} from the reference edge leaves the landing",
                        notation.exact(zero(at))
                    ),
                };
                Said::new(message, off_landing(how, [zero(smallest), zero(largest)], notation))
            }
            SeatProblem::OffEnd { how, takes, through, largest } => {
                off_end(how, [*takes, *through, *largest], notation)
            }
            SeatProblem::TooShallow { board, turned, smallest, .. } => {
                let least = notation.at_least(*smallest);
                Said::new(
                    format!("the mortise slants so much that one side of it has no depth in the {board}"),
                    match turned {
                        true => format!("a \"depth\" of more than {least} does, or make the \"tenon\" thinner"),
                        false => format!("make that mortise deeper than {least}, or the tenon narrower"),
                    },
                )
            }
            SeatProblem::TooLong { how, depth, largest, .. } => too_long(how, [*depth, *largest], notation),
            SeatProblem::ThroughACorner { board, turned } => Said::new(
                format!("a through tenon would come out of the {board} over a corner"),
                match turned {
                    true => "set the legs farther in, make the \"tenon\" thinner, or give its hole a \"depth\"",
                    false => "move it, make it narrower, or make its mortise \"blind\"",
                },
            ),
            SeatProblem::OnACurve { board } => Said::new(
                format!("the {board} is curved where the tenon would go in"),
                "give the joint a flat landing (\"meets\": \"flat\")",
            ),
            SeatProblem::DoNotFit { landing, margin, spacing, room, each, count, largest, fewer: left } => Said::new(
                do_not_fit(*count, [*landing, *room, *each], [*margin, *spacing], notation),
                fewer(left, *largest, notation),
            ),
            SeatProblem::IgnoredInGlueLine { field, goes } => Said::new(
                format!("\"{field}\" is not used in a glue line: its tenons lie {goes}"),
                format!("leave \"{field}\" out"),
            ),
            SeatProblem::NoGlueLines {} => Said::new(
                "the top has no glue lines to put tenons into",
                "give the widths of its boards: \"glue_up\": [150, 150, …]",
            ),
            SeatProblem::FixedInGlueLine {} => Said::new("a glue line has loose tenons only", "leave \"kind\" out"),
            SeatProblem::PartsDoNotMeet { from, into, why } => do_not_meet(from, into, why),
            SeatProblem::BothEnds {} => Said::new(
                "the same end would have the tenon in one place and its mortise in another",
                "make its \"kind\" \"loose\"",
            ),
        }
    }
}

fn instead(instead: Instead, notation: &Notation) -> String {
    match instead {
        Instead::TiltedBlade(bevel) => format!(
            "lay the part flat and tilt the blade {}: the schedule has the saw's setting",
            notation.angle(bevel)
        ),
        Instead::ByHand(bevel) => format!(
            "no blade tilts {} either: saw it proud by hand and plane to the pattern's lines",
            notation.angle(bevel)
        ),
        Instead::MitreFence => "turn the mitre fence instead: the schedule has the saw's setting".to_owned(),
        Instead::Line => "saw to the pattern's line instead".to_owned(),
    }
}

fn nothing_leans(what: &Square) -> Said {
    let message = match what {
        Square::Cut(Some(cut), part) => format!("the {cut} of the {part} is square"),
        Square::Cut(None, part) => format!("every cut of the {part} is square"),
        Square::Clamp(from, into) => format!("a clamp along the {from} bears square on the {into}"),
        Square::Plumb(part) => format!("the {part} stands plumb under the top"),
    };
    Said::new(message, "a square block does; leave the aid out")
}

impl Words for AidProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        match self {
            AidProblem::NothingLeans { what } => nothing_leans(what),
            AidProblem::NoTop {} => {
                Said::new("the piece has no top to lay it on", "add a \"top\", or leave the aid out")
            }
            AidProblem::NothingUnderTop { has_base } => Said::new(
                "no part of the base lies under the top",
                match has_base {
                    false => "add a \"base\", or leave the aid out",
                    true => "cut the boards that carry the top level at its underside, or leave the aid out",
                },
            ),
            AidProblem::NotUnderTop { part, under } => Said::new(
                format!("the {part} does not stand under the top"),
                format!("under it stand: {}", under.join(", ")),
            ),
            AidProblem::NoMortise { joint, part } => {
                let of = part.as_ref().map_or_else(String::new, |part| format!(" of the {part}"));
                Said::new(
                    format!("the joint \"{joint}\" cuts no mortise into a surface{of}"),
                    "name a joint that does, or leave \"part\" out",
                )
            }
            AidProblem::UnknownJoint { joint, near, known } => Said::new(
                format!("the file has no joint \"{joint}\""),
                did_you_mean(near).unwrap_or_else(|| match known.as_slice() {
                    [] => "the file has no \"joints\"; add the joint there".to_owned(),
                    known => format!("the joints are {}", known.join(", ")),
                }),
            ),
            AidProblem::TooFlat { part, resultant, heads } => {
                let angle = notation.angle(*resultant);
                Said::new(
                    format!("the {part} lies {angle} off square to the top: no drill goes in at that angle"),
                    match heads.as_slice() {
                        [] => "leave the aid out: no part stands with its head under the top".to_owned(),
                        heads => {
                            format!("the parts that stand with a head under the top are {}", heads.join(", "))
                        }
                    },
                )
            }
            AidProblem::UnknownCut { part, cut, near, known } => Said::new(
                format!("the {part} has no end or edge \"{cut}\""),
                did_you_mean(near).unwrap_or_else(|| format!("it has: {}", known.join(", "))),
            ),
            AidProblem::CaulOffTheWood { part, given, largest } => Said::new(
                format!(
                    "the caul is {} long, and the {part} under it only {}: the rest bears on nothing",
                    notation.exact(*given),
                    notation.length(*largest)
                ),
                format!("the longest that does is {}", notation.at_most(*largest)),
            ),
            AidProblem::CaulNarrow { thick, given, least } => Said::new(
                format!(
                    "a caul {} wide and {} thick tips over under the jaw",
                    notation.exact(*given),
                    notation.length(*thick)
                ),
                format!("the least width that does is {}, or make it shorter", notation.at_least(*least)),
            ),
            AidProblem::HoleUnlikeTenon { part, given, tenon } => {
                let stands = match given > tenon {
                    true => format!("would stand loose by {}", notation.exact(*given - *tenon)),
                    false => "does not go in".to_owned(),
                };
                let size = notation.exact(*tenon);
                let message = format!(
                    "the hole is drilled {}, and the {part}'s tenon of {size} {stands}",
                    notation.exact(*given)
                );
                Said::new(message, format!("leave \"diameter\" out, or make it {size}"))
            }
            AidProblem::WedgeTooSteep { wedge, angle, largest, instead: other } => Said::new(
                format!(
                    "the wedge {wedge} is {}: steeper than {} a part slides off its wedge (common practice, no source)",
                    notation.angle_and_slope(*angle),
                    notation.angle(largest.angle())
                ),
                instead(*other, notation),
            ),
        }
    }
}
