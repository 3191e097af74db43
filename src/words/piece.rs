//! Words for what the numbers of a piece cannot make.

use super::written;
use crate::finding::{Change, Cures, Degrees, Ratio, Said, Setting, Words};
use crate::piece::{
    BoxProblem, FrameProblem, LegSide, LegsCross, LegsProblem, NoEnd, NumberChange, NumberProblem, PieceProblem,
    SidesFault, TaperBeyond, TongueSize, TongueWall, TopProblem,
};
use crate::units::{Length, Notation};

/// `a stretcher height`, `an outside edge rise`.
pub(super) fn with_article(called: &str) -> String {
    let article = if called.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {called}")
}

impl Change for NumberChange {
    /// `a stretcher height of 140 mm`.
    fn say(&self, settings: &[Setting], notation: &Notation) -> String {
        let one = |(set, called): (&Setting, &String)| {
            format!("{} of {}", with_article(called), written(set.value, notation))
        };
        settings.iter().zip(&self.called).map(one).collect::<Vec<_>>().join(" together with ")
    }
}

/// The words with the numbers that cure in place of their own remedy.
pub(super) fn cured(own: Said, cures: &Cures, notation: &Notation) -> Said {
    let remedy = match cures {
        Cures::Nearest(cure) => format!("{} just fits", cure.said(notation)),
        Cures::Half(tried, then) => format!(
            "{}; no one number was found that cures it, nor two: with {}, {}",
            own.remedy,
            tried.said(notation),
            then.said(notation).message
        ),
        Cures::Untried | Cures::None | Cures::Any(_) => return own,
    };
    Said { remedy, ..own }
}

macro_rules! cured {
    ($($problem:ident),*) => {$(
        impl Words for $problem {
            fn say(&self, notation: &Notation, cures: &Cures) -> Said {
                cured(self.own_words(notation), cures, notation)
            }
        }
    )*};
}

cured!(NumberProblem, PieceProblem, TopProblem, FrameProblem, LegsProblem, BoxProblem);

impl NumberProblem {
    fn own_words(&self, notation: &Notation) -> Said {
        let say = |length: &Length| notation.length(*length);
        match self {
            NumberProblem::Small { what, given, above } => {
                let least = if *above { "more than nothing" } else { "nothing or more" };
                Said::new(
                    format!("{what} is {}; it must be {least}", say(given)),
                    match above {
                        true => "give a length above zero".to_owned(),
                        false => format!("give {} or more", say(&Length::ZERO)),
                    },
                )
            }
            NumberProblem::Large { what, given, most } => Said::new(
                format!("{what} is {}; nothing here may be longer than {}", say(given), say(most)),
                format!("at most {}", say(most)),
            ),
            NumberProblem::Steep { what, given, most: Degrees(most) } => Said::new(
                format!("{what} is {}; no more than {}° can be sawn", notation.angle(*given), most.abs()),
                format!("at most {most}° may be written"),
            ),
        }
    }
}

fn clash(one: &str, other: &str, depth: Length, at: &Option<[Length; 3]>, notation: &Notation) -> Said {
    let about = |at: &[Length; 3]| {
        let [x, y, z] = at.map(|length| notation.length(length));
        format!(", about x {x}, y {y}, z {z}")
    };
    let about = at.as_ref().map_or_else(String::new, about);
    Said::new(
        format!("{one} and {other} run into each other by {}{about}", notation.length(depth)),
        "move one of them, make it smaller, or cut it against the other",
    )
}

