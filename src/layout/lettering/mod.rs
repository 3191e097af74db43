//! Where the words of a pattern stand, once its sheets are known.
//!
//! Each label stands where it was wished if it is whole on one sheet there, on no line and on no other words. Else the most
//! important are placed first: near what they are about, set in narrower lines or smaller capitals, at the end of a leader, or in a list
//! on the sheets to which a number at the place leads.

mod block;
mod desk;
mod notes;
mod plate;
#[cfg(test)]
mod tests;

use crate::geometry::{Point, Rect};
use crate::page::{About, Item, Label, Rank, Role, Shape, Text};
use crate::pattern::Pattern;
use desk::Desk;

/// Lines of words that stay together, and what they are about.
struct Said {
    role: Role,
    label: Label,
    texts: Vec<Text>,
}

impl Said {
    /// The labels of a pattern in order; words without one are about where they stand.
    fn all(items: &[Item]) -> Vec<Said> {
        let mut all: Vec<Said> = Vec::new();
        let mut more = 0;
        for item in items {
            let Shape::Text(text) = &item.shape else { continue };
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
                    all.push(Said { role: item.role, label, texts: vec![plain] });
                }
            }
        }
        all
    }

    fn item(&self, text: Text) -> Item {
        Item { role: self.role, part: None, clip: None, shape: Shape::Text(text) }
    }
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
    let mut desk = Desk::new(sheets, &pattern.items, furniture.firm);
    let mut order: Vec<usize> = (0..all.len()).collect();
    order.sort_by_key(|index| all[*index].label.rank);
    let mut placed: Vec<Option<Vec<Item>>> = vec![None; all.len()];
    for index in &order {
        let said = &all[*index];
        if stands_as_wished(said, &desk) {
            desk.set(&said.texts);
            placed[*index] = Some(said.texts.iter().map(|text| said.item(text.clone())).collect());
        }
    }
    desk.keep_off_too(furniture.broken);
    let mut listed = notes::Listed::default();
    for index in order {
        if placed[index].is_none() {
            placed[index] = Some(moved(&all[index], &mut desk, &mut listed));
        }
    }
    // A view names itself: only what is made knows what its words are about.
    let is_made = pattern.items.iter().any(|item| matches!(&item.shape, Shape::Text(text) if text.label.is_some()));
    let more = if is_made { short_plates(pattern, &all, &placed, &mut desk) } else { Vec::new() };
    placed.into_iter().flatten().flatten().chain(more).collect()
}

/// The short plates of a pattern whose words stand.
fn short_plates(pattern: &Pattern, all: &[Said], placed: &[Option<Vec<Item>>], desk: &mut Desk) -> Vec<Item> {
    let text = |item: &'_ Item| match &item.shape {
        Shape::Text(text) => Some(text.clone()),
        Shape::Stroke { .. } | Shape::Fill { .. } => None,
    };
    let plates = all.iter().zip(placed).filter(|(said, _)| said.label.about == About::Part);
    let names: Vec<Text> = plates.filter_map(|(_, items)| items.iter().flatten().find_map(text)).collect();
    let words: Vec<Text> = placed.iter().flatten().flatten().filter_map(text).collect();
    plate::repeated(&pattern.part, &names, &words, desk)
}

/// Whether words are whole and alone where they were wished, and on the part if they name it.
fn stands_as_wished(said: &Said, desk: &Desk) -> bool {
    let at_home = match said.label.about {
        About::Part => desk.around(0).is_none() || desk.holds(0, &said.texts),
        About::Sheet | About::Place(_) | About::Along(_) => true,
    };
    at_home && desk.fits_tightly(&said.texts).is_some()
}

/// A label at another place than it was wished; where there is none, as it was.
fn moved(said: &Said, desk: &mut Desk, listed: &mut notes::Listed) -> Vec<Item> {
    let found = match &said.label.about {
        About::Part => plate::placed(said, desk),
        About::Sheet => notes::on_sheet(said, desk),
        About::Place(at) => notes::beside(said, None, *at, desk, listed),
        About::Along(path) => {
            let middle = path.place_at_length(path.length() / 2.0).and_then(|place| path.point_at(place));
            notes::beside(said, Some(path), middle.unwrap_or(Point::ORIGIN), desk, listed)
        }
    };
    found.unwrap_or_else(|| {
        desk.set(&said.texts);
        said.texts.iter().map(|text| said.item(text.clone())).collect()
    })
}

/// The words of a pattern that lies whole on one sheet.
pub fn lettered_whole(pattern: &Pattern) -> Vec<Item> {
    lettered(pattern, vec![pattern.bounds], &Furniture { firm: &[], broken: &[] })
}

/// Sets a block down where it was found to fit.
fn set(said: &Said, texts: Vec<Text>, desk: &mut Desk) -> Vec<Item> {
    desk.set(&texts);
    texts.into_iter().map(|text| said.item(text)).collect()
}
