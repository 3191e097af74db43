//! One sheet that shows whether a printer and its paper can be trusted, before any pattern is printed.

use super::candidates::{bar_names, corrected_words, correction};
use super::furniture::{SMALL, line, longest_bar, rule_bar};
use super::ink::moved;
use super::map::{first_page, how_to_correct, must_read};
use super::tile::Setup;
use super::words::{LEADING, item, wrap};
use crate::geometry::{Affine, Arc, Path, Point, Rect, Segment, Vec2};
use crate::model::RuleBar;
use crate::page::{Anchor, Document, Item, Page, Pen, Role, Shape, Text};
use crate::units::{Angle, Length, MM_PER_INCH, Units};
use std::f64::consts::FRAC_PI_2;

/// The sides of the rectangle whose diagonal is measured, as parts of the diagonal: a 3-4-5 triangle, so that the
/// diagonal also proves the sheet square.
const SIDES: (f64, f64) = (0.6, 0.8);

/// Angles of the three bevel lines, degrees: common splays, spread enough to tell a gauge that slips.
const BEVELS: [f64; 3] = [8.0, 12.0, 15.0];

/// Room that the sheet needs for a full-size diagonal, mm.
const FULL: (f64, f64) = (178.0, 255.0);

/// What the proof sheet shows, in the units of the maker.
struct Proof<'a> {
    area: Rect,
    /// 1, or 1/2 on small paper.
    share: f64,
    setup: &'a Setup<'a>,
    items: Vec<Item>,
}

/// Where things stand on the sheet.
struct Places {
    /// The lower left corner of the rectangle, and its sides, mm.
    corner: Point,
    sides: (f64, f64),
    /// Its diagonal, mm.
    diagonal: f64,
    /// Where the three lines begin, and how long their base is, mm.
    fan: Point,
    base: f64,
    /// Where the bar that lies begins.
    across: Point,
}

/// The bars of the proof sheet, that which lies and that which stands.
pub fn bars(setup: &Setup) -> [Option<RuleBar>; 2] {
    let proof = Proof::of(setup);
    proof.bars(&proof.places())
}

/// The proof sheet for the shop's paper, printer correction included; it has a title of its own.
pub fn proof(setup: &Setup) -> Document {
    let (width, height) = first_page(setup.shop);
    let (x, y) = correction(setup.shop, (width, height));
    let mut proof = Proof::of(setup);
    proof.draw();
    let stretch = Affine::scale_non_uniform(x, y);
    let items = proof.items.into_iter().map(|one| Item { shape: moved(&one.shape, stretch), ..one }).collect();
    let page = Page { width, height, name: "Proof sheet".to_owned(), section: None, items };
    Document { title: "Proof sheet".to_owned(), parts: Vec::new(), pages: vec![page] }
}

impl<'a> Proof<'a> {
    /// With nothing on it yet.
    fn of(setup: &'a Setup<'a>) -> Proof<'a> {
        let (width, height) = first_page(setup.shop);
        let (x, y) = correction(setup.shop, (width, height));
        let area = Rect::new(0.0, 0.0, width / x, height / y).inset(-setup.shop.margin.mm());
        let share = if area.width() >= FULL.0 && area.height() >= FULL.1 { 1.0 } else { 0.5 };
        Proof { area, share, setup, items: Vec::new() }
    }
}

