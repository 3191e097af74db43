//! The true shape of every sawn end in its own plane, to cut out and stick on the wood.

use super::landed::landed;
use super::lines::{CUT_WIDTH, LANDING_DASH, LEAD, MARK_WIDTH, stroke, together, words};
use super::{Pattern, hands, joints, revision, title};
use crate::board::{EndFace, Fitting, Role as CutRole, Source};
use crate::geometry::{Flat, Paper, Path, Point, Rect};
use crate::page::{About, Anchor, Item, Label, Part, Pen, Rank, Role, Text};
use crate::piece::SolvedBoard;
use crate::tolerance::SAME_AREA;
use crate::units::{Length, Notation};

/// The end faces of a board, one pattern for ends of one shape; `settled` is the board as codes take it.
pub fn ends(solved: &SolvedBoard, settled: &SolvedBoard, notation: &Notation) -> Vec<Pattern> {
    // What is turned has no sawn end to stick paper on: its foot is scribed from the floor.
    if solved.turned.is_some() {
        return Vec::new();
    }
    let mut patterns: Vec<(Pattern, Vec<String>)> = Vec::new();
    for (index, (cut, end)) in solved.board.cuts.iter().zip(&solved.solid.ends).enumerate() {
        if cut.role != CutRole::End || end.rings.is_empty() {
            continue;
        }
        let revision = settled
            .solid
            .ends
            .get(index)
            .map_or_else(|| revision_of(solved, index, end), |end| revision_of(settled, index, end));
        let drawn = draw(solved, index, end, revision, notation);
        let place = solved.board.name_of(Source::Cut(index)).into_owned();
        match patterns.iter_mut().find(|(known, _)| known.part.revision == drawn.part.revision) {
            Some((_, places)) => places.push(place),
            None => patterns.push((drawn, vec![place])),
        }
    }
    patterns
        .into_iter()
        .map(|(mut pattern, places)| {
            pattern.part.name = format!("{}, {}", solved.label, places.join(" and "));
            let places_of_each = places.len() as u32;
            pattern.make = hands::prints_told(solved, places_of_each);
            pattern.prints = hands::prints(solved, places_of_each);
            let stands = solved.mortises.iter().any(|own| {
                let at = own.on.map(|on| solved.board.name_of(on));
                own.fitting == Fitting::Standing && at.is_some_and(|at| places.iter().any(|place| *place == at))
            });
            name(&mut pattern, solved, stands);
            pattern
        })
        .collect()
}

/// Its items on paper: the end's own axes are those of someone in the wood; paper is stuck on from outside.
fn seen(end: &EndFace, items: Vec<Item>) -> Paper<Vec<Item>> {
    end.frame().flat(items).turned_over().paper()
}

fn revision_of(solved: &SolvedBoard, index: usize, end: &EndFace) -> String {
    revision::of_lines(&seen(end, sawn_and_mortised(solved, index, end)), solved.board.thickness)
}

fn draw(solved: &SolvedBoard, index: usize, end: &EndFace, revision: String, notation: &Notation) -> Pattern {
    let mut items = seen(end, lines(solved, index, end));
    let bounds = Item::bounds_of_all(&items).unwrap_or(Rect::ZERO);
    items.add(Flat::from_outside(side_words(solved, end, bounds)).paper());
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let sizes = format!("{} x {}", notation.bare_length(Length::from_mm(bounds.width())), say(bounds.height()));
    let part = Part::new(solved.label.as_str(), revision);
    let make = hands::prints_told(solved, 1);
    Pattern { small: true, ..Pattern::new(part, (make, sizes), items, bounds) }
}

/// The rims of an end.
fn rims(end: &EndFace) -> impl Iterator<Item = Item> {
    end.rings.iter().map(|ring| stroke(Role::Outline, ring.path().clone(), Pen::solid(CUT_WIDTH)))
}

/// The rims of an end, its mouths, and what of it another part covers where that is not all; in the end's own axes.
fn lines(solved: &SolvedBoard, index: usize, end: &EndFace) -> Vec<Item> {
    let meets = landed(solved).into_iter().filter(|meet| meet.on == Source::Cut(index));
    let landed = meets.flat_map(|meet| meet.contact).filter(|rim| !is_whole(rim, end));
    let landed = landed.map(|rim| stroke(Role::Mark, rim.clone(), Pen::dashed(MARK_WIDTH, &LANDING_DASH)));
    rims(end).chain(joints::on_end(solved, index)).chain(landed).collect()
}

