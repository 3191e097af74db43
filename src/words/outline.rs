//! Words for what is wrong with an outline.

use crate::finding::{Cures, Degrees, Said, Words};
use crate::geometry::{ContactKind, MirrorLine};
use crate::project::{NoShape, OutlineProblem, SmallerRise, Spot, SquareCure, TurningPoint};
use crate::units::{Length, Notation};

pub(super) fn spot(at: &Spot, notation: &Notation) -> String {
    format!("x {}, y {}", notation.length(at.x), notation.length(at.y))
}

/// The mirror line in words.
pub(super) fn line(line: MirrorLine) -> &'static str {
    match line {
        MirrorLine::X => "y = 0",
        MirrorLine::Y => "x = 0",
    }
}

fn turns_back(TurningPoint { number, at, past }: &TurningPoint, notation: &Notation) -> Said {
    let point = format!("point {number} of the batten, {}", spot(at, notation));
    match past {
        Some((end, by)) => Said::new(
            format!(
                "{point}, lies {} past the corner where its edge {end}: the batten has to turn back there",
                notation.length(*by)
            ),
            "was the corner moved? Move the point between the edge's two corners, or remove it",
        ),
        None => Said::new(
            format!("at {point}, the batten has to turn back on itself"),
            "give the points in the order in which the batten passes them, or move this one",
        ),
    }
}

fn no_shape(why: &NoShape, notation: &Notation) -> Said {
    let tension = match why {
        NoShape::TurnsBack(point) => return turns_back(point, notation),
        NoShape::Slips(tension) => tension,
    };
    Said::new(
        "no batten stays in these points: it would slip through without end",
        match tension {
            Some(tension) => format!("move the points to a smoother run, or add \"tension\": {tension}"),
            None => "move the points to a smoother run".to_owned(),
        },
    )
}

fn smaller_rise(smaller: &SmallerRise, notation: &Notation) -> String {
    let which = match &smaller.edge_to {
        None => "this edge".to_owned(),
        Some(to) => format!("the edge to {}", spot(to, notation)),
    };
    let most = notation.at_most(smaller.rise.abs());
    // A rise inwards is written with a minus sign.
    let rise =
        if smaller.rise < Length::ZERO { format!("no deeper than -{most}") } else { format!("of at most {most}") };
    format!("give {which} a rise {rise}")
}

fn crosses_itself(
    how: ContactKind,
    (alone, is_half): (bool, bool),
    at: &Spot,
    rise: &Option<SmallerRise>,
    notation: &Notation,
) -> Said {
    let how = match how {
        ContactKind::Cross => "crosses",
        ContactKind::Touch | ContactKind::End => "touches",
        ContactKind::Overlap => "runs along",
    };
    let what = match (alone, is_half) {
        (true, true) => "itself or its mirror image",
        (true, false) => "itself",
        (false, _) => "another edge",
    };
    let move_it = "move the corners so that the edge of the part meets itself nowhere";
    Said::new(
        format!("the edge to this corner {how} {what} at {}", spot(at, notation)),
        match rise {
            Some(rise) => format!("{}, or {move_it}", smaller_rise(rise, notation)),
            None => move_it.to_owned(),
        },
    )
}

fn off_mirror(of: MirrorLine, first: bool, near: &Option<Spot>, off: Length, notation: &Notation) -> Said {
    let (which, side) = if first { ("first", "before") } else { ("last", "after") };
    let coordinate = match of {
        MirrorLine::X => "y",
        MirrorLine::Y => "x",
    };
    let whole = format!("a half begins and ends on its mirror line: make its {coordinate} 0");
    Said::new(
        format!("the {which} corner of this half lies {} off the mirror line, {}", notation.exact(off), line(of)),
        match near {
            Some(near) => {
                format!("{whole}, or add a corner on the line {side} it, such as {}", spot(near, notation))
            }
            None => whole,
        },
    )
}

fn encloses_nothing(corners: usize) -> Said {
    let (message, remedy) = match corners {
        0 => ("this outline has no corners", "give it at least three"),
        1 => ("this outline has one corner only", "give it at least three, or two with a curved edge between"),
        _ => (
            "this outline encloses no area",
            "give it at least three corners that do not lie on one line, or a curved edge",
        ),
    };
    Said::new(message, remedy)
}