impl Proof<'_> {
    /// A round length in the maker's units: `mm`, or `inches` for a maker who works in inches; halved on small paper.
    fn round(&self, mm: f64, inches: f64) -> f64 {
        self.share * if self.setup.notation.units == Units::Inch { inches * MM_PER_INCH } else { mm }
    }

    fn say(&self, mm: f64) -> String {
        self.setup.notation.length(Length::from_mm(mm))
    }

    fn places(&self) -> Places {
        let diagonal = self.round(200.0, 7.5);
        let corner = Point::new(self.area.x0 + 13.0, self.area.y0 + 6.0);
        let sides = (diagonal * SIDES.0, diagonal * SIDES.1);
        let fan = corner + Vec2::new(0.0, sides.1.max(104.0) + 9.0);
        let base = self.round(100.0, 4.0);
        Places { corner, sides, diagonal, fan, base, across: fan + Vec2::new(0.0, base * 0.27 + 9.0) }
    }

    /// As long as the sheet allows: across to the margin, up past the bevels.
    fn bars(&self, at: &Places) -> [Option<RuleBar>; 2] {
        [longest_bar(self.area.x1 - at.across.x), longest_bar(at.across.y - at.corner.y)]
    }

    fn draw(&mut self) {
        let places = self.places();
        let bars = self.bars(&places);
        let Places { corner, sides: (wide, high), diagonal, fan, base, across } = places;
        self.rectangle(corner, wide, high);
        self.bevels(fan, base);
        let [lying, standing] = bar_names(self.setup.shop, first_page(self.setup.shop));
        self.items.extend(bars[0].into_iter().flat_map(|bar| rule_bar(bar, lying, across, false)));
        let zero = corner - Vec2::new(5.0, 0.0);
        self.items.extend(bars[1].into_iter().flat_map(|bar| rule_bar(bar, standing, zero, true)));
        self.bracket(corner + Vec2::new(wide + 10.0, 4.0));
        self.instructions(across.y + 7.0, diagonal, bars);
    }

    fn words(&mut self, text: Text) {
        self.items.push(item(Role::Caption, text));
    }

    /// The rectangle, its diagonal, and what they read.
    fn rectangle(&mut self, corner: Point, wide: f64, high: f64) {
        let frame = Rect::new(corner.x, corner.y, corner.x + wide, corner.y + high);
        let path = Path::rectangle(frame);
        self.items.push(stroke(Role::Mark, path, 0.18));
        let far = Point::new(frame.x1, frame.y1);
        self.items.push(line(Role::Mark, corner, far, Pen::solid(0.25)));
        let middle = corner.midpoint(far);
        let along = (far - corner).atan2();
        let up = Vec2::from_angle(along + FRAC_PI_2);
        let diagonal = format!("diagonal, corner to corner: {}", self.say(wide.hypot(high)));
        self.words(Text::new(middle + up * 1.5, SMALL, diagonal).anchored(Anchor::Middle).turned(along));
        let below = Point::new(frame.center().x, frame.y0 + 1.5);
        let side = self.say(wide);
        self.words(Text::new(below, SMALL, side).anchored(Anchor::Middle));
        let right = Point::new(frame.x1 - 1.5, frame.center().y);
        let side = self.say(high);
        self.words(Text::new(right, SMALL, side).anchored(Anchor::Middle).turned(FRAC_PI_2));
    }

    /// Three lines off one base line, as a bevel gauge is set.
    fn bevels(&mut self, from: Point, base: f64) {
        self.items.push(line(Role::Mark, from, from + Vec2::new(base, 0.0), Pen::solid(0.25)));
        let mut lowest = f64::NEG_INFINITY;
        for degrees in BEVELS {
            let angle = Angle::from_degrees(degrees);
            let end = from + Vec2::new(base, base * angle.radians().tan());
            self.items.push(line(Role::Mark, from, end, Pen::solid(0.25)));
            let words = self.setup.notation.angle_and_slope(angle);
            // On small paper the lines end nearer to each other than their words are high.
            let y = (end.y - SMALL / 2.0).max(lowest);
            lowest = y + SMALL * LEADING;
            self.words(Text::new(Point::new(end.x + 2.0, y), SMALL, words));
        }
    }

    /// A small bracket with a round corner and a hole: something to cut out and hold against wood.
    fn bracket(&mut self, corner: Point) {
        let (long, short) = (self.round(70.0, 2.75), self.round(45.0, 1.75));
        let (limb, radius, hole) = (self.round(20.0, 0.75), self.round(12.0, 0.5), self.round(8.0, 0.25));
        let at = |x: f64, y: f64| corner + Vec2::new(x, y);
        let arc = |centre: Point| Segment::Arc(Arc::circular(centre, radius, -FRAC_PI_2, FRAC_PI_2));
        let inner = Segment::Arc(Arc::circular(at(short - limb - 4.0, limb + 4.0), 4.0, 0.0, -FRAC_PI_2));
        let ring = vec![
            Segment::line(at(0.0, 0.0), at(short - radius, 0.0)),
            arc(at(short - radius, radius)),
            Segment::line(at(short, radius), at(short, long)),
            Segment::line(at(short, long), at(short - limb, long)),
            Segment::line(at(short - limb, long), at(short - limb, limb + 4.0)),
            inner,
            Segment::line(at(short - limb - 4.0, limb), at(0.0, limb)),
            Segment::line(at(0.0, limb), at(0.0, 0.0)),
        ];
        self.items.push(stroke(Role::Outline, Path::closed(ring), 0.25));
        let centre = at(limb / 2.0, limb / 2.0);
        self.items.push(stroke(Role::Drill, Path::circle(centre, hole / 2.0), 0.25));
        let arm = hole / 2.0 + 2.0;
        for way in [0.0, FRAC_PI_2] {
            let reach = Vec2::from_angle(way) * arm;
            self.items.push(line(Role::Drill, centre - reach, centre + reach, Pen::solid(0.18)));
        }
        let lines = [
            format!("{} x {}", self.say(short), self.say(long)),
            format!("limbs {}", self.say(limb)),
            format!("radius {}", self.say(radius)),
            format!("hole ⌀ {}", self.say(hole)),
        ];
        for (i, words) in lines.into_iter().enumerate() {
            let place = at(0.0, long + 4.0 + SMALL * LEADING * (3 - i) as f64);
            self.words(Text::new(place, SMALL, words));
        }
    }

    fn instructions(&mut self, bottom: f64, diagonal: f64, bars: [Option<RuleBar>; 2]) {
        let title = "Proof sheet: print this first";
        let mut y = self.area.y1 - 5.0;
        self.words(Text::new(Point::new(self.area.x0, y), 5.0, title));
        y -= 4.0;
        let off = corrected_words(self.setup).unwrap_or_else(|| how_to_correct(bars, self.setup));
        let read = must_read(bars, self.setup.notation.units);
        let words = format!(
            "Print at 100 % (\"actual size\"), never \"fit to page\". With a steel rule: {read}; the diagonal reads {}. \
             Set a bevel gauge to the three lines and try it on a protractor. Cut the small bracket out and hold it against the rule. {off} If only \
             the diagonal is off, the sheet went through askew: feed it again. Print everything else on the same \
             printer and paper.",
            self.say(diagonal)
        );
        for words in wrap(&words, SMALL, self.area.width()) {
            y -= SMALL * LEADING;
            if y > bottom {
                self.words(Text::new(Point::new(self.area.x0, y), SMALL, words));
            }
        }
    }
}

fn stroke(role: Role, path: Path, width: f64) -> Item {
    Item { role, part: None, clip: None, shape: Shape::Stroke { path, pen: Pen::solid(width) } }
}
