//! Views too large for a sheet: tiled like patterns, or whole on one page.

use super::drawn::{Look, Seen};
use super::options::Options;
use crate::geometry::{Affine, Flat, Rect};
use crate::layout::framed::{Legend, plain};
use crate::layout::ink::moved;
use crate::layout::share::coded;
use crate::layout::tile::{Setup, Tiling, TooManySheets, sheet_window};
use crate::page::{Document, Item, Page, Part};
use crate::pattern::{Pattern, SolidLine};
use crate::units::Length;
use crate::view::Subject;

/// Room round and between views on one page, mm.
const GAP: f64 = 10.0;

/// Room for the line of words at the foot of one page, mm.
const FOOT: f64 = 12.0;

/// The narrowest page whose line of words can be read, mm.
const NARROWEST: f64 = 180.0;

/// The widest line of a list on sheets that are taped up, as a share of what an upright one shows: seams and lines leave no more.
const LIST_SHARE: f64 = 0.6;

/// A view as a pattern.
pub fn as_pattern(subject: Subject, seen: &Seen, scale: u32, setup: &Setup, options: &Options) -> Pattern {
    let look =
        Look { scale: 1.0 / f64::from(scale), hidden: options.hidden, numbers: true, notation: &setup.notation };
    // What is taped up has its list on one of its sheets.
    let most = if options.untiled { f64::INFINITY } else { LIST_SHARE * sheet_window(setup.shop).x };
    let drawn = seen.drawn(subject, &look).listed_within(most);
    let sizes = Some(seen.bounds());
    Pattern {
        sizes: told(sizes, setup),
        ..pattern(seen.name.clone(), drawn.items, drawn.envelope, scale, setup, options)
    }
}

/// Something drawn, as a pattern.
pub fn pattern(
    name: String,
    items: Vec<Item>,
    around: Rect,
    scale: u32,
    setup: &Setup,
    options: &Options,
) -> Pattern {
    let part = Part::new(name, options.revision.clone().unwrap_or_default());
    let made = (format!("scale 1:{scale}"), told(Some(around), setup));
    let items = Flat::either_way(items).paper();
    Pattern { solid: SolidLine::SeenEdge, ..Pattern::new(part, made, items, around.inflate(2.0, 2.0)) }
}

fn told(size: Option<Rect>, setup: &Setup) -> String {
    let words = |mm: f64| setup.notation.bare_length(Length::from_mm(mm));
    size.map_or_else(String::new, |b| format!("{} x {}", words(b.width()), words(b.height())))
}

/// The patterns on sheets to be taped up, or one below the other on one page.
///
/// # Errors
/// Where that takes more sheets than may be made.
pub fn laid_out(
    patterns: &[Pattern],
    scale: u32,
    setup: &Setup,
    options: &Options,
) -> Result<Document, TooManySheets> {
    let empty = Document { title: setup.title.to_owned(), parts: Vec::new(), pages: Vec::new() };
    Ok(match patterns {
        [] => empty,
        _ if options.untiled => Document { pages: vec![one_page(patterns, scale, setup, options)], ..empty },
        _ => Tiling::of(&coded(patterns.to_vec()), setup).within(options.most_sheets)?.draw().0,
    })
}

/// All of them, one below the other, with the line of words at the foot.
fn one_page(patterns: &[Pattern], scale: u32, setup: &Setup, options: &Options) -> Page {
    let wide = patterns.iter().map(|p| p.bounds.width()).fold(NARROWEST, f64::max);
    let high: f64 = patterns.iter().map(|p| p.bounds.height() + GAP).sum();
    let (width, height) = (wide + 2.0 * GAP, high + GAP + FOOT);
    let mut top = height - GAP;
    let mut items = Vec::new();
    for pattern in patterns {
        let b = pattern.bounds;
        let to_page = Affine::translate((GAP + (wide - b.width()) / 2.0 - b.x0, top - b.y1));
        items.extend(pattern.items.iter().map(|one| Item { shape: moved(&one.shape, to_page), ..one.clone() }));
        top -= b.height() + GAP;
    }
    let names: Vec<&str> = patterns.iter().map(|p| p.part.name.as_str()).collect();
    let legend = Legend {
        title: setup.title.to_owned(),
        shows: names.join(", "),
        scale: format!("1:{scale}"),
        revision: options.revision.clone(),
        date: options.date.clone(),
        sheet: (1, 1),
        creator: options.creator.clone(),
    };
    items.extend(plain(width, GAP, &legend, &setup.notation));
    Page { width, height, name: names.join(", "), section: None, items }
}
