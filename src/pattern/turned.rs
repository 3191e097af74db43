//! A turned leg at full size as a turner sets it out: its profile about the centre line, and where callipers are set.

use super::lines::{
    CENTRE_DASH, CUT_WIDTH, EDGE_WIDTH, LANDING_DASH, MARK_WIDTH, cross, line, stroke, words, wrapped,
};
use super::{Pattern, title};
use crate::geometry::{Flat, Path, Point};
use crate::page::{Anchor, Item, Label, Part, Pen, Role, Text};
use crate::piece::{SolvedBoard, Turning};
use crate::stock::Stock;
use crate::tolerance::SHOWN_SQUARE;
use crate::units::{Angle, Length, Notation};

/// How far lines across the profile reach beyond it, mm.
const BEYOND: f64 = 3.0;

/// How far the lines of the floor and of the underside of the top reach beyond it, clear of the words there, mm.
const SLANT_BEYOND: f64 = 1.0;

/// How far the centre line reaches beyond both ends, mm.
const CENTRE_BEYOND: f64 = 8.0;

/// Height of the words beside the profile and from one line of them to the next, mm.
const LETTERS: (f64, f64) = (2.5, 4.5);

/// Dash and gap of the line along which the foot is sawn, mm.
const SAW_DASH: [f64; 2] = [3.0, 1.2];

/// How the leg is turned, seated and sawn, a sentence each.
pub fn turning_words(turning: &Turning, notation: &Notation) -> Vec<String> {
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let turned = turning.turned;
    let (head, foot) = (say(turned.head), say(turned.foot));
    let [thick, long] = turning.blank().map(|mm| notation.stock(Length::from_mm(mm)));
    let tenon = match turning.tenon > 0.0 {
        true => format!("; tenon {}, {} long", say(turned.tenon), say(turning.tenon)),
        false => String::new(),
    };
    let all = say(turning.overall());
    let mut said = vec![
        format!("squared blank {thick} x {thick}, {long} long, its centres marked at both ends"),
        format!(
            "turn {head} thick at the shoulder to {foot} at the floor{tenon}; {all} over all, the foot left long"
        ),
    ];
    let stations = turning.stations().into_iter().map(|below| {
        let place = if below > 0.0 { say(below) } else { "the shoulder".to_owned() };
        format!("{} at {place}", say(turning.diameter_at(below)))
    });
    said.push(format!("callipers, from the shoulder: {}", stations.collect::<Vec<_>>().join(", ")));
    if turning.tilt.degrees() <= SHOWN_SQUARE {
        said.push(format!("saw the foot square, {} from the shoulder", say(turning.length)));
        return said;
    }
    said.extend(shoulder_words(turning, notation));
    let [outer, inner] = turning.sides().map(say);
    said.push(format!(
        "saw the foot level when all legs stand, scribed from the floor: {} off square to the leg, {outer} from the shoulder down \
         the outer side, {inner} down the inner",
        notation.angle_and_slope(turning.tilt)
    ));
    said
}

/// What is done about a square shoulder on a seat that leans.
fn shoulder_words(turning: &Turning, notation: &Notation) -> Vec<String> {
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    if !turning.has_shoulder() {
        return match turning.tenon > 0.0 {
            true => vec!["no shoulder: the bottom of the hole, or its mark on the leg, stops the leg".to_owned()],
            false => Vec::new(),
        };
    }
    let gap = turning.shoulder_gap();
    let half = say(gap / 2.0);
    vec![
        format!(
            "a square shoulder that touches the seat on the outer side stands off it by {} on the inner",
            say(gap)
        ),
        format!(
            "turn the head {half} longer and pare its shoulder to the seat; or counterbore {} square to the hole, {half} deep on \
             the outer side and nothing at the middle, which leaves the inner half of the shoulder showing",
            say(turning.turned.head)
        ),
    ]
}

/// Draws a turned leg at full size, the foot to the left, its outer side up.
pub(super) fn draw(
    (solved, turning): (&SolvedBoard, &Turning),
    stock: &Stock,
    code: &str,
    project: &str,
    notation: &Notation,
) -> Pattern {
    let profile = profile(turning);
    let mut items = vec![stroke(Role::Outline, profile.clone(), Pen::solid(CUT_WIDTH))];
    let part = Part::new(solved.label.as_str(), code);
    items.extend(centres(turning));
    stations(&mut items, turning, notation);
    slants(&mut items, turning, notation);
    let make = format!("make {}", solved.count);
    let [thick, long] = [stock.net.thick, stock.net.long].map(|mm| notation.stock(Length::from_mm(mm)));
    let sizes = format!("squared blank {long} along the grain x {thick} x {thick}");
    let head = [make.clone(), stock.rough_words(notation), format!("{project} · rev {}", part.revision)];
    let told = turning_words(turning, notation);
    let block: Vec<String> = head.into_iter().chain(told.iter().flat_map(|said| wrapped(said))).collect();
    title::write(&mut items, &profile, &solved.label, (&block, &[0]), Some(Angle::ZERO));
    Pattern::around(part, make, sizes, Flat::from_outside(items).paper())
}