/// What is sawn and mortised, for the revision code.
fn sawn_and_mortised(solved: &SolvedBoard, index: usize, end: &EndFace) -> Vec<Item> {
    let mortised = joints::on_end(solved, index).into_iter().map(|item| Item { role: Role::Outline, ..item });
    rims(end).chain(mortised).collect()
}

/// Whether a landing is the end face itself, so that nothing is left to show.
fn is_whole(rim: &Path, end: &EndFace) -> bool {
    let area: f64 = end.rings.iter().map(|ring| ring.path().signed_area().abs()).sum();
    (rim.signed_area().abs() - area).abs() < SAME_AREA * area.max(1.0)
}

/// Which rim lies on the face side and which on the far side, and which edge ends it to the left and to the right, beside what
/// the rims take on the paper.
fn side_words(solved: &SolvedBoard, end: &EndFace, bounds: Rect) -> Vec<Item> {
    let pieces = || end.rings.iter().flat_map(|ring| ring.pieces().map(move |piece| (ring, piece)));
    let middles: Vec<Point> = pieces().map(|(_, (piece, _))| piece.eval(0.5)).collect();
    let middles = end.frame().flat(middles).turned_over().paper();
    let mut items = Vec::new();
    for (on, side) in [(Source::Face, solved.board.sides[0]), (Source::Far, solved.board.sides[1])] {
        let own: Vec<f64> =
            pieces().zip(middles.iter()).filter(|((_, (_, source)), _)| *source == on).map(|(_, at)| at.y).collect();
        if own.is_empty() {
            continue;
        }
        let above = own.iter().sum::<f64>() / own.len() as f64 > bounds.center().y;
        let at = Point::new(bounds.center().x, if above { bounds.y1 + 1.2 } else { bounds.y0 - 3.7 });
        let rim = Point::new(at.x, if above { bounds.y1 } else { bounds.y0 });
        items.push(words(Role::Text, Text::new(at, 2.5, side).anchored(Anchor::Middle).about(Label::at(rim))));
    }
    for ((ring, (piece, source)), middle) in pieces().zip(middles.iter()) {
        let first = ring.part(source).next() == Some(piece);
        if matches!(source, Source::Face | Source::Far) || !first {
            continue;
        }
        let left = middle.x < bounds.center().x;
        let (x, anchor) = if left { (middle.x - 1.5, Anchor::End) } else { (middle.x + 1.5, Anchor::Start) };
        let at = Point::new(x, middle.y - 1.0);
        let text = Text::new(at, 2.5, solved.board.name_of(source)).anchored(anchor);
        items.push(words(Role::Text, text.about(Label::at(*middle))));
    }
    items
}

/// What is to be done with the paper of an end on which a tenon stands.
const ROUND_TENON: [&str; 2] = [
    "a tenon stands on this end: cut its outline out of the paper,",
    "slip the paper over the tenon and stick it on the shoulder",
];

/// Writes the name below the face, which side of the paper goes to the wood, and how it goes there where a tenon stands.
fn name(pattern: &mut Pattern, solved: &SolvedBoard, stands: bool) {
    let bounds = Item::bounds_of_all(&pattern.items).unwrap_or(pattern.bounds);
    let lines = [pattern.part.name.clone(), format!("end face · {} · rev {}", pattern.make, pattern.part.revision)];
    let tenon = ROUND_TENON.iter().filter(|_| stands).map(|said| (*said).to_owned());
    let lines = lines.into_iter().chain(hands::lies(solved)).chain(tenon).enumerate().map(|(i, text)| {
        let at = Point::new(bounds.x0, bounds.y0 - 5.0 - LEAD * i as f64);
        Text::new(at, 2.5, text)
    });
    pattern.items.add(Flat::from_outside(together(Label::new(About::Sheet, Rank::Plate), lines.collect())).paper());
    let all = Item::bounds_of_all(&pattern.items).unwrap_or(bounds);
    pattern.bounds = all.inflate(title::CLEAR, title::CLEAR);
}
