//! What stands on a sheet beside the pattern: rule bars, crosses, trim lines, datum lines, codes and captions.

use super::seams::{Cross, Seam};
use super::words::{LEADING, item, shorten};
use crate::geometry::{Path, Point, Rect, Vec2};
use crate::model::RuleBar;
use crate::page::{Anchor, Item, Pen, Role, Shape, Text};
use crate::tolerance::SAME_POINT;
use crate::units::MM_PER_INCH;
use std::f64::consts::FRAC_PI_2;

/// Height of the band above the window, mm: a line of words and the bar across.
pub const TOP_BAND: f64 = 17.0;

/// Width of the band left of the window, mm: the bar up.
pub const LEFT_BAND: f64 = 11.0;

/// Widths of furniture lines, mm (ISO 128 series): of rule bars, and of all else.
const LINE: f64 = 0.25;
const THIN: f64 = 0.18;

/// Reach of a cross's arms, mm.
const CROSS_REACH: f64 = 6.0;

/// Radius of the ring round a cross's middle, mm.
const RING: f64 = 1.5;

/// Room that the words at the end of a rule bar take, mm.
const BAR_WORDS: f64 = 15.0;

/// Length of a rule bar with its words, mm.
pub fn bar_length(bar: RuleBar) -> f64 {
    bar.side(true).mm() + BAR_WORDS
}

/// The longest rule bar that a length holds, mm; none where it does not hold the shortest.
pub fn longest_bar(room: f64) -> Option<RuleBar> {
    RuleBar::ALL.into_iter().rev().find(|bar| bar_length(*bar) <= room + SAME_POINT)
}

/// The least length that holds a rule bar, mm.
pub fn least_for_bar() -> f64 {
    bar_length(RuleBar::ALL[0])
}

/// The smallest lettering on a sheet, mm: what can be read in bad light.
pub const SMALL: f64 = 2.5;

/// A furniture line.
pub fn line(role: Role, from: Point, to: Point, pen: Pen) -> Item {
    Item { role, part: None, clip: None, shape: Shape::Stroke { path: Path::line(from, to), pen } }
}

/// Where the name of a bar begins, mm from its zero, and how far off the bar it stands: past the first tick, over the shorter ones.
const BAR_NAME: Vec2 = Vec2::new(4.0, 2.75);

/// Between the line of a bar's millimetres and that of its inches, mm.
const ROWS_APART: f64 = 0.6;

/// A bar with ticks every 10 mm on its one side and every 1/2 in on the other, from `zero` along x, or up along y. Beside it
/// stands how it lies on the sheet as it is held, and the name of the printer's reading that it gives: a sheet that is broad went through the
/// printer turned.
pub fn rule_bar(bar: RuleBar, name: &str, zero: Point, up: bool) -> Vec<Item> {
    let (along, side) =
        if up { (Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0)) } else { (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)) };
    let long = bar.side(true).mm();
    let (in_mm, in_inches) = (f64::from(bar.mm), MM_PER_INCH * f64::from(bar.inches));
    // Each row has a line of its own, as long as is written at its end: whoever measures from end to end reads that number.
    let rows = [(0.0, in_mm), (-ROWS_APART, in_inches)];
    let row = |(off, end)| (zero + side * off, zero + side * off + along * end);
    let mut items: Vec<Item> =
        rows.map(row).map(|(from, to)| line(Role::Scale, from, to, Pen::solid(LINE))).into_iter().collect();
    let mut tick = |at: f64, from: f64, to: f64| {
        let at = zero + along * at;
        items.push(line(Role::Scale, at + side * from, at + side * to, Pen::solid(THIN)));
    };
    for ten in 0..=bar.mm / 10 {
        tick(10.0 * f64::from(ten), 0.0, if ten % 5 == 0 { 3.0 } else { 2.0 });
    }
    for half_inch in 0..=2 * bar.inches {
        let reach = if half_inch % 2 == 0 { -3.0 } else { -1.5 };
        tick(MM_PER_INCH / 2.0 * f64::from(half_inch), -ROWS_APART, reach);
    }
    // Past the bar's end, where no tick stands in the way.
    let end = zero + along * (long + 1.5);
    let turn = if up { FRAC_PI_2 } else { 0.0 };
    let at = zero + along * BAR_NAME.x + side * BAR_NAME.y;
    items.push(item(Role::Scale, Text::new(at, SMALL, bar_words(name, up)).turned(turn)));
    for (off, words) in [(0.6, format!("{} mm", bar.mm)), (-0.6 - SMALL, format!("{} in", bar.inches))] {
        items.push(item(Role::Scale, Text::new(end + side * off, SMALL, words).turned(turn)));
    }
    items
}