/// Two halves that meet off square.
fn off_square(at: &Spot, ridge: bool, Degrees(degrees): Degrees, notation: &Notation) -> String {
    // One that would be shown as nothing is told in more digits.
    let angle = match degrees < 1.0 {
        true => format!("{degrees:.2}°"),
        false => notation.angle(Degrees(degrees).angle()),
    };
    let what = if ridge { "a ridge" } else { "a dip" };
    format!(
        "the edge meets the mirror line {angle} off square at {}: the two halves meet in {what} there",
        spot(at, notation)
    )
}

fn square_cure(SquareCure { is_straight, line, radius }: &SquareCure, notation: &Notation) -> String {
    let batten = "draw it as a batten, which stands square there";
    let arc = radius.map(|(radius, out)| {
        let bulge = if out { "out" } else { "in" };
        let radius = notation.exact(radius);
        format!("give it the radius {radius} bulging {bulge}, whose centre lies on the mirror line")
    });
    let level = match line {
        MirrorLine::X => "x",
        MirrorLine::Y => "y",
    };
    let level = format!("give both its corners the same {level} for a straight run through");
    let curve = arc.map_or_else(|| batten.to_owned(), |arc| format!("{arc}, or {batten}"));
    match is_straight {
        true => format!("{level}; for a curve {curve}"),
        false => format!("for a curve that runs smoothly through, {curve}"),
    }
}

fn cuts_in(run_on: Length, shorter: Option<Length>, cuts_in: Length, notation: &Notation) -> Said {
    let message = format!(
        "this template runs straight on past the mirror line by {}, and the edge is hollow there: turned over, the \
         cutter would take {} out of the other half",
        notation.length(run_on),
        notation.exact(Length::from_mm((cuts_in.mm() * 100.0).round() / 100.0))
    );
    let shorter =
        shorter.map_or_else(String::new, |does| format!(", or run on by {} at most", notation.at_most(does)));
    Said::new(message, format!("print it whole (\"show\": \"whole\") or for tracing (\"for\": \"tracing\"){shorter}"))
}

