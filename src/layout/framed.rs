//! What stands on a drawing's sheet beside the views: a line of words, or a frame with a title block.

use super::words::{LEADING, fitted, item};
use crate::geometry::{Path, Point, Rect, Vec2};
use crate::page::{Anchor, Item, Pen, Role, Text};
use crate::units::{Notation, Units};

/// Width of a frame's line, mm (ISO 5457).
const FRAME: f64 = 0.7;

/// The filing margin at the left, and the three others, mm (ISO 5457: 20 and 10 for all sizes).
const MARGINS: (f64, f64) = (20.0, 10.0);

/// Length of a centring mark, mm (ISO 5457, from memory).
const CENTRING: f64 = 10.0;

/// The title block: at most 180 mm wide (ISO 7200), three rows.
const BLOCK: (f64, f64) = (180.0, 36.0);

/// Height of the line of words on a plain sheet with the room over it, mm.
const STRIP: f64 = 10.0;

/// Lettering, mm: words, and the small names of fields.
const WORDS: f64 = 3.5;
const FIELD: f64 = 1.8;

/// Lettering of a foot line that would not fit, mm.
const NARROW: f64 = 2.5;

/// How far letters hang under their line, in capital heights.
const DESCENDER: f64 = 0.3;

/// A drawing keeps off a centring mark by so much, mm.
const OFF_CENTRING: f64 = 1.0;

/// Over the lower line of a field its words stand this high, mm: in one line, and in two.
const ONE_LINE: f64 = 2.5;
const TWO_LINES: f64 = 1.2;

/// What a sheet says of itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Legend {
    /// Title of the piece.
    pub title: String,
    /// What the sheet shows: `views`, `assembly`.
    pub shows: String,
    /// Scale as written: `1:10`.
    pub scale: String,
    /// Revision code.
    pub revision: Option<String>,
    /// Date, as given.
    pub date: Option<String>,
    /// Sheet number and how many there are.
    pub sheet: (usize, usize),
    /// Drawn by, on a framed sheet.
    pub creator: Option<String>,
}

/// The room for the drawing on a sheet.
pub fn area(width: f64, height: f64, margin: f64, framed: bool) -> Rect {
    if framed {
        let (left, other) = MARGINS;
        let inner = Rect::new(left, other, width - other, height - other).inset(-CENTRING / 2.0 - OFF_CENTRING);
        return Rect::new(inner.x0, inner.y0 + BLOCK.1, inner.x1, inner.y1);
    }
    let inner = Rect::new(0.0, 0.0, width, height).inset(-margin);
    Rect::new(inner.x0, inner.y0 + STRIP, inner.x1, inner.y1)
}

/// A line of words at the foot of a plain sheet, or the frame and its title block.
pub fn around(width: f64, height: f64, margin: f64, framed: bool, legend: &Legend, notation: &Notation) -> Vec<Item> {
    if framed { frame(width, height, legend, notation) } else { plain(width, margin, legend, notation) }
}

fn units(notation: &Notation) -> &'static str {
    match notation.units {
        Units::Mm => "dimensions in millimetres",
        Units::Inch => "dimensions in inches",
    }
}

/// A line of words at the foot of a sheet, with the symbol for the way in which views are laid out.
pub fn plain(width: f64, margin: f64, legend: &Legend, notation: &Notation) -> Vec<Item> {
    let mut words = vec![legend.shows.clone(), format!("scale {}", legend.scale), units(notation).to_owned()];
    words.extend(legend.revision.as_ref().map(|r| format!("rev {r}")));
    words.extend(legend.date.clone());
    words.extend(legend.creator.as_ref().map(|name| format!("drawn by {name}")));
    if legend.sheet.1 > 1 {
        words.push(format!("sheet {} of {}", legend.sheet.0, legend.sheet.1));
    }
    let said = words.join(" · ");
    let symbol = Point::new(width - margin - 9.0, margin + 2.5);
    let room = symbol.x - 14.0 - margin;
    // On a narrow sheet the next smaller lettering of ISO 3098, then two lines.
    let (height, lines) = fitted(&format!("{} · {said}", legend.title), &[WORDS, NARROW], room, 2);
    // What hangs under the line of words lies on the margin.
    let mut items = stacked(Point::new(margin, margin + DESCENDER * height), height, lines);
    items.extend(projection(symbol, 5.0, notation.units == Units::Mm));
    items
}

