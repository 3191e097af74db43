//! Where neighbouring sheets meet, and the crosses by which they are laid true.

use super::datum::Datums;
use super::furniture::{SMALL, name_reach};
use super::grid::Grid;
use super::ink::Ink;
use super::tile::code;
use crate::geometry::{Point, Rect, Region, Vec2};
use crate::page::Text;

/// Shares of a seam at which its crosses would stand if nothing were in the way: far apart, so that two of them fix the
/// direction, and off the ends, where four sheets meet.
const WISHED: [f64; 2] = [0.18, 0.82];

/// Room that a cross takes along and across the seam at least, mm from the cross; its name may take more.
const ROOM: Vec2 = Vec2::new(7.5, 6.0);

/// Shares of the seam between the places that are tried.
const STEP: f64 = 0.02;

/// Where the words along a seam would stand if nothing were in the way, as shares of it: between cross and datum line.
const WORDS_WISHED: [f64; 2] = [0.36, 0.64];

/// From where to where the words of a sheet that is cut reach off the seam on the side that is lost, mm, and those of the sheet that comes under;
/// a little more than their ink, and how much more at their ends.
const WORDS_OVER: (f64, f64) = (0.0, 1.0 + SMALL + 0.6);
const WORDS_UNDER: (f64, f64) = (-0.6, -1.0 - SMALL - 1.2);
const WORDS_ENDS: f64 = 0.8;

/// Shares of the seam between the places that are tried for its words, and how many.
const WORDS_STEP: f64 = 0.01;
const WORDS_STEPS: u32 = 36;

/// Length of the stroke at either end of a seam within the part, mm, and of the shortest stretch that is told to lie in it.
const END_STROKE: f64 = 8.0;
const SHORTEST: f64 = 1.0;

/// How far beside a seam lines are looked for that cross it, mm: a rectangle without width touches none.
const BESIDE: f64 = 0.1;

/// A cross that stands on the same point of the pattern on both sheets of a seam.
#[derive(Debug, Clone, PartialEq)]
pub struct Cross {
    /// Its name: the code of its pattern, the seam's letters and a number.
    pub name: String,
    /// Where it stands, in the pattern.
    pub at: Point,
}

/// The line along which two sheets meet.
#[derive(Debug, Clone, PartialEq)]
pub struct Seam {
    /// The code of its pattern.
    pub part: String,
    /// Its letters: A, B, … Z, Aa, … (a code before them has no small letter, so that no two crosses share a name).
    pub letters: String,
    /// Row and column of the sheet above or to the left, which keeps its strip.
    pub under: (usize, usize),
    /// Row and column of the sheet below or to the right, which is trimmed and laid over it.
    pub over: (usize, usize),
    /// Upper or left end of the seam, in the pattern.
    pub from: Point,
    /// Lower or right end.
    pub to: Point,
    /// Two crosses, in order from `from` to `to`.
    pub crosses: Vec<Cross>,
    /// The middle of the words that stand along the seam, as a share of it: of those on the sheet that comes under, and of those on
    /// the one that is cut; `None` where the pattern's lines leave no room for them.
    pub words_at: [Option<f64>; 2],
    /// Where its line is drawn, from share to share: outside the part, on which it would be one line more. Within, a stroke at either
    /// end and the arms of the crosses show where it runs.
    pub drawn: Vec<(f64, f64)>,
}

impl Seam {
    /// Whether the seam runs down the sheet rather than across.
    pub fn runs_down(&self) -> bool {
        self.under.0 == self.over.0
    }

    /// What stands along the seam on the sheet that is cut there.
    pub fn over_words(&self) -> String {
        format!("cut, lay over {}", code(&self.part, self.under))
    }

    /// What stands along the seam on the sheet that comes to lie under the other.
    pub fn under_words(&self) -> String {
        format!("lies under {}", code(&self.part, self.over))
    }
}

/// The seams of a grid's kept sheets in reading order, their crosses clear of the pattern's lines where that is possible; `part`
/// is the code of the pattern.
pub fn seams(part: &str, grid: &Grid, kept: &[(usize, usize)], datums: &Datums, ink: &Ink) -> Vec<Seam> {
    let mut found = Vec::new();
    let part_region = ink.region();
    let meets = |sheet: &(usize, usize)| kept.binary_search(sheet).is_ok();
    for &(row, column) in kept {
        let cell = grid.cell(row, column);
        let right = (row, column + 1);
        let below = (row + 1, column);
        let ends_right = (Point::new(cell.x1, cell.y1), Point::new(cell.x1, cell.y0));
        let ends_below = (Point::new(cell.x0, cell.y0), Point::new(cell.x1, cell.y0));
        let ways = [(right, ends_right, datums.rows[row]), (below, ends_below, datums.columns[column])];
        for (over, (from, to), datum) in ways {
            if meets(&over) {
                let letters = seam_letters(found.len());
                let places = Places { from, to, datum, ink };
                let (under, crosses) = ((row, column), places.crosses(&format!("{part}{letters}")));
                let drawn = places.outside(&part_region);
                let part = part.to_owned();
                let mut seam = Seam { part, letters, under, over, from, to, crosses, words_at: [None; 2], drawn };
                seam.words_at = [false, true].map(|cut| places.words_at(&seam, cut));
                found.push(seam);
            }
        }
    }
    found
}

