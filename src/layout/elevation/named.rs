//! Named numbers of a piece at the dimension lines that show them.
//!
//! Which line shows a number is not told by what the line is called: the piece is made once more with every number moved by another
//! small amount, and the line whose length is the number in both shows it.

use super::measure::{Measurer, measures};
use super::of_stock::depth;
use super::shown::{Lane, Measure, Shown, Side, Words};
use crate::geometry::{Point, Rect};
use crate::piece::Value;
use crate::tolerance::UNSEEN;
use crate::units::{Length, Notation};
use crate::view::Subject;

/// A number with the name by which a person knows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// The name.
    pub name: String,
    /// What it is.
    pub value: Value,
    /// What it is in the piece that was moved.
    pub moved: Value,
}

/// A line of the moved piece lies no farther from its own than this, mm: it is moved by hundredths of a millimetre, and by what follows
/// from them.
const NEAR: f64 = 2.0;

/// A length is a number where it differs by less than this, mm or degrees: a tenth of the smallest amount by which one is moved.
const SAME: f64 = 1e-4;

/// A view, and what it shows.
pub type Shows = (Side, Vec<Measure>);

/// What each of some views shows of named numbers, in the order of the views; each number once, where it is shown first. And the names
/// of those that none shows.
pub fn named(
    subject: Subject,
    moved: Subject,
    notation: &Notation,
    (views, numbers): (&[Side], &[Named]),
) -> (Vec<Shows>, Vec<String>) {
    let mut left: Vec<&Named> = numbers.iter().collect();
    let shown = views.iter().map(|side| {
        let (own, others) = (all(subject, notation, *side), all(moved, notation, *side));
        let found = own.into_iter().filter_map(|measure| {
            let shows = |number: &&Named| {
                is(measure.value, number.value)
                    && others.iter().any(|other| is(other.value, number.moved) && stands_by(&measure, other))
            };
            let at = left.iter().position(shows)?;
            Some(called(measure, &left.remove(at).name, notation))
        });
        (*side, found.collect())
    });
    let shown = shown.collect();
    (shown, left.into_iter().map(|number| number.name.clone()).collect())
}

/// What a view shows, with what a maker asks of a picture of sizes beside it: depths of boards, how thick the top is.
fn all(subject: Subject, notation: &Notation, side: Side) -> Vec<Measure> {
    let view = side.view();
    let reach = |direction| subject.model.reach_along(direction);
    let Some(((x0, x1), (y0, y1))) = reach(view.right()).zip(reach(view.up())) else { return Vec::new() };
    let bounds = Rect { x0, y0, x1, y1 };
    let mut found = measures(subject, notation, side, bounds);
    let mut more = Measurer::of(subject, notation, side, bounds);
    more.depths();
    if let Some(top) = subject.piece.top().filter(|_| side == Side::Front) {
        let [under, over] = [bounds.y1 - top.board.thickness, bounds.y1].map(|y| Point::new(bounds.x0, y));
        more.length("thickness of the top", under, over, Lane::Left);
    }
    found.extend(more.found);
    found
}

/// Whether two numbers are one.
fn is(one: Value, other: Value) -> bool {
    match (one, other) {
        (Value::Length(a), Value::Length(b)) => (a.mm() - b.mm()).abs() < SAME,
        (Value::Angle(a), Value::Angle(b)) => (a.degrees() - b.degrees()).abs() < SAME,
        _ => false,
    }
}

/// Whether a line is that of the moved piece.
fn stands_by(one: &Measure, other: &Measure) -> bool {
    let near = |a: &Point, b: &Point| a.distance(*b) < NEAR;
    match (&one.shown, &other.shown) {
        (Shown::Length { from, to, lane }, Shown::Length { from: f, to: t, lane: l }) => {
            let is_level = |lane: &Lane| matches!(lane, Lane::Over | Lane::Under);
            // Of the other way along the line nothing is asked: of two numbers for one stretch one line is drawn.
            let along = |p: &Point| if is_level(lane) { p.x } else { p.y };
            let close = |a: &Point, b: &Point| (along(a) - along(b)).abs() < NEAR;
            is_level(lane) == is_level(l) && (close(from, f) && close(to, t) || close(from, t) && close(to, f))
        }
        (Shown::Angle { apex, .. }, Shown::Angle { apex: other, .. }) => near(apex, other),
        (Shown::Note { at, .. }, Shown::Note { at: other, .. }) => {
            at.first().zip(other.first()).is_none_or(|(a, b)| near(a, b))
        }
        _ => false,
    }
}

/// A measure by the name of its number.
fn called(measure: Measure, name: &str, notation: &Notation) -> Measure {
    let value = match measure.value {
        Value::Angle(angle) => notation.angle(angle),
        Value::Length(length) | Value::Movement(length) => notation.length(length),
        Value::Force(_) => measure.words.whole(),
    };
    Measure { words: format!("{name} {value}").into(), what: String::new(), ..measure }
}

impl Measurer<'_> {
    /// How deep boards are whose faces are turned to the eye, each where its thickness is told too.
    fn depths(&mut self) {
        let (piece, model, view) = (self.piece, self.model, self.view);
        let hides = model.hider(&view);
        for board in &piece.boards {
            let Some((at, mm)) = self.nearest_seen(board, &hides).zip(depth(board)) else { continue };
            if mm > UNSEEN {
                let value = Value::Length(Length::from_mm(mm));
                let shown = Shown::Note { at, on_edge: false };
                self.found.push(Measure { value, words: Words::default(), what: String::new(), shown });
            }
        }
    }
}