fn frame(width: f64, height: f64, legend: &Legend, notation: &Notation) -> Vec<Item> {
    let (left, other) = MARGINS;
    let inner = Rect::new(left, other, width - other, height - other);
    let mut items = vec![line(Path::rectangle(inner), FRAME)];
    let middle = inner.center();
    for (edge, inwards) in [
        // The title block may stand over the middle of the lower side.
        (Point::new(middle.x, inner.y0), Vec2::new(0.0, 0.0)),
        (Point::new(middle.x, inner.y1), Vec2::new(0.0, -1.0)),
        (Point::new(inner.x0, middle.y), Vec2::new(1.0, 0.0)),
        (Point::new(inner.x1, middle.y), Vec2::new(-1.0, 0.0)),
    ] {
        let outwards = if inwards == Vec2::ZERO { Vec2::new(0.0, -1.0) } else { -inwards };
        items.push(line(Path::line(edge + inwards * (CENTRING / 2.0), edge + outwards * (CENTRING / 2.0)), FRAME));
    }
    items.extend(title_block(inner, legend, notation));
    items
}

fn line(path: Path, pen: f64) -> Item {
    Item::stroke(Role::Caption, path, Pen::solid(pen))
}

/// What stands in a field of the title block.
enum Entry {
    Words(String),
    /// The symbol for the way in which views are laid out.
    Projection,
}

/// Lines of words over each other, the last at a point.
fn stacked(low: Point, height: f64, lines: Vec<String>) -> Vec<Item> {
    let set = |(up, words): (usize, String)| {
        item(Role::Caption, Text::new(low + Vec2::new(0.0, height * LEADING * up as f64), height, words))
    };
    lines.into_iter().rev().enumerate().map(set).collect()
}

/// The title block in the lower right corner of a frame.
fn title_block(inner: Rect, legend: &Legend, notation: &Notation) -> Vec<Item> {
    let wide = BLOCK.0.min(inner.width());
    let block = Rect::new(inner.x1 - wide, inner.y0, inner.x1, inner.y0 + BLOCK.1);
    let mut items = vec![line(Path::rectangle(block), 0.35)];
    let row = BLOCK.1 / 3.0;
    for k in 1..3 {
        let y = block.y0 + row * f64::from(k);
        items.push(line(Path::line((block.x0, y).into(), (block.x1, y).into()), 0.18));
    }
    let sheet = format!("{} of {}", legend.sheet.0, legend.sheet.1);
    let given = |value: &Option<String>| Entry::Words(value.clone().unwrap_or_default());
    let words = |value: &str| Entry::Words(value.to_owned());
    let rows: [Vec<(&str, Entry, f64)>; 3] = [
        vec![("title", words(&legend.title), 0.62), ("shows", words(&legend.shows), 0.38)],
        vec![
            ("scale", words(&legend.scale), 0.14),
            ("units", words(units(notation)), 0.48),
            ("projection", Entry::Projection, 0.38),
        ],
        vec![
            ("drawn by", given(&legend.creator), 0.32),
            ("date", given(&legend.date), 0.2),
            ("revision", given(&legend.revision), 0.3),
            ("sheet", Entry::Words(sheet), 0.18),
        ],
    ];
    for (k, fields) in rows.iter().enumerate() {
        let (mut x, y) = (block.x0, block.y1 - row * (k + 1) as f64);
        for (name, entry, share) in fields {
            let room = wide * share;
            items.push(item(Role::Caption, Text::new(Point::new(x + 1.5, y + row - 3.2), FIELD, *name)));
            match entry {
                Entry::Words(value) => {
                    let (height, lines) = fitted(value, &[WORDS, NARROW], room - 3.0, 2);
                    let low = if lines.len() > 1 { TWO_LINES } else { ONE_LINE };
                    items.extend(stacked(Point::new(x + 1.5, y + low), height, lines));
                }
                Entry::Projection => {
                    let middle = Point::new(x + room / 2.0, y + row / 2.0);
                    items.extend(projection(middle, 7.0, notation.units == Units::Mm));
                }
            }
            x += room;
            if x < block.x1 - 1.0 {
                items.push(line(Path::line((x, y).into(), (x, y + row).into()), 0.18));
            }
        }
    }
    items
}