/// The profile: x from the floor towards the tenon, y from the centre line.
fn profile(turning: &Turning) -> Path {
    let low = turning.length - turning.left_long();
    let [foot, head, tenon] =
        [turning.diameter_at(turning.left_long()), turning.turned.head, turning.turned.tenon].map(|size| size / 2.0);
    let mut upper = vec![Point::new(low, foot), Point::new(turning.length, head)];
    if turning.tenon > 0.0 {
        let end = turning.length + turning.tenon;
        upper.extend([Point::new(turning.length, tenon), Point::new(end, tenon)]);
    }
    let lower = upper.iter().map(|p| Point::new(p.x, -p.y));
    let ring: Vec<Point> = lower.chain(upper.iter().rev().copied()).collect();
    Path::polyline(&ring, true)
}

/// The centre line and the crosses of the centres at both ends.
fn centres(turning: &Turning) -> Vec<Item> {
    let (low, high) = (turning.length - turning.left_long(), turning.length + turning.tenon);
    let (from, to) = (Point::new(low - CENTRE_BEYOND, 0.0), Point::new(high + CENTRE_BEYOND, 0.0));
    let mut items = vec![line(Role::Mark, from, to, Pen::dashed(MARK_WIDTH, &CENTRE_DASH))];
    for x in [low, high] {
        items.extend(cross(Role::Mark, Point::new(x, 0.0), BEYOND));
    }
    items
}

/// Words beside the profile.
fn said(items: &mut Vec<Item>, x: f64, y: f64, anchor: Anchor, text: String) {
    let text = Text::new(Point::new(x, y), LETTERS.0, text).anchored(anchor);
    items.push(words(Role::Text, text.about(Label::at(Point::new(x, 0.0)))));
}

/// A line across the profile at every station, its diameter above and how far it is from the shoulder below.
fn stations(items: &mut Vec<Item>, turning: &Turning, notation: &Notation) {
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let (length, widest) = (turning.length, turning.turned.head / 2.0);
    let above = widest + BEYOND + 1.0;
    let below = -above - LETTERS.0;
    for station in turning.stations() {
        let (x, half) = (length - station, turning.diameter_at(station) / 2.0 + BEYOND);
        items.push(line(Role::Mark, Point::new(x, -half), Point::new(x, half), Pen::solid(MARK_WIDTH)));
        let size = format!("⌀ {}", say(turning.diameter_at(station)));
        if station > 0.0 {
            said(items, x, above, Anchor::Middle, size);
            said(items, x, below, Anchor::Middle, say(station));
        } else {
            said(items, x - 1.0, above, Anchor::End, size);
            said(items, x - 1.0, below, Anchor::End, "shoulder, 0".to_owned());
        }
    }
    if turning.tenon > 0.0 {
        said(items, length + 1.0, above, Anchor::Start, format!("tenon ⌀ {}", say(turning.turned.tenon)));
        said(items, length + 1.0, below, Anchor::Start, format!("{} long", say(turning.tenon)));
    }
}

/// Where the floor cuts the foot and the underside of the top lies on the shoulder, the outer side of the leg up.
fn slants(items: &mut Vec<Item>, turning: &Turning, notation: &Notation) {
    if turning.tilt.degrees() <= SHOWN_SQUARE {
        return;
    }
    let slope = turning.tilt.radians().tan();
    let mut slanted = |x: f64, half: f64, dash: &[f64]| {
        let ends = [half, -half].map(|y| Point::new(x - y * slope, y));
        items.push(line(Role::Mark, ends[0], ends[1], Pen::dashed(EDGE_WIDTH, dash)));
    };
    slanted(0.0, turning.turned.foot / 2.0 + SLANT_BEYOND, &SAW_DASH);
    slanted(turning.length, turning.turned.head / 2.0 + SLANT_BEYOND, &LANDING_DASH);
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let [outer, inner] = turning.sides();
    let low = turning.length - turning.left_long();
    // Clear of the words of the stations.
    let above = turning.turned.head / 2.0 + BEYOND + 1.0 + LETTERS.1;
    let below = -above - LETTERS.0;
    said(items, low, above, Anchor::Start, format!("outer side: {} from the shoulder to the floor", say(outer)));
    said(items, low, below, Anchor::Start, format!("inner side: {} from the shoulder to the floor", say(inner)));
    let right = turning.length + turning.tenon;
    said(
        items,
        right,
        below,
        Anchor::End,
        "lengths from the shoulder; dashed: the underside of the top, the floor".to_owned(),
    );
}
