//! A small picture of a piece on a page that has room for it.

use crate::geometry::{Affine, Rect};
use crate::page::{Item, Page, Pen, Role};
use crate::view::Model;
use crate::view::View;
use crate::view::chained;

/// Room round the picture, mm.
const EDGE: f64 = 8.0;

/// A picture lower than this, mm, shows nothing; a higher one than that takes what belongs to the words.
const HEIGHTS: (f64, f64) = (28.0, 70.0);

/// Puts an isometric picture with hidden lines removed at the foot of the first of some pages on which what stands there
/// leaves room for it within the margin, mm. Says whether there was any.
pub fn stamp(pages: &mut [Page], model: &Model, margin: f64) -> bool {
    let room = |page: &Page| -> Option<Rect> {
        let used = Item::bounds_of_all(&page.items)?;
        let low = margin + EDGE;
        let high = (used.y0 - EDGE).min(low + HEIGHTS.1);
        (high - low >= HEIGHTS.0).then(|| Rect::new(margin + EDGE, low, page.width - margin - EDGE, high))
    };
    let Some((page, room)) = pages.iter_mut().find_map(|page| room(page).map(|room| (page, room))) else {
        return false;
    };
    let sight = model.seen(&View::isometric());
    let around = sight.visible.iter().map(|s| s.line.bounding_box()).reduce(|a, b| a.union(b));
    let Some(b) = around else { return false };
    let scale = (room.width() / b.width()).min(room.height() / b.height());
    let to_page = Affine::translate((room.center().x, room.y1 - b.height() * scale / 2.0))
        * Affine::scale(scale)
        * Affine::translate(-b.center().to_vec2());
    let paths = chained(&sight.visible).into_iter();
    page.items.extend(paths.map(|p| Item::stroke(Role::Caption, p.transformed(to_page), Pen::solid(0.35))));
    true
}
