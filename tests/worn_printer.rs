//! What is left of the sheets on a printer that is worn: grey only, and little toner.
//!
//! An invented printer of 300 dots an inch: no dot is printed that is not two thirds covered, and one dot of three on the edge
//! of a line is lost.

use crate::common::grey::{Grey, rendered};
use fullsize::geometry::{Path, Point};
use fullsize::job::Job;
use fullsize::page::{Page, Pen, Shape, Text};
use fullsize::write::{PdfOptions, pdf};

const DPI: f64 = 300.0;
const PER_MM: f64 = DPI / 25.4;

/// A dot is printed where less than this much of the paper shines through.
const PRINTED: u8 = 85;

/// Samples along a line stand so far apart, mm.
const STEP: f64 = 0.4;

/// A printed page.
struct Worn<'a>(&'a Grey);

impl Worn<'_> {
    /// Whether a dot is black on the paper.
    fn is_black(&self, x: i64, y: i64) -> bool {
        let covered = |x: i64, y: i64| self.0.at(x, y) < PRINTED;
        let loses_edge = (x + 2 * y) % 3 == 0
            && [(-1, 0), (1, 0), (0, -1), (0, 1)].iter().any(|(dx, dy)| !covered(x + dx, y + dy));
        covered(x, y) && !loses_edge
    }

    /// Whether a place, mm from the lower left corner, is seen as black: a dot within one and a half of it is.
    fn shows(&self, page: &Page, at: Point) -> bool {
        let (x, y) = ((at.x * PER_MM).floor() as i64, ((page.height - at.y) * PER_MM).floor() as i64);
        (-1..=1).any(|dx| (-1..=1).any(|dy| self.is_black(x + dx, y + dy)))
    }
}

/// Places in the middle of what a pen draws along a path, and in the middle of what it leaves out.
fn drawn_and_left(path: &Path, pen: &Pen) -> [Vec<Point>; 2] {
    let period: f64 = pen.dash.iter().sum();
    let (mut drawn, mut left) = (Vec::new(), Vec::new());
    let count = (path.length() / STEP) as usize;
    for k in 1..count {
        let far = k as f64 * STEP;
        let Some(at) = path.place_at_length(far).and_then(|place| path.point_at(place)) else { continue };
        let mut along = if period > 0.0 { (far + pen.phase) % period } else { 0.0 };
        let mut is_drawn = true;
        for part in &pen.dash {
            if along < *part {
                // Off both ends, where a dot more or less tells nothing.
                if along.min(part - along) > 0.2 {
                    if is_drawn { drawn.push(at) } else { left.push(at) }
                }
                break;
            }
            (along, is_drawn) = (along - part, !is_drawn);
        }
        if period == 0.0 {
            drawn.push(at);
        }
    }
    [drawn, left]
}

impl Worn<'_> {
    /// The share of places at which black is seen.
    fn share(&self, page: &Page, places: &[Point]) -> f64 {
        places.iter().filter(|at| self.shows(page, **at)).count() as f64 / places.len() as f64
    }

    /// The share of a word's dots that are left.
    fn left_of(&self, page: &Page, text: &Text) -> f64 {
        let around = text.bounding_box();
        let [x0, x1] = [around.x0, around.x1].map(|x| (x * PER_MM).floor() as i64);
        let [y0, y1] = [around.y1, around.y0].map(|y| ((page.height - y) * PER_MM).floor() as i64);
        let dots = || (y0..=y1).flat_map(|y| (x0..=x1).map(move |x| (x, y)));
        let before = dots().filter(|(x, y)| self.0.at(*x, *y) < 128).count();
        dots().filter(|(x, y)| self.is_black(*x, *y)).count() as f64 / before as f64
    }
}

fn look(name: &str, text: &str) {
    let read = fullsize::project::read(name, text.as_bytes(), None, None);
    let job = Job::new(read.project.expect("a good file"));
    let sheets = job.sheets(job.patterns_named(&[]).expect("patterns")).expect("sheets");
    let document = sheets.document();
    let pages = rendered(&pdf(&document, &PdfOptions::default()).expect("a PDF"), DPI);
    let (mut lines, mut dashed, mut letters) = (0, 0, 0);
    for (index, (page, grey)) in document.pages.iter().zip(&pages).enumerate() {
        let (worn, here) = (Worn(grey), format!("{name}, page {}", index + 1));
        for item in &page.items {
            match &item.shape {
                Shape::Stroke { path, pen } if path.length() > 4.0 => {
                    let [drawn, left] =
                        drawn_and_left(path, pen).map(|places| (places.len(), worn.share(page, &places)));
                    assert!(drawn.0 == 0 || drawn.1 > 0.9, "{here}: {:.2} of {:?} {path:?}", drawn.1, item.role);
                    // A line of dashes is not taken for a whole one, wherever nothing else is drawn in its gaps.
                    assert!(
                        left.0 < 10 || left.1 < 0.5,
                        "{here}: {:.2} of the gaps of {:?} {path:?}",
                        left.1,
                        item.role
                    );
                    lines += usize::from(drawn.0 > 0);
                    dashed += usize::from(left.0 >= 10);
                }
                Shape::Text(text) if !text.content.trim().is_empty() => {
                    let left = worn.left_of(page, text);
                    assert!(left > 0.5, "{here}: {left:.2} of \"{}\" are left", text.content);
                    letters += 1;
                }
                _ => {}
            }
        }
    }
    assert!(lines > 100 && dashed > 4 && letters > 100, "{name}: {lines} lines, {dashed} of dashes, {letters} words");
}

#[test]
fn a_worn_printer_leaves_every_line_every_gap_and_every_word() {
    look("saddle_stool.json", include_str!("../templates-demo/saddle_stool.json"));
    look("hall_bench.json", include_str!("../templates-demo/hall_bench.json"));
}
