//! Angled aids at full size: their figures one below the other, what was measured and how they are used beneath.

use super::lines::{CENTRE_DASH, CUT_WIDTH, MARK_WIDTH, cross, stroke, words, wrapped};
use super::{Pattern, title};
use crate::geometry::{Affine, Flat, Point, Rect};
use crate::joinery::aids::{Aid, Figure, Look};
use crate::page::{About, Anchor, Item, Label, Part, Pen, Rank, Role, Shape, Text};
use crate::units::Notation;

/// Dash and gap of what lies in the block or on its other side, mm.
const HIDDEN_DASH: [f64; 2] = [3.0, 1.5];

/// Height of the capitals under a figure, and from one base line to the next, mm.
const LETTERS: (f64, f64) = (2.5, 4.25);

/// Room between the words under one figure and the next figure, mm.
const APART: f64 = 8.0;

/// Room between a figure and its name, mm.
const UNDER: f64 = 7.0;

/// How far the cross of a drilled hole reaches beyond it, mm.
const CROSS: f64 = 3.0;

/// An aid as a pattern, with its revision code.
pub fn aid(aid: &Aid, code: &str, project: &str, notation: &Notation) -> Pattern {
    let (height, lead) = LETTERS;
    let mut items = Flat::either_way(Vec::new()).paper();
    let mut low = 0.0;
    for figure in &aid.figures {
        let bounds = figure.bounds();
        let place = Affine::translate((-bounds.x0, low - bounds.y1));
        let shown = figure.redrawn(|figure| drawn(figure, place));
        let under_words = Item::bounds_of_all(&shown).map_or(low, |all| all.y0) - lead;
        items.add(shown);
        low -= bounds.height() + UNDER;
        let at = Point::new(0.0, low.min(under_words));
        let said = Text::new(at, height, figure.name.as_str()).about(Label::at(Point::new(0.0, at.y + UNDER)));
        items.add(Flat::either_way(vec![words(Role::Text, said)]).paper());
        low -= APART;
    }
    let part = Part::new(aid.name.as_str(), code);
    let make = aid.count();
    let mut under: Vec<Item> = Vec::new();
    let mut say = |text: &str, height: f64, items: &mut Vec<Item>| {
        items.push(words(Role::Text, Text::new(Point::new(0.0, low), height, text)));
        low -= lead * height / LETTERS.0;
    };
    say(&aid.name, 3.5, &mut under);
    say(&format!("{} · {} · {} · rev {}", aid.kind, make, project, part.revision), height, &mut under);
    let told = std::iter::once(aid.what())
        .chain(aid.measured(notation))
        .chain(aid.words().into_iter().chain(aid.cautions.iter().cloned()));
    for line in told.flat_map(|text| wrapped(&text)) {
        say(&line, height, &mut under);
    }
    let more = under.len() - 1;
    if let Some(Item { shape: Shape::Text(first), .. }) = under.first_mut() {
        first.label = Some(Box::new(Label::new(About::Sheet, Rank::Plate).with_more(more)));
    }
    items.add(Flat::either_way(under).paper());
    let bounds = Item::bounds_of_all(&items).unwrap_or(Rect::ZERO);
    let sizes = aid.what();
    let bounds = bounds.inflate(title::CLEAR, title::CLEAR);
    Pattern { small: !aid.large, ..Pattern::new(part, (make, sizes), items, bounds) }
}

fn drawn(figure: &Figure, place: Affine) -> Vec<Item> {
    let mut items = Vec::new();
    for line in &figure.lines {
        let path = line.path.transformed(place);
        let (role, pen) = match line.look {
            Look::Cut => (Role::Outline, Pen::solid(CUT_WIDTH)),
            Look::Drill => (Role::Drill, Pen::solid(CUT_WIDTH)),
            Look::Mark => (Role::Mark, Pen::solid(MARK_WIDTH)),
            Look::Centre => (Role::Mark, Pen::dashed(MARK_WIDTH, &CENTRE_DASH)),
            Look::Hidden => (Role::Mark, Pen::dashed(MARK_WIDTH, &HIDDEN_DASH)),
        };
        if line.look == Look::Drill {
            let around = path.bounding_box().unwrap_or(Rect::ZERO);
            items.extend(cross(Role::Drill, around.center(), around.width() / 2.0 + CROSS));
        }
        items.push(stroke(role, path, pen));
    }
    for said in &figure.words {
        let at = place * said.at;
        let text = Text::new(at, LETTERS.0, said.words.as_str()).anchored(Anchor::Middle);
        items.push(words(Role::Text, text.about(Label::at(at))));
    }
    items
}
