//! Where the words of a pattern stand, once its sheets are known.
//!
//! Each label stands where it was wished if it is whole on one sheet there, on no line and on no other words. Else the most
//! important are placed first: near what they are about, set in narrower lines or smaller capitals, at the end of a leader, or in a list
//! on the sheets to which a number at the place leads.

pub(super) mod block;
mod desk;
mod in_full;
pub(super) mod leader;
mod notes;
mod plate;
#[cfg(test)]
mod tests;
mod ways;

use crate::geometry::{Point, Rect};
use crate::page::{About, Item, Label, Rank, Role, Shape, Text};
use crate::pattern::{InFull, Pattern, SolidLine};
use block::Block;
use desk::Desk;

/// Two places nearer to each other than this, mm, are one on paper.
const SAME_MARK: f64 = 1.0;

/// Lines of words that stay together, and what they are about.
#[derive(Debug, Clone)]
struct Said {
    role: Role,
    label: Label,
    texts: Vec<Text>,
    /// The strokes of an arrow that moves with them.
    arrows: Vec<Item>,
}

impl Said {
    /// The labels of a pattern in order; words without one are about where they stand.
    fn all(items: &[Item]) -> Vec<Said> {
        let mut all: Vec<Said> = Vec::new();
        let mut more = 0;
        for (index, item) in items.iter().enumerate() {
            let Shape::Text(text) = &item.shape else {
                if let Some(last) = all.last_mut().filter(|last| more > 0 && last.label.before > 0) {
                    last.arrows.push(item.clone());
                }
                continue;
            };
            let plain = Text { label: None, ..text.clone() };
            match (&text.label, all.last_mut()) {
                (None, Some(last)) if more > 0 => {
                    last.texts.push(plain);
                    more -= 1;
                }
                (label, _) => {
                    let at = || Label::new(About::Place(text.bounding_box().center()), Rank::Note);
                    let label = label.as_ref().map_or_else(at, |label| (**label).clone());
                    more = label.more;
                    let arrows = items.get(index.saturating_sub(label.before)..index).unwrap_or_default().to_vec();
                    all.push(Said { role: item.role, label, texts: vec![plain], arrows });
                }
            }
        }
        all
    }

    /// The places that others are about which name what is there, as these do.
    fn rivals(&self, all: &[Said]) -> Vec<Point> {
        let named = |said: &Said| match said.label.about {
            About::Place(at) if said.label.rank == Rank::Joint => Some(at),
            _ => None,
        };
        let Some(own) = named(self) else { return Vec::new() };
        all.iter().filter_map(named).filter(|at| at.distance(own) > SAME_MARK).collect()
    }

    fn item(&self, text: Text) -> Item {
        Item { role: self.role, part: None, clip: None, shape: Shape::Text(text) }
    }
}

/// The lines of a pattern that stand where they are drawn: all but the arrows that move with their words.
pub fn lines(items: &[Item]) -> impl Iterator<Item = &Item> {
    let mut moves = vec![false; items.len()];
    let mut more = 0;
    for (index, item) in items.iter().enumerate() {
        match &item.shape {
            Shape::Text(text) => match &text.label {
                Some(label) if label.before > 0 => {
                    moves.iter_mut().take(index).skip(index.saturating_sub(label.before)).for_each(|own| *own = true);
                    more = label.more;
                }
                Some(_) => more = 0,
                None => more = more.saturating_sub(1),
            },
            Shape::Stroke { .. } | Shape::Fill { .. } => moves[index] = more > 0,
        }
    }
    let lines = items.iter().zip(moves).filter(|(item, moves)| !moves && !matches!(item.shape, Shape::Text(_)));
    lines.map(|(item, _)| item)
}

/// What stands on sheets beside a pattern.
pub struct Furniture<'a> {
    /// What no word stands on.
    pub firm: &'a [Item],
    /// Lines that are broken at words: those that are moved keep off them too.
    pub broken: &'a [Item],
}

/// The words of a pattern, each with its place on one of the sheets: with the leaders to what they are about. `sheets` is as much of each,
/// in the pattern's millimetres, as words may stand on.
pub fn lettered(pattern: &Pattern, sheets: Vec<Rect>, furniture: &Furniture) -> Vec<Item> {
    let all = Said::all(&pattern.items);
    let (mut desk, placed) = placed((pattern, &pattern.in_full), &all, sheets, furniture);
    let mut more = Vec::new();
    if is_made(pattern) {
        more.extend(ways::again(&all, &placed, &mut desk));
        more.extend(notes::again(&all, &placed, &mut desk));
        more.extend(short_plates(pattern, &all, &placed, &mut desk));
    }
    placed.into_iter().flatten().chain(more).collect()
}

/// Whether something is made by a pattern: a view and a rod name themselves, and what shares a sheet is lettered already.
fn is_made(pattern: &Pattern) -> bool {
    let is_labelled = |item: &Item| matches!(&item.shape, Shape::Text(text) if text.label.is_some());
    !matches!(pattern.solid, SolidLine::SeenEdge | SolidLine::RodMark) && pattern.items.iter().any(is_labelled)
}