/// What stands at a bar that gives a reading of a name: short enough to end before the first long tick.
fn bar_words(name: &str, stands: bool) -> String {
    let lies = if stands { "stands" } else { "lies" };
    format!("{lies}: \"bar {name}\"")
}

/// From the middle of a registration cross to its name, mm along.
const NAME_OFF: f64 = 2.2;

/// How far the name of a registration cross reaches from its middle, mm.
pub fn name_reach(name: &str) -> f64 {
    NAME_OFF + Text::new(Point::ORIGIN, SMALL, name).width() + 1.0
}

/// Rows above or below a registration cross in which its name is tried, mm from its middle.
const NAME_ROWS: [f64; 5] = [1.2, 4.4, 7.6, 10.8, 14.0];

/// Room round the name of a registration cross, mm.
const NAME_CLEAR: f64 = 0.4;

/// What a name finds free on a sheet.
#[derive(Clone, Copy)]
pub struct Free<'a> {
    /// Whether nothing stands in a rectangle.
    pub room: &'a dyn Fn(Rect) -> bool,
    /// Whether a straight line is clear of words.
    pub line: &'a dyn Fn(Point, Point) -> bool,
}

/// A registration cross with its name on the side of the seam that stays of its sheet: right of it or below, or else left of it or
/// above; `down` where the seam runs down the sheet. The name stands where the room is free, if any of its places is, at a line to it that is clear of words
/// where none beside it is.
pub fn registration_cross(
    cross: &Cross,
    reach: f64,
    (down, over): (bool, bool),
    Free { room, line: is_line_clear }: Free,
) -> Vec<Item> {
    let at = cross.at;
    let (x, y) = (Vec2::new(reach, 0.0), Vec2::new(0.0, reach));
    let mut items: Vec<Item> =
        [x, y].into_iter().map(|arm| line(Role::Registration, at - arm, at + arm, Pen::solid(THIN))).collect();
    // The ring shows the middle where the seam's own line runs along an arm.
    let ring = Path::circle(at, RING);
    let shape = Shape::Stroke { path: ring, pen: Pen::solid(THIN) };
    items.push(Item { role: Role::Registration, part: None, clip: None, shape });
    let places = || name_places(cross, down, over);
    let is_free = |text: &Text| room(text.bounding_box().inflate(NAME_CLEAR, NAME_CLEAR));
    if let Some(name) = places().find(is_free) {
        items.push(item(Role::Registration, name));
        return items;
    }
    // Between lines on every side the name stands farther off, at the end of a line to the cross.
    let mut far = far_places(cross, down, over);
    let far = far.find(|(text, [from, to])| is_free(text) && is_line_clear(*from, *to));
    match far {
        Some((name, [from, to])) => {
            items.push(line(Role::Registration, from, to, Pen::solid(THIN)));
            items.push(item(Role::Registration, name));
        }
        None => items.extend(places().next().map(|name| item(Role::Registration, name))),
    }
    items
}

/// How far off a registration cross its name is tried where there is no room beside it, mm: from where to where, and in which steps.
const FAR: (f64, f64, f64) = (8.0, 60.0, 4.0);