impl PieceProblem {
    fn own_words(&self, notation: &Notation) -> Said {
        let say = |length: &Length| notation.length(*length);
        match self {
            PieceProblem::ShownAsSawn { part } => Said::new(
                format!("the {part} with its joints does not close in the model, which shows it as sawn"),
                "",
            ),
            PieceProblem::WeighedAsSawn { part } => Said::new(
                format!("the {part} could not be measured with its joints: its volume is that of the part as sawn"),
                "",
            ),
            PieceProblem::NothingLeft { part } => Said::new(
                format!("the cuts leave nothing of the {part}"),
                "make it longer or thinner, or its angles smaller",
            ),
            PieceProblem::TopTooThick { thickness, height } => Said::new(
                format!("a top {} thick leaves nothing of a height of {}", say(thickness), say(height)),
                format!("make it more than {}", say(thickness)),
            ),
            PieceProblem::NoTopToOverhang {} => Said::new(
                "an overhang is given, and there is no top to stand over the base",
                "add a top, or give the length and width of the base",
            ),
            PieceProblem::OverhangTooLarge { top, overhang } => Said::new(
                format!("an overhang of {} leaves nothing under a top of {}", say(overhang), say(top)),
                format!("make it less than {}", notation.length(*top / 2.0)),
            ),
            PieceProblem::OutFromUnderTop { part, beyond } => Said::new(
                format!("the {part} stands {} out from under the top", say(beyond)),
                "make the top larger or straighter, or the base smaller",
            ),
            PieceProblem::NoPart {} => Said::new(
                "these numbers make no such part: some of its lines do not meet",
                "make the angles, curves or differences between sizes smaller",
            ),
            PieceProblem::RiseTooHigh { fits } => {
                Said::new(format!("the rise is more than half its chord, {}", say(fits)), "make the rise smaller")
            }
            PieceProblem::NoBatten {} => Said::new(
                "no batten springs through these points",
                "move the points so that the curve turns less between them",
            ),
            PieceProblem::NoLength { part: Some(part), short } => Said::new(
                format!(
                    "the {part} has no length: its ends pass each other by {}",
                    notation.length(short.unwrap_or(Length::ZERO))
                ),
                "move the parts between which it stands farther apart",
            ),
            PieceProblem::NoLength { part: None, .. } => {
                Said::new("the sides of the box have no length", "make the box wider or less deep")
            }
            PieceProblem::Clash { one, other, depth, at, .. } => clash(one, other, *depth, at, notation),
            PieceProblem::CutMisses { cut } => Said::new(
                format!("this cut ({cut}) does not touch the board: it takes nothing away"),
                "move the cut or the board, make the board longer, or leave the cut out",
            ),
            PieceProblem::BelowFloor { part, below } => Said::new(
                format!("the {part} reaches {} below the floor", say(below)),
                format!("make its depth smaller, or set it higher, by {}", say(below)),
            ),
            PieceProblem::FaceAlongBoard { .. } => Said::new(
                "the face points nearly along the board; it must point out of the board's face side",
                "give a direction more nearly square to \"along\"",
            ),
            PieceProblem::CutAlongFace {} => {
                Said::new("the cut runs along the board's face", "plane the board to thickness instead")
            }
            PieceProblem::CutThroughMiddle {} => Said::new(
                "the cut passes the point that tells which part to keep",
                "give \"keep\": a point of the part that stays",
            ),
            PieceProblem::AgainstNothing {} => Said::new(
                "there is no such board, or it has no edge of that name",
                "write ID.face, ID.far or ID.edge.NAME of a board of this base",
            ),
            PieceProblem::AgainstCurve {} => Said::new(
                "that edge is curved; a cut is flat",
                "cut against a straight edge, a face, or a plane of your own",
            ),
        }
    }
}

/// The wood that a tongue leaves.
fn tongue_wall(wall: &TongueWall, [given, left, fits]: [Length; 3], notation: &Notation) -> Said {
    let say = |length: Length| notation.length(length);
    let (what, of, each) = match wall.size {
        TongueSize::Depth => ("the depth of the tongue", "the end piece's width", " beyond the groove"),
        TongueSize::Thickness => ("the thickness of the tongue", "the top's thickness", " on either side"),
    };
    let left = if left > Length::ZERO { left } else { Length::ZERO };
    let message = format!(
        "{what} of the breadboard ends is {}: of {of}, {}, that leaves {}{each}",
        say(given),
        say(wall.whole),
        say(left)
    );
    let least = say(wall.least);
    let remedy = match wall.larger {
        None => format!("{} leaves {least} (common practice)", notation.at_most(fits)),
        Some(whole) => {
            format!("{of} of {} at least leaves {least} (common practice)", notation.at_least(whole))
        }
    };
    Said::new(message, remedy)
}

/// What cures a groove that runs into the final shape of the top.
pub(super) fn straighter(depth: Option<Length>, notation: &Notation) -> String {
    let shape = "or straighten the top's edges over the end pieces, or round its corners less";
    match depth {
        Some(depth) => format!("a tongue {} deep does, {shape}", notation.at_most(depth)),
        None => format!("make the end pieces wider, {shape}"),
    }
}

