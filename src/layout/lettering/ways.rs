//! Arrows that say which way something lies, with their words: whole on one sheet, and where it matters on each.

use super::desk::Desk;
use super::{Said, set};
use crate::geometry::{Affine, Path, Point, Rect, Vec2};
use crate::layout::ink::moved as shape_moved;
use crate::page::{About, Anchor, Item, Label, Pen, Role, Text};

/// Room round an arrow with its words, mm.
const CLEAR: f64 = 1.0;

/// Length of an arrow, of its barbs along and across, and from its tip to its words, mm.
const ARROW: f64 = 12.0;
const BARB: Vec2 = Vec2::new(1.0, 3.0);
const OFF: f64 = 1.5;

/// Height of the capitals, and width of the lines, mm.
const LETTERS: f64 = 2.5;
const THIN: f64 = 0.18;

/// What stands at the arrow of a pattern that says no way of its own: as its sheets and its map lie.
pub(super) const UP: &str = "this way up";

/// Whether arrows lie whole on the sheet of their words and touch nothing.
pub fn have_room(arrows: &[Item], texts: &[Text], desk: &Desk) -> bool {
    let Some(around) = Item::bounds_of_all(arrows) else { return true };
    let on_sheet = desk.sheet_of(texts).is_some_and(|sheet| desk.sheet(sheet).contains_rect(around));
    on_sheet && desk.is_clear_of(arrows)
}

/// An arrow with its words elsewhere on the part, else on its sheets.
pub fn moved(said: &Said, desk: &mut Desk) -> Option<Vec<Item>> {
    let around = around(said)?;
    let order = desk.from(around.center());
    let said =
        [Some(0), None].into_iter().find_map(|ring| order.iter().find_map(|sheet| on(said, *sheet, ring, desk)))?;
    Some(set(&said, said.texts.clone(), desk))
}

/// The arrows of a pattern on each of its sheets that bears none; of one that says no way of its own which way is up.
pub fn again(all: &[Said], placed: &[Vec<Item>], desk: &mut Desk) -> Vec<Item> {
    let is_way = |said: &&Said| said.label.about == About::Way && said.label.again;
    let own = all.iter().zip(placed).filter(|(said, _)| is_way(said));
    let bearing: Vec<usize> = own.filter_map(|(_, items)| desk.sheet_of_rect(Item::bounds_of_all(items)?)).collect();
    let sign = all.iter().find(is_way).map_or_else(upwards, Said::clone);
    let without = (0..desk.count()).filter(|sheet| !bearing.contains(sheet));
    let mut items = Vec::new();
    for sheet in without {
        let shown = desk.around(0).map(|part| part.intersect(desk.sheet(sheet)));
        let at = shown.filter(|shown| shown.area() > 0.0).unwrap_or_else(|| desk.sheet(sheet)).center();
        let wished = sign.shifted(at - around(&sign).unwrap_or_default().center());
        if let Some(said) = [Some(0), None].into_iter().find_map(|ring| on(&wished, sheet, ring, desk)) {
            items.extend(set(&said, said.texts.clone(), desk));
        }
    }
    items
}

/// Around an arrow and its words.
fn around(said: &Said) -> Option<Rect> {
    let words = said.texts.iter().map(Text::bounding_box);
    Item::bounds_of_all(&said.arrows).into_iter().chain(words).reduce(|a, b| a.union(b))
}

/// The same on a sheet, within one of the outlines or anywhere, as near to where it was wished as there is room.
fn on(said: &Said, sheet: usize, ring: Option<usize>, desk: &mut Desk) -> Option<Said> {
    let around = around(said)?;
    let size = around.size().to_vec2() + 2.0 * Vec2::new(CLEAR, CLEAR);
    let middle = desk.room_of(sheet, size, (0.0, ring), around.center())?;
    let moved = said.shifted(middle - around.center());
    let fits = desk.fits_tightly(&moved.texts) == Some(sheet) && have_room(&moved.arrows, &moved.texts, desk);
    fits.then_some(moved)
}

/// An arrow up, as the pattern lies on its sheets.
fn upwards() -> Said {
    let label = Label::way(2).on_each_sheet();
    let (foot, tip) = (Point::ORIGIN, Point::new(0.0, ARROW));
    let barbs = [-1.0, 1.0].map(|side| tip + Vec2::new(side * BARB.x, -BARB.y));
    let paths = [Path::line(foot, tip), Path::polyline(&[barbs[0], tip, barbs[1]], false)];
    let arrows = paths.map(|path| Item::stroke(Role::Text, path, Pen::solid(THIN))).to_vec();
    let words = Text::new(tip + Vec2::new(0.0, OFF), LETTERS, UP).anchored(Anchor::Middle);
    Said { role: Role::Text, label, texts: vec![words], arrows }
}

impl Said {
    /// The same, moved.
    fn shifted(&self, by: Vec2) -> Said {
        let map = Affine::translate(by);
        let texts = self.texts.iter().map(|text| Text { at: text.at + by, ..text.clone() }).collect();
        let arrows = self.arrows.iter().map(|one| Item { shape: shape_moved(&one.shape, map), ..one.clone() });
        Said { texts, arrows: arrows.collect(), ..self.clone() }
    }
}