/// Directions off the lines of most patterns in which that is done, radians from the direction in which the sheet stays.
const FAR_TURNS: [f64; 6] = [0.35, -0.35, 0.75, -0.75, 1.15, -1.15];

/// Between a line to a cross and its name, mm.
const FAR_OFF: f64 = 0.8;

/// Where the name of a registration cross stands at the end of a line to it, and that line: on the side of the seam that stays.
fn far_places(cross: &Cross, down: bool, over: bool) -> impl Iterator<Item = (Text, [Point; 2])> {
    let stays = match (down, over) {
        (true, false) => Vec2::new(-1.0, 0.0),
        (true, true) => Vec2::new(1.0, 0.0),
        (false, false) => Vec2::new(0.0, 1.0),
        (false, true) => Vec2::new(0.0, -1.0),
    };
    let (from, to, step) = FAR;
    let reaches = (0..=((to - from) / step) as u32).map(move |k| from + step * f64::from(k));
    reaches.flat_map(move |reach| {
        FAR_TURNS.map(|turn| {
            let way = Vec2::from_angle(stays.atan2() + turn);
            let (start, end) = (cross.at + way * RING, cross.at + way * reach);
            let (side, anchor) = if way.x < 0.0 { (-1.0, Anchor::End) } else { (1.0, Anchor::Start) };
            let at = end + Vec2::new(side * FAR_OFF, -SMALL / 2.0);
            (Text::new(at, SMALL, cross.name.as_str()).anchored(anchor), [start, end])
        })
    })
}

/// Where the name of a registration cross may stand, the nearest first.
fn name_places(cross: &Cross, down: bool, over: bool) -> impl Iterator<Item = Text> {
    let sides: &[f64] = match (down, over) {
        (true, false) => &[-1.0],
        (true, true) => &[1.0],
        (false, _) => &[1.0, -1.0],
    };
    let rises: &[bool] = match (down, over) {
        (true, _) => &[true, false],
        (false, false) => &[true],
        (false, true) => &[false],
    };
    NAME_ROWS.into_iter().flat_map(move |row| {
        rises.iter().flat_map(move |rises| {
            sides.iter().map(move |side| {
                let y = if *rises { row } else { -row - SMALL };
                let anchor = if *side > 0.0 { Anchor::Start } else { Anchor::End };
                let at = cross.at + Vec2::new(side * NAME_OFF, y);
                Text::new(at, SMALL, cross.name.as_str()).anchored(anchor)
            })
        })
    })
}

/// The reach of cross arms that stays within a strip of a width, mm.
pub fn cross_reach(overlap: f64) -> f64 {
    CROSS_REACH.min(overlap / 2.0)
}

/// From the middle of a check cross to its name, mm, and the height of its letters.
const CHECK_OFF: Vec2 = Vec2::new(2.6, 2.4);
const CHECK_LETTERS: f64 = 3.5;

/// How far the name of a check cross reaches to the right of its middle, mm.
pub fn check_name_reach(name: &str) -> f64 {
    CHECK_OFF.x + Text::new(Point::ORIGIN, CHECK_LETTERS, name).width() + 1.0
}

/// A ringed cross with its name, from which the taped pattern is measured.
pub fn check_cross(at: Point, name: &str) -> Vec<Item> {
    let mut items: Vec<Item> = [Vec2::new(4.0, 0.0), Vec2::new(0.0, 4.0)]
        .into_iter()
        .map(|arm| line(Role::Registration, at - arm, at + arm, Pen::solid(THIN)))
        .collect();
    for radius in [RING, 2.0 * RING] {
        let shape = Shape::Stroke { path: Path::circle(at, radius), pen: Pen::solid(THIN) };
        items.push(Item { role: Role::Registration, part: None, clip: None, shape });
    }
    items.push(item(Role::Registration, Text::new(at + CHECK_OFF, CHECK_LETTERS, name)));
    items
}