fn no_end(how: &NoEnd, [given, left, fits]: [Length; 3], notation: &Notation) -> Said {
    let given_said = notation.length(given);
    let largest = || format!("the largest that does is {}", notation.at_most(fits));
    match how {
        NoEnd::Wall(wall) => tongue_wall(wall, [given, left, fits], notation),
        NoEnd::Width => Said::new(
            format!("the breadboard ends are {given_said} wide, each more than a third of the length"),
            largest(),
        ),
        NoEnd::Pin => {
            Said::new(format!("pins of {given_said} are more than half as thick as the tongue is deep"), largest())
        }
        NoEnd::Shape(depth) => Said::new(
            "the shape of the top leaves no room for a tongue in its breadboard ends",
            straighter(*depth, notation),
        ),
    }
}

impl TopProblem {
    fn own_words(&self, notation: &Notation) -> Said {
        let zero = |length: &Option<Length>| length.unwrap_or(Length::ZERO);
        match self {
            TopProblem::NoEnd { how, given, left, fits } => no_end(how, [zero(given), zero(left), *fits], notation),
            TopProblem::ThinWalls { wall, given, left, fits } => tongue_wall(wall, [*given, *left, *fits], notation),
            TopProblem::NoMiddlePin { pins } => Said::new(
                format!("{pins} pins have none in the middle, where the end piece is held"),
                format!("{} or {} has one", pins.saturating_sub(1), pins + 1),
            ),
            TopProblem::NotRound { width, fits } => Said::new(
                format!("a round top {} long is {} wide", notation.length(*fits), notation.length(*width)),
                format!("{} makes it round, or make its shape oval", notation.exact(*fits)),
            ),
            TopProblem::EdgesMiss {} => {
                Said::new("a long edge and a short edge of the top do not meet", "make their rises smaller")
            }
            TopProblem::EdgesCross {} => Said::new("the top's edges cross each other", "make their rises smaller"),
        }
    }
}

fn bend(gap: Length) -> &'static str {
    if gap < Length::ZERO { "hollow" } else { "full" }
}

/// How an end lies on a leg that it misses.
fn misses(of: &str, beyond: Length, Ratio(landed): Ratio, notation: &Notation) -> String {
    let off = notation.length(beyond);
    match landed > 0.0 {
        true => format!("only {:.0} % of {of} lies on the leg; it reaches {off} beyond", 100.0 * landed),
        false => format!("{of} lies beside the leg, {off} off it at its farthest"),
    }
}

fn legs_cross(which: LegsCross, [width, room, past]: [Length; 3], notation: &Notation) -> Said {
    let words = match which {
        LegsCross::Heads => "heads",
        LegsCross::Feet => "feet",
        LegsCross::Middle => {
            return Said::new(
                format!("the legs pass the middle of the base by {} and cross each other", notation.length(past)),
                "make the base larger or the legs slimmer",
            );
        }
    };
    let room = if room > Length::ZERO { notation.length(room) } else { "no room".to_owned() };
    let message = format!(
        "the {words} of a frame's two legs are {} wide and have {room} each: they cross",
        notation.length(width)
    );
    Said::new(message, "make the legs slimmer or the base wider")
}

fn stretcher_off_rail(
    frame: &str,
    [bottom, top]: [Length; 2],
    [from, to]: [Length; 2],
    (flat, fills): (bool, Option<[Length; 2]>),
    notation: &Notation,
) -> Said {
    let say = |length: Length| notation.length(length);
    let offers = if from < to { format!("{} to {}", say(from), say(to)) } else { "nothing whole".to_owned() };
    let message = format!(
        "the stretcher's end stands from {} to {} above the floor, and the {frame} bottom rail offers {offers} over its thickness there",
        say(bottom),
        say(top)
    );
    let what = if flat { "thickness" } else { "depth" };
    let remedy = match fills {
        None => "make the stretcher thinner, or the bottom rail deeper".to_owned(),
        Some([height, deep]) => format!(
            "a height of {} together with a {what} of {} fits, or make the bottom rail deeper",
            notation.at_least(height),
            notation.at_most(deep)
        ),
    };
    Said::new(message, remedy)
}