/// The symbol for the way in which views are laid out (ISO 5456-2, proportions from memory): a blunt cone, and its view from the small end,
/// which stands beyond the large end where the first angle is used and before the small end where the third is.
pub fn projection(middle: Point, height: f64, first_angle: bool) -> Vec<Item> {
    let (large, small, length) = (height / 2.0, height / 4.0, height);
    let (cone, circles) = if first_angle { (-0.75, 0.85) } else { (0.75, -0.85) };
    let cone = middle + Vec2::new(cone * height, 0.0);
    let circles = middle + Vec2::new(circles * height, 0.0);
    let at = |x: f64, y: f64| cone + Vec2::new(x, y);
    let side = [(-length / 2.0, -small), (length / 2.0, -large), (length / 2.0, large), (-length / 2.0, small)];
    let ring = Path::polyline(&side.map(|(x, y)| at(x, y)), true);
    let wide = |path: Path| Item::stroke(Role::Caption, path, Pen::solid(0.35));
    let axis = |from: Point, to: Point| {
        Item::stroke(Role::Caption, Path::line(from, to), Pen::dashed(0.18, &[2.0, 0.5, 0.2, 0.5]))
    };
    let across = Vec2::new(length / 2.0 + 1.0, 0.0);
    let round = Vec2::new(large + 1.0, 0.0);
    vec![
        wide(ring),
        wide(Path::circle(circles, large)),
        wide(Path::circle(circles, small)),
        axis(cone - across, cone + across),
        axis(circles - round, circles + round),
        axis(circles - round.turn_90(), circles + round.turn_90()),
    ]
}

/// Words in a column, one a line, from the top down; returns the items and how far down they reach.
pub fn column(from: Point, lines: &[String]) -> (Vec<Item>, f64) {
    let step = WORDS * super::words::LEADING;
    let at = |k: usize| Point::new(from.x, from.y - WORDS - step * k as f64);
    let items = lines.iter().enumerate();
    let items =
        items.map(|(k, words)| item(Role::Text, Text::new(at(k), WORDS, words.as_str()).anchored(Anchor::Start)));
    (items.collect(), from.y - step * lines.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::{Legend, plain};
    use crate::page::Shape;
    use crate::units::Notation;

    #[test]
    fn the_foot_line_ends_before_the_symbol_on_every_sheet() {
        let legend = Legend {
            title: "Reading table in a wood with a long name".into(),
            shows: "left side".into(),
            scale: "1:20".into(),
            creator: Some("whoever it was".into()),
            date: None,
            revision: Some("9J3VA".into()),
            sheet: (2, 7),
        };
        for width in [105.0, 148.0, 210.0, 297.0, 420.0] {
            let items = plain(width, 10.0, &legend, &Notation::default());
            let words = items.iter().filter(|i| matches!(i.shape, Shape::Text(_))).filter_map(|i| i.bounding_box());
            let lines =
                items.iter().filter(|i| matches!(i.shape, Shape::Stroke { .. })).filter_map(|i| i.bounding_box());
            let end = words.map(|b| b.x1).fold(0.0, f64::max);
            let symbol = lines.map(|b| b.x0).fold(width, f64::min);
            assert!(end < symbol, "{width}: {end} {symbol}");
        }
    }
}