/// The line along which a sheet is cut, or under which its neighbour comes to lie, with words beside it, where there is room, on the
/// side that is lost; on the part itself only its ends are drawn. Where a cross stands, the cross's own arm is the line.
pub fn seam_line(seam: &Seam, reach: f64, cut: bool) -> Vec<Item> {
    let down = seam.runs_down();
    let along = (seam.to - seam.from).normalize();
    let pen = || if cut { Pen::solid(THIN) } else { Pen::dashed(THIN, &[2.0, 1.5]) };
    let mut items = Vec::new();
    let long = seam.from.distance(seam.to);
    let arms: Vec<f64> = seam.crosses.iter().map(|cross| cross.at.distance(seam.from)).collect();
    for (from, to) in seam.drawn.iter().map(|(from, to)| (from * long, to * long)) {
        let mut start = from;
        let stops = arms.iter().map(|arm| (arm - reach, arm + reach)).chain([(to, to)]);
        for (stop, next) in stops {
            let stop = stop.min(to);
            if stop > start {
                items.push(line(Role::Trim, seam.from + along * start, seam.from + along * stop, pen()));
            }
            start = start.max(next);
        }
    }
    // Cut sheets lose the strip left of or above the line; kept sheets are covered right of or below it.
    let off = if cut { 1.0 } else { -1.0 - SMALL };
    let [under, over] = seam.words_at;
    let Some(share) = (if cut { over } else { under }) else { return items };
    let middle = seam.from.lerp(seam.to, share);
    let words = if cut { seam.over_words() } else { seam.under_words() };
    let text = if down {
        Text::new(middle - Vec2::new(off, 0.0), SMALL, words).turned(FRAC_PI_2)
    } else {
        Text::new(middle + Vec2::new(0.0, off), SMALL, words)
    };
    items.push(item(Role::Trim, text.anchored(Anchor::Middle)));
    items
}

/// Height of the letters of a sheet's code in its head, and the gap behind it, mm.
const CODE_LETTERS: f64 = 5.0;
const CODE_GAP: f64 = 4.0;

/// How wide the lines of a head are at most, mm, behind the sheet's code.
pub fn caption_width(band: Rect, code: &str) -> f64 {
    band.width() - Text::new(Point::ORIGIN, CODE_LETTERS, code).width() - CODE_GAP
}

/// The words in the band above the window: the sheet's code large, then two lines.
pub fn caption(band: Rect, code: &str, lines: &[String; 2]) -> Vec<Item> {
    let top = band.y1 - CODE_LETTERS;
    let x = band.x1 - caption_width(band, code);
    let mut items = vec![item(Role::Caption, Text::new(Point::new(band.x0, top), CODE_LETTERS, code))];
    for (i, line) in lines.iter().enumerate() {
        let words = shorten(line, SMALL, band.x1 - x);
        let at = Point::new(x, band.y1 - SMALL - i as f64 * SMALL * LEADING);
        items.push(item(Role::Caption, Text::new(at, SMALL, words)));
    }
    items
}

#[cfg(test)]
mod tests {
    use super::rule_bar;
    use crate::geometry::Point;
    use crate::model::RuleBar;
    use crate::page::{Item, Shape};

    /// Whoever lays a rule from one end of a row to the other reads the number that stands there.
    #[test]
    fn each_row_of_a_bar_is_as_long_as_it_says() {
        for bar in RuleBar::ALL {
            for up in [false, true] {
                let items = rule_bar(bar, "across", Point::new(20.0, 30.0), up);
                let long = |item: &Item| match &item.shape {
                    Shape::Stroke { path, .. } => path.length(),
                    _ => 0.0,
                };
                let mut rows: Vec<f64> = items.iter().map(long).filter(|long| *long > 10.0).collect();
                rows.sort_by(f64::total_cmp);
                let said = [f64::from(bar.mm), f64::from(bar.inches) * 25.4];
                assert!(
                    rows.len() == 2 && rows.iter().zip(said).all(|(a, b)| (a - b).abs() < 1e-9),
                    "{rows:?} {said:?}"
                );
            }
        }
    }
}