impl FrameProblem {
    fn own_words(&self, notation: &Notation) -> Said {
        let say = |length: &Length| notation.length(*length);
        let zero = |length: &Option<Length>| length.unwrap_or(Length::ZERO);
        match self {
            FrameProblem::ApronFindsNoLie {} => Said::new(
                "no lie of the apron follows the leg's outside edge here",
                "make the apron less deep, or the leg's edge less curved",
            ),
            FrameProblem::ApronTooDeep { drop, depth, below } => Said::new(
                format!(
                    "an apron {} deep, dropped by {}, reaches {} below the legs' feet",
                    say(depth),
                    say(drop),
                    say(below)
                ),
                "make the apron less deep, or its drop smaller",
            ),
            FrameProblem::ApronFollowsChord { gap } => Said::new(
                format!(
                    "the apron follows the chord of the leg's curve over its own depth; the curve is {} by {} at most",
                    bend(*gap),
                    notation.length(gap.abs())
                ),
                "",
            ),
            FrameProblem::ApronProud { proud, hides } => Said::new(
                format!("the apron stands {} proud of the leg's hollow edge", say(proud)),
                format!("an inset of {} just hides it", notation.at_least(*hides)),
            ),
            FrameProblem::ApronInsetOff { frames, error } => Said::new(
                format!(
                    "between the unequal {} frames the apron's inset is off by {} at its lower arris",
                    frames.join(" and "),
                    say(error)
                ),
                "",
            ),
            FrameProblem::ApronLeavesEdge { left, slope, edge } => Said::new(
                format!(
                    "at its lower arris the apron's outside face stands {} farther {} than its inset from the leg's edge: it slopes {}, and \
                     the edge over that depth {}",
                    notation.length(left.abs()),
                    if left.mm() < 0.0 { "out" } else { "in" },
                    notation.angle(*slope),
                    notation.angle(*edge)
                ),
                "nothing, if that is meant; \"slope\": \"chord\" lays it along the edge",
            ),
            FrameProblem::ApronMissesLeg { beyond, landed } => Said::new(
                misses("the apron's end", *beyond, *landed, notation),
                "set the apron farther onto the leg, or make the leg wider",
            ),
            FrameProblem::ApronOffLeg { beyond, over: LegSide::Outside } => Said::new(
                format!("the apron's end reaches {} beyond the leg's outside edge", say(beyond)),
                "make its slope smaller, the inset larger, or lay it along the edge (\"slope\": \"chord\")",
            ),
            FrameProblem::ApronOffLeg { beyond, over: LegSide::Inside } => Said::new(
                format!("the apron's end reaches {} beyond the leg's inside edge", say(beyond)),
                "make the inset or the apron's thickness smaller, or the leg wider",
            ),
            FrameProblem::NoRail {} => Said::new(
                "the stretcher has no bottom rail to land on",
                "add a \"bottom_rail\", or leave the stretcher out",
            ),
            FrameProblem::FramesMeet { frame, length } => Said::new(
                format!(
                    "over the heads the base is {} long; two frames {} thick leave nothing between",
                    say(length),
                    say(frame)
                ),
                format!("make it longer by more than {}", notation.length(*frame * 2.0 - *length)),
            ),
            FrameProblem::LegsCross { which, width, room, past } => {
                legs_cross(*which, [zero(width), zero(room), zero(past)], notation)
            }
            FrameProblem::LegEdgesCross { own, up, over } => {
                let what = if *own { "the leg's two edges" } else { "the two legs of a frame" };
                Said::new(
                    format!("{what} cross by {} at {} up the slope", say(over), say(up)),
                    "make the edges less curved, or the legs farther apart",
                )
            }
            FrameProblem::RailsOverlap { over } => Said::new(
                format!("the bottom rail reaches {} into the top rail", say(over)),
                "make the rails less deep, or set the bottom rail lower",
            ),
            FrameProblem::RailTooThick { rail, thickness, leg, stands_out } => Said::new(
                format!(
                    "the {rail} is {} thick and stands {} out of a leg {} thick",
                    say(thickness),
                    say(stands_out),
                    say(leg)
                ),
                "make it thinner, or set it back less",
            ),
            FrameProblem::RailBelowFloor { rail, below } => Said::new(
                format!("the {rail}'s lower edge would lie {} below the floor", say(below)),
                "set it higher, or make it less deep",
            ),
            FrameProblem::StretcherOffRail { frame, stands, flat, fills, from, to, .. } => {
                stretcher_off_rail(frame, *stands, [*from, *to], (*flat, *fills), notation)
            }
        }
    }
}