/// A seam on which places are looked for.
struct Places<'a> {
    from: Point,
    to: Point,
    /// Where a datum line crosses the seam: its height, or its place on a level seam.
    datum: f64,
    ink: &'a Ink<'a>,
}

impl Places<'_> {
    fn runs_down(&self) -> bool {
        (self.to - self.from).x.abs() < (self.to - self.from).y.abs()
    }

    /// How far a point of the seam stands off the datum line, mm.
    fn off_datum(&self, at: Point) -> f64 {
        if self.runs_down() { (at.y - self.datum).abs() } else { (at.x - self.datum).abs() }
    }

    /// The stretches of the seam outside a region, with a stroke at either end of what lies in it.
    fn outside(&self, region: &Region) -> Vec<(f64, f64)> {
        let long = self.from.distance(self.to);
        let mut drawn = vec![(0.0, (END_STROKE / long).min(0.5))];
        self.add_outside((0.0, 1.0), long, region, &mut drawn);
        drawn.push((1.0 - (END_STROKE / long).min(0.5), 1.0));
        drawn.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut joined: Vec<(f64, f64)> = Vec::new();
        for (from, to) in drawn {
            match joined.last_mut().filter(|last| last.1 >= from) {
                Some(last) => last.1 = last.1.max(to),
                None => joined.push((from, to)),
            }
        }
        joined
    }

    /// Adds what of a stretch lies outside, halved until no line of the pattern crosses it or it is as short as can be told.
    fn add_outside(&self, (from, to): (f64, f64), long: f64, region: &Region, drawn: &mut Vec<(f64, f64)>) {
        let (a, b) = (self.from.lerp(self.to, from), self.from.lerp(self.to, to));
        let middle = (from + to) / 2.0;
        if (to - from) * long > SHORTEST && self.ink.lines_touch(Rect::from_points(a, b).inflate(BESIDE, BESIDE)) {
            self.add_outside((from, middle), long, region, drawn);
            self.add_outside((middle, to), long, region, drawn);
        } else if !region.holds(a.midpoint(b)) {
            drawn.push((from, to));
        }
    }

    /// Two crosses, each as near to its wished place as the pattern's lines and the datum line allow.
    fn crosses(&self, letters: &str) -> Vec<Cross> {
        let steps = ((0.5 - WISHED[0]) / STEP) as i32 - 2;
        // The name is level: it runs across a seam that runs down, and along one that runs across.
        let room = Vec2::new(ROOM.x.max(name_reach(&format!("{letters}1"))), ROOM.y);
        let place = |wished: f64| {
            let inwards = if wished < 0.5 { STEP } else { -STEP };
            let tries = (0..=steps).flat_map(|k| [k, -k]).map(|k| wished + inwards * f64::from(k));
            let tries =
                tries.filter(|share| (0.08..=0.92).contains(share)).map(|share| self.from.lerp(self.to, share));
            let tries: Vec<Point> = tries.filter(|at| self.off_datum(*at) > ROOM.x).collect();
            let clear = |at: &&Point| !self.ink.touches(Rect::from_points(**at - room, **at + room));
            // A line through a cross can be told from it; words under it cannot be read.
            let off_words = |at: &&Point| {
                let room = Rect::from_points(**at - room, **at + room);
                !self.ink.words_overlap(room)
            };
            let found = tries.iter().find(clear).or_else(|| tries.iter().find(off_words)).or_else(|| tries.first());
            found.copied().unwrap_or_else(|| self.from.lerp(self.to, wished))
        };
        let named = |(i, wished): (usize, &f64)| Cross { name: format!("{letters}{}", i + 1), at: place(*wished) };
        WISHED.iter().enumerate().map(named).collect()
    }

    /// Where words stand along the seam on the sheet that is cut, or on the other: clear of its crosses, of the datum line and of the
    /// pattern's lines.
    fn words_at(&self, seam: &Seam, cut: bool) -> Option<f64> {
        let words = if cut { seam.over_words() } else { seam.under_words() };
        let along = (self.to - self.from).normalize();
        let half = Text::new(Point::ORIGIN, SMALL, words).width() / 2.0;
        let clear = |share: &f64| {
            let middle = self.from.lerp(self.to, *share);
            let reach = |cross: &Cross| if self.runs_down() { ROOM.y } else { name_reach(&cross.name).max(ROOM.y) };
            let off_crosses = seam.crosses.iter().all(|cross| cross.at.distance(middle) > half + reach(cross));
            off_crosses && self.off_datum(middle) > half + 1.0
        };
        // Towards the strip that is lost: left of a seam that runs down, or above.
        let lost = if self.runs_down() { Vec2::new(-1.0, 0.0) } else { Vec2::new(0.0, 1.0) };
        let (near, far) = if cut { WORDS_OVER } else { WORDS_UNDER };
        let free = |share: &f64| {
            let (middle, reach) = (self.from.lerp(self.to, *share), along * (half + WORDS_ENDS));
            !self.ink.lines_touch(Rect::from_points(middle - reach + lost * near, middle + reach + lost * far))
        };
        let room = half / self.from.distance(self.to);
        let steps = (0..=WORDS_STEPS).flat_map(|k| [-1.0, 1.0].map(|side| side * WORDS_STEP * f64::from(k)));
        let shares = steps.flat_map(|off| WORDS_WISHED.map(|wished| wished + off));
        shares.filter(|share| (room..=1.0 - room).contains(share)).filter(clear).find(free)
    }
}