/// The labels of a pattern where they stand on their sheets, and behind them what is told in full.
fn placed(
    (pattern, told): (&Pattern, &[InFull]),
    all: &[Said],
    sheets: Vec<Rect>,
    furniture: &Furniture,
) -> (Desk, Vec<Vec<Item>>) {
    let lines: Vec<Item> = lines(&pattern.items).cloned().collect();
    let mut desk = Desk::new(sheets, &lines, furniture.firm);
    let mut order: Vec<usize> = (0..all.len()).collect();
    order.sort_by_key(|index| all[*index].label.rank);
    let mut placed: Vec<Option<Vec<Item>>> = vec![None; all.len()];
    let rivals: Vec<Vec<Point>> = all.iter().map(|said| said.rivals(all)).collect();
    for index in &order {
        let said = &all[*index];
        if stands_as_wished(said, &desk) && is_nearest(said, &said.texts, &rivals[*index]) {
            placed[*index] = Some(set(said, said.texts.clone(), &mut desk));
        }
    }
    desk.keep_off_too(furniture.broken);
    let told = in_full::placed(told, &mut desk);
    let mut listed = notes::Listed::default();
    for index in order {
        if placed[index].is_none() {
            placed[index] = Some(moved(&all[index], &rivals[index], &mut desk, &mut listed));
        }
    }
    (desk, placed.into_iter().map(Option::unwrap_or_default).chain([told]).collect())
}

/// The short plates of a pattern whose words stand.
fn short_plates(pattern: &Pattern, all: &[Said], placed: &[Vec<Item>], desk: &mut Desk) -> Vec<Item> {
    let text = |item: &'_ Item| match &item.shape {
        Shape::Text(text) => Some(text.clone()),
        Shape::Stroke { .. } | Shape::Fill { .. } => None,
    };
    let plates = all.iter().zip(placed).filter(|(said, _)| said.label.about == About::Part);
    let names: Vec<Text> = plates.filter_map(|(_, items)| items.iter().find_map(text)).collect();
    let words: Vec<Text> = placed.iter().flatten().filter_map(text).collect();
    plate::repeated(&pattern.part, &names, &words, desk)
}

/// Whether words are whole and alone where they were wished, and on the part if they name it.
fn stands_as_wished(said: &Said, desk: &Desk) -> bool {
    let at_home = match &said.label.about {
        About::Part => desk.around(0).is_none() || desk.holds(0, &said.texts),
        About::Along(path) => desk.shows(path, &said.texts),
        About::Sheet | About::Place(_) | About::Way => true,
    };
    at_home && desk.fits_tightly(&said.texts).is_some() && ways::have_room(&said.arrows, &said.texts, desk)
}

/// Whether words about a place stand no nearer to that of others, of which they would be taken to speak.
fn is_nearest(said: &Said, texts: &[Text], rivals: &[Point]) -> bool {
    let About::Place(at) = said.label.about else { return true };
    if rivals.is_empty() {
        return true;
    }
    // Its first line, which names it, is read alone too.
    let first = texts.iter().take(1).cloned().collect();
    [texts.to_vec(), first].into_iter().filter_map(Block::of).all(|block| {
        let off = |to: Point| block.nearest(to, 0.0).distance(to);
        let own = off(at);
        rivals.iter().all(|other| off(*other) >= own)
    })
}

/// A label at another place than it was wished; where there is none, as it was.
fn moved(said: &Said, rivals: &[Point], desk: &mut Desk, listed: &mut notes::Listed) -> Vec<Item> {
    let found = match &said.label.about {
        About::Part => plate::placed(said, desk),
        About::Sheet => notes::on_sheet(said, desk),
        About::Way => ways::moved(said, desk),
        About::Place(at) => notes::beside((said, rivals), None, *at, desk, listed),
        About::Along(path) => {
            let middle = path.place_at_length(path.length() / 2.0).and_then(|place| path.point_at(place));
            notes::beside((said, rivals), Some(path), middle.unwrap_or(Point::ORIGIN), desk, listed)
        }
    };
    found.unwrap_or_else(|| set(said, said.texts.clone(), desk))
}

/// The words of a pattern that lies whole beside others, whose sheet does not tell its short code: before its name.
pub fn lettered_whole(pattern: &Pattern) -> Vec<Item> {
    let mut all = Said::all(&pattern.items);
    let name = all.iter_mut().find(|said| said.label.rank == Rank::Plate).and_then(|said| said.texts.first_mut());
    if let Some(name) = name {
        name.content = format!("{}: {}", pattern.part.code, name.content);
    }
    // What is told in full stands beneath it.
    let none = Furniture { firm: &[], broken: &[] };
    let (mut desk, placed) = placed((pattern, &[]), &all, vec![pattern.bounds], &none);
    let more = if is_made(pattern) { short_plates(pattern, &all, &placed, &mut desk) } else { Vec::new() };
    placed.into_iter().flatten().chain(more).collect()
}

/// Sets a block down where it was found to fit, behind the arrows that stand with it.
fn set(said: &Said, texts: Vec<Text>, desk: &mut Desk) -> Vec<Item> {
    desk.set(&texts);
    said.arrows.iter().for_each(|arrow| desk.draw(arrow));
    said.arrows.iter().cloned().chain(texts.into_iter().map(|text| said.item(text))).collect()
}