impl LegsProblem {
    fn own_words(&self, notation: &Notation) -> Said {
        let say = |length: &Length| notation.length(*length);
        match self {
            LegsProblem::TaperOutside { how, most, .. } => {
                let how = match how {
                    TaperBeyond::Start => "begins below the foot; the arris is",
                    TaperBeyond::Width => "is wider than the leg, whose width is",
                    TaperBeyond::Thickness => "is thicker than the leg, whose thickness is",
                };
                Said::new(format!("the taper {how} {}", say(most)), format!("make it less than {}", say(most)))
            }
            LegsProblem::EndApronProud { reveal, .. } => Said::new(
                format!(
                    "the end aprons stand {} out of the legs' side faces at their inner front faces, because a leg of true section is not parallel to them",
                    notation.length(-*reveal)
                ),
                "set the end aprons farther in",
            ),
            LegsProblem::ApronsMeet { long, end, .. } => Said::new(
                format!(
                    "behind each leg the aprons run into each other: the long one reaches {} beyond the leg, the end one {}",
                    say(long),
                    say(end)
                ),
                "set one of them farther out, or make it thinner",
            ),
            LegsProblem::EndMissesLeg { part, beyond, landed } => Said::new(
                misses(&format!("the end of the {part}"), *beyond, *landed, notation),
                "set it farther onto the leg, or make the leg larger",
            ),
            LegsProblem::EndOffLeg { part, beyond } => Said::new(
                format!("the end of the {part} reaches {} beyond the leg", say(beyond)),
                "make its inset, thickness or depth smaller, or the leg larger",
            ),
            LegsProblem::TaperInJoint { part, from, .. } => Said::new(
                format!("the taper begins {} below the head, within the end of the {part}", say(from)),
                "begin it above or below that end",
            ),
            LegsProblem::OffStretcher { beyond } => Said::new(
                format!("the middle stretcher's end reaches {} beyond the end stretcher", say(beyond)),
                "make the stretchers less deep or thicker",
            ),
            LegsProblem::SlopeUnused {} => Said::new(
                "the slope makes no difference: these legs have plane faces, and their aprons lie along them",
                "take it out; only aprons between leaning frames take a slope",
            ),
        }
    }
}

impl BoxProblem {
    fn own_words(&self, notation: &Notation) -> Said {
        let say = |length: &Length| notation.length(*length);
        match self {
            BoxProblem::Sides { fault: SidesFault::Few, .. } => {
                Said::new("a box has at least three sides", "3 is the least")
            }
            BoxProblem::Sides { fault: SidesFault::Many, .. } => {
                Said::new("a box has at most 100 sides", "100 is the most")
            }
            BoxProblem::Sides { fault: SidesFault::Butted, .. } => {
                Said::new("only a box of four sides can be butted", "make it 4, or mitre the corners")
            }
            BoxProblem::Sides { fault: SidesFault::Across, .. } => Said::new(
                "an odd number of sides has no opposite arrises to measure across",
                "give the length of a side",
            ),
            BoxProblem::SidesMeet { thickness, depth, most } => match (thickness, depth) {
                (Some(thickness), _) => Said::new(
                    format!("sides {} thick meet in the middle of the box", say(thickness)),
                    format!("make them thinner than {}", say(most)),
                ),
                (None, depth) => Said::new(
                    format!(
                        "sides {} deep meet before they reach their upper edge",
                        notation.length(depth.unwrap_or(Length::ZERO))
                    ),
                    format!("make them less deep than {}", say(most)),
                ),
            },
            BoxProblem::SquareEdges { overhang } => Said::new(
                format!(
                    "with square edges the lower outside arris of the right and left side stands {} over the lower inside arris of the front and back side",
                    notation.length(overhang.abs())
                ),
                "plane the edges level",
            ),
        }
    }
}