impl Words for OutlineProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let n = notation;
        match self {
            OutlineProblem::QuarterEllipseFlat {} => Said::new(
                "a quarter of an ellipse cannot join two corners that lie level or plumb with each other",
                "move one of the corners, or draw this edge straight, by a rise or as a half ellipse",
            ),
            OutlineProblem::Tension { tension, largest } => Said::new(
                format!("a tension of {} is not possible", tension.0),
                format!("write a number from 0 to {}", largest.0),
            ),
            OutlineProblem::ManyPoints { count } => Said::new(
                format!("a batten cannot be held at {count} points, its ends included"),
                "give fewer points; a batten needs only a few",
            ),
            OutlineProblem::NoPoints {} => Said::new(
                "this batten is held at its two ends only",
                "give at least one point between them, or leave the edge straight",
            ),
            OutlineProblem::PointTwice { at } => Said::new(
                format!("the batten is held twice at {}", spot(at, n)),
                "remove one of the two; the corners at the batten's ends are not given again",
            ),
            OutlineProblem::NoShape { why } => no_shape(why, n),
            OutlineProblem::TurnsBack { point } => turns_back(point, n),
            OutlineProblem::TaperTurnsBack {} => Said::new(
                "this taper would have to turn back: its end lies behind its beginning",
                "move the corner ahead, as the neighbouring edge runs, or draw a blend",
            ),
            OutlineProblem::OnMirrorLine { line: of } => Said::new(
                format!("the edge to this corner lies along the mirror line, {}", line(*of)),
                "leave it out: give only the edges of one half, from the mirror line round to the mirror line",
            ),
            OutlineProblem::NoStart {} => Said::new(
                "the first corner of a half outline has no edge arriving at it",
                "remove this edge: the half begins and ends at the mirror line",
            ),
            OutlineProblem::CornerTwice { at } => Said::new(
                format!("this corner is the same as the one before it, {}", spot(at, n)),
                "remove one of the two; an outline closes by itself",
            ),
            OutlineProblem::OutOfReach { limit } => Said::new(
                format!("something here reaches farther than {}", n.exact(*limit)),
                format!("keep every coordinate and size within {}", n.exact(*limit)),
            ),
            OutlineProblem::TooIntricate {} => Said::new(
                "so many edges come near each other that they cannot be checked",
                "draw the outline with fewer corners",
            ),
            OutlineProblem::InsideOut { rise } => Said::new(
                "edges that bulge inwards pass right through the part to its other side",
                match rise {
                    Some(rise) => format!("{}, or turn its sign", smaller_rise(rise, n)),
                    None => "make their rise smaller, or turn its sign".to_owned(),
                },
            ),
            OutlineProblem::NotClosed { at } => Said::new(
                format!("the outline is open at {}", spot(at, n)),
                "make the last edge end where the first begins",
            ),
            OutlineProblem::EnclosesNothing { corners } => encloses_nothing(*corners),
            OutlineProblem::RiseTooLarge { rise, largest } => Said::new(
                format!(
                    "a rise of {} is more than half a circle over this chord of {}",
                    n.exact(rise.abs()),
                    n.exact(*largest * 2.0)
                ),
                format!(
                    "the largest rise here is {}; draw a deeper curve as a half ellipse or a batten",
                    n.at_most(*largest)
                ),
            ),
            OutlineProblem::RadiusTooSmall { radius, smallest } => Said::new(
                format!(
                    "an arc of radius {} does not reach over this chord of {}",
                    n.exact(*radius),
                    n.exact(*smallest * 2.0)
                ),
                format!("the smallest radius here is {}", n.at_least(*smallest)),
            ),
            OutlineProblem::RadiusTooLarge { radius, largest } => {
                let most = n.at_most(*largest);
                Said::new(
                    format!("the corner radius {} does not fit here", n.exact(*radius)),
                    match most != n.at_most(Length::ZERO) {
                        true => format!("the largest that does is {most}"),
                        false => "no radius fits here: leave it out, or make room beside it".to_owned(),
                    },
                )
            }
            OutlineProblem::CrossesItself { how, alone, is_half, rise, x, y } => {
                crosses_itself(*how, (*alone, *is_half), &Spot { x: *x, y: *y }, rise, n)
            }
            OutlineProblem::CrossesMirror { line: of, at, beyond } => Said::new(
                format!(
                    "the edge to this corner passes the mirror line, {}, by {} at {}",
                    line(*of),
                    n.at_least(*beyond),
                    spot(at, n)
                ),
                "keep the whole half on one side of the mirror line",
            ),
            OutlineProblem::OffMirror { line, first, near, off } => off_mirror(*line, *first, near, *off, n),
            OutlineProblem::Ridge { at, ridge, cure, off_square: off } => {
                Said::new(off_square(at, *ridge, *off, n), square_cure(cure, n))
            }
            OutlineProblem::Corner { at, ridge, off_square: off } => Said::new(
                off_square(at, *ridge, *off, n),
                "nothing, where a corner is meant; else draw this edge as a batten, which stands square there",
            ),
            OutlineProblem::CutsIn { run_on, shorter, cuts_in: by } => cuts_in(*run_on, *shorter, *by, n),
            OutlineProblem::SizeBelowZero { name, value } => Said::new(
                format!("the size \"{name}\" is {}, and an outline is drawn with it", n.exact(*value)),
                "give it more than 0, unless the part is meant to lie on that side",
            ),
            OutlineProblem::TurnedOver { text, value, sizes } => {
                let sizes: Vec<String> =
                    sizes.iter().map(|size| format!("\"{}\" is {}", size.name, n.exact(size.value))).collect();
                Said::new(
                    format!(
                        "\"{text}\" comes to {}: with a corner on that side of 0 the part comes out turned over, its face side down",
                        n.exact(*value)
                    ),
                    format!("is one of its sizes too large or too small? {}", sizes.join(", ")),
                )
            }
            OutlineProblem::NotHalved {} => Said::new(
                "this shape is whole already, and \"half\" is given",
                "remove \"half\", or draw one half corner by corner",
            ),
        }
    }
}