/// A, B, … Z, Aa, Ab, …
fn seam_letters(index: usize) -> String {
    let letters = letters(index);
    letters.chars().take(1).chain(letters.chars().skip(1).map(|c| c.to_ascii_lowercase())).collect()
}

/// The letters of seams and lists: without those of the ringed crosses, from which diagonals are measured, and without those that are
/// taken for a digit or for each other in bad light.
const LETTERS: [char; 19] =
    ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'M', 'N', 'T', 'U', 'V', 'W', 'X', 'Y', 'Z'];

/// A, B, … Z, AA, AB, …
pub(super) fn letters(index: usize) -> String {
    let letter = LETTERS[index % LETTERS.len()];
    match index / LETTERS.len() {
        0 => letter.to_string(),
        more => format!("{}{letter}", letters(more - 1)),
    }
}

#[cfg(test)]
mod tests {
    use super::{letters, seam_letters, seams};
    use crate::geometry::{Path, Point, Rect, Vec2};
    use crate::layout::datum::Datums;
    use crate::layout::grid::Grid;
    use crate::layout::ink::Ink;
    use crate::page::{Item, Pen, Role, Shape};

    #[test]
    fn letters_go_on_past_z() {
        assert_eq!([0, 18, 19, 37, 38, 379, 380].map(letters), ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
        assert_eq!([0, 18, 19, 37, 380].map(seam_letters), ["A", "Z", "Aa", "Az", "Aaa"]);
    }

    /// Who measures from P to Q must not find a seam's cross of that letter.
    #[test]
    fn seams_have_no_letter_of_a_ringed_cross_and_none_like_a_digit() {
        for name in (0..2000).map(seam_letters) {
            assert!(!name.to_uppercase().contains(['P', 'Q', 'R', 'S', 'I', 'L', 'O']), "{name}");
        }
    }

    #[test]
    fn crosses_keep_clear_of_the_line_where_they_can() {
        let grid = Grid::over(Rect::new(0.0, 0.0, 300.0, 200.0), Vec2::new(180.0, 250.0), 15.0, Vec2::new(0.5, 0.5))
            .expect("a grid");
        let kept = [(0, 0), (0, 1)];
        let datums = Datums::of(&grid, &kept, &Ink::new(&[]));
        let seam = seams("B", &grid, &kept, &datums, &Ink::new(&[])).remove(0);
        let through =
            Path::line(seam.crosses[0].at - Vec2::new(50.0, 0.0), seam.crosses[0].at + Vec2::new(50.0, 0.0));
        let shape = Shape::Stroke { path: through, pen: Pen::solid(0.25) };
        let items = [Item { role: Role::Outline, part: None, clip: None, shape }];
        let moved = seams("B", &grid, &kept, &datums, &Ink::new(&items)).remove(0);
        let apart = |p: Point, q: Point| (p.y - q.y).abs();
        assert!(apart(moved.crosses[0].at, seam.crosses[0].at) > 6.0);
        assert_eq!(moved.crosses[1], seam.crosses[1]);
        assert!(apart(moved.crosses[0].at, moved.crosses[1].at) > 60.0);
    }
}
