//! A finished page is asked, by code that shares nothing with what set its words: is any word cut, on a seam, struck by a line, on
//! another word, shortened, off the paper, or nearer to another place than to its own; does whatever is cut out bear a word, and does any
//! line lie on another?
//!
//! `FULLSIZE_PAGES=300` asks so many pieces with altered numbers; what is found is written to the file that `FULLSIZE_PAGES_TOLD` names,
//! with the test's own ending.

mod files;
mod ink;
mod leaders;
mod lying;

use fullsize::geometry::{Path, Plane, Point, Point3, Rect, Vec3};
use fullsize::job::{Job, Sheets};
use fullsize::layout::elevation::{Options, Overlay, Scale};
use fullsize::page::{About, Item, Label, Page, Rank, Role, Shape};
use ink::{Lines, TOUCH, Words, is_within, points_of};
use std::collections::BTreeMap;
use std::fmt;

/// What is wrong with words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Wrong {
    /// A part of them does not show.
    Cut,
    /// A seam runs through them, or they stand on what is trimmed off.
    OnSeam,
    /// A line runs through them.
    Struck,
    /// Others stand on them.
    OnWords,
    /// They stand beside others on a line and read as one statement with them.
    RunTogether,
    /// They end in dots.
    Shortened,
    /// They stand nearer to the paper's edge than a printer prints.
    OffPaper,
    /// A shape is cut out that bears no word.
    Nameless,
    /// The line that leads from words to what they are about runs along another line.
    LedAlong,
    /// Lines lie on each other, at least one of them dashed.
    LineOnLine,
    /// They stand nearer to what others name than to what they name, and no line leads to it.
    Astray,
}

/// All that is wrong, each with the page and the words.
#[derive(Default)]
struct Found(Vec<(Wrong, String)>);

impl Found {
    fn counts(&self) -> BTreeMap<Wrong, usize> {
        let mut counts = BTreeMap::new();
        self.0.iter().for_each(|(wrong, _)| *counts.entry(*wrong).or_default() += 1);
        counts
    }
}

impl fmt::Display for Found {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        writeln!(f, "{:?}", self.counts())?;
        self.0.iter().try_for_each(|(wrong, what)| writeln!(f, "{wrong:?}: {what}"))
    }
}

/// Round letters reach over the line on which the others stand by less than this, mm: what stands on the margin lies on paper.
const OVERSHOOT: f64 = 0.5;

/// Asks one page about its words, whatever it is for.
fn ask_page(page: &Page, margin: f64, of: &str, found: &mut Found) {
    let words: Vec<Words> = page.items.iter().filter_map(Words::of).collect();
    let lines = Lines::of(&page.items);
    let paper = Rect::new(0.0, 0.0, page.width, page.height).inset(OVERSHOOT - margin);
    for (k, own) in words.iter().enumerate() {
        let mut tell = |wrong, more: &str| {
            found.0.push((wrong, format!("{of}: {}: \"{}\"{more}", page.name, own.text.content)));
        };
        if own.item.clip.is_some_and(|clip| !own.lie_in(clip)) {
            tell(Wrong::Cut, "");
        }
        // After an equals sign dots stand for what is to be typed.
        if own.text.content.ends_with('…') && !own.text.content.ends_with("=…") {
            tell(Wrong::Shortened, "");
        }
        if !own.lie_in(paper) {
            tell(Wrong::OffPaper, "");
        }
        if own.are_struck(&lines) {
            tell(Wrong::Struck, "");
        }
        if let Some(other) = words[k + 1..].iter().find(|other| own.stand_on(other)) {
            tell(Wrong::OnWords, &format!(" and \"{}\"", other.text.content));
        }
        let on_part = |words: &Words| words.item.part.is_some();
        if let Some(other) = words[k + 1..].iter().find(|other| on_part(own) && on_part(other) && own.run_into(other))
        {
            tell(Wrong::RunTogether, &format!(" and \"{}\"", other.text.content));
        }
    }
    for ((from, to), by) in leaders::run_along(page, &words) {
        found.0.push((Wrong::LedAlong, format!("{of}: {}: from {from:.2} to {to:.2}, by {by:.3?}", page.name)));
    }
}

/// Asks sheets about their seams: a pattern's words lie on what stays of the sheet.
fn ask_seams(sheets: &Sheets, pages: &[Page], of: &str, found: &mut Found) {
    for plan in sheets.manifest.patterns.iter().flatten() {
        for sheet in &plan.sheets {
            let page = &pages[sheet.page];
            let meets = |rows: isize, columns: isize| {
                let next = (sheet.row.checked_add_signed(rows), sheet.column.checked_add_signed(columns));
                plan.sheets.iter().any(|other| next == (Some(other.row), Some(other.column)))
            };
            let (cell, window) = (plan.grid.cell(sheet.row, sheet.column), plan.grid.window(sheet.row, sheet.column));
            // Where no sheet follows nothing is cut off.
            let mut stays = window;
            stays.x0 = if meets(0, -1) { cell.x0 } else { window.x0 };
            stays.x1 = if meets(0, 1) { cell.x1 } else { window.x1 };
            stays.y1 = if meets(-1, 0) { cell.y1 } else { window.y1 };
            stays.y0 = if meets(1, 0) { cell.y0 } else { window.y0 };
            let stays = sheet.to_page.transform_rect_bbox(stays);
            let lost = |words: &Words| words.item.part.is_some() && !words.lie_in(stays);
            for words in page.items.iter().filter_map(Words::of).filter(lost) {
                found.0.push((Wrong::OnSeam, format!("{of}: {}: \"{}\"", page.name, words.text.content)));
            }
        }
    }
}

/// Asks sheets whether their lines lie on each other.
fn ask_lines(sheets: &Sheets, pages: &[Page], of: &str, found: &mut Found) {
    for sheet in sheets.manifest.patterns.iter().flatten().flat_map(|plan| &plan.sheets) {
        let page = &pages[sheet.page];
        for (long, at, off, what) in lying::on_each_other(&page.items) {
            let told = format!("{of}: {}: {what}, {long:.0} mm about {at:.0}, {off:.3} off", page.name);
            found.0.push((Wrong::LineOnLine, told));
        }
    }
}

/// Words may stand nearer to another place by this, mm: nobody sees it.
const NEARER: f64 = 1.0;

/// Asks of the words that name a place in a part whether they stand nearer to one that others name.
fn ask_places(sheets: &Sheets, pages: &[Page], of: &str, found: &mut Found) {
    for (index, (pattern, plan)) in sheets.patterns.iter().zip(&sheets.manifest.patterns).enumerate() {
        let Some(plan) = plan else { continue };
        let named = pattern.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => match text.label.as_deref() {
                Some(Label { about: About::Place(at), rank: Rank::Joint, .. }) => Some((text.content.as_str(), *at)),
                _ => None,
            },
            _ => None,
        });
        let named: Vec<(&str, Point)> = named.collect();
        for sheet in &plan.sheets {
            let page = &pages[sheet.page];
            let dots = leaders::dots(page);
            for words in page.items.iter().filter(|item| item.part == Some(index)).filter_map(Words::of) {
                let own: Vec<Point> = named
                    .iter()
                    .filter(|(said, _)| *said == words.text.content)
                    .map(|(_, at)| sheet.to_page * *at)
                    .collect();
                let off = |at: &Point| words.off(*at);
                let Some(nearest) = own.iter().map(off).min_by(f64::total_cmp) else { continue };
                let is_led = own.iter().any(|at| dots.iter().any(|dot| dot.distance(*at) < NEARER));
                let others = named.iter().filter(|(said, _)| *said != words.text.content);
                let others = others.map(|(said, at)| (said, off(&(sheet.to_page * *at))));
                let rival = others.filter(|(_, off)| *off < nearest - NEARER).min_by(|a, b| a.1.total_cmp(&b.1));
                if let Some((other, off)) = rival.filter(|_| !is_led) {
                    let told = format!(
                        "{of}: {}: \"{}\" {nearest:.1} off, \"{other}\" {off:.1}",
                        page.name, words.text.content
                    );
                    found.0.push((Wrong::Astray, told));
                }
            }
        }
    }
}

/// The least width of a shape, mm, that is asked for a word: two capitals of the smallest lettering go in.
const BEARS_WORDS: f64 = 10.0;

/// Asks of every shape that is cut out whether a word stands in it.
fn ask_shapes(sheets: &Sheets, pages: &[Page], of: &str, found: &mut Found) {
    for (index, (pattern, plan)) in sheets.patterns.iter().zip(&sheets.manifest.patterns).enumerate() {
        let Some(plan) = plan else { continue };
        let mut middles = Vec::new();
        for sheet in &plan.sheets {
            let back = sheet.to_page.inverse();
            let own = pages[sheet.page].items.iter().filter(|item| item.part == Some(index) || item.part.is_none());
            let inside =
                own.filter_map(Words::of).filter(|words| !matches!(words.item.role, Role::Trim | Role::Scale));
            middles.extend(inside.map(|words| back * words.corners[0].midpoint(words.corners[2])));
        }
        let rings = outlines(&pattern.items);
        for (k, ring) in rings.iter().enumerate() {
            // What lies within a larger shape, or stands out of it as a tenon does, comes out with it.
            let is_inner = rings.iter().enumerate().any(|(j, other)| {
                j != k
                    && other.bounds.area() > ring.bounds.area()
                    && other.bounds.inflate(TOUCH, TOUCH).overlaps(ring.bounds)
            });
            let is_named = || middles.iter().any(|p| is_within(&ring.points, *p));
            if ring.is_closed
                && !is_inner
                && ring.bounds.width().min(ring.bounds.height()) >= BEARS_WORDS
                && !is_named()
            {
                found.0.push((Wrong::Nameless, format!("{of}: {}: {:?}", pattern.part.name, ring.bounds)));
            }
        }
    }
}

/// A line to cut along.
struct Outlined {
    is_closed: bool,
    bounds: Rect,
    points: Vec<Point>,
}

fn outlines(items: &[Item]) -> Vec<Outlined> {
    let paths = items.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } if item.role == Role::Outline => Some(path),
        _ => None,
    });
    let outlined = |path: &Path| {
        let bounds = path.bounding_box()?;
        Some(Outlined { is_closed: path.is_closed(), bounds, points: points_of(path) })
    };
    paths.filter_map(outlined).collect()
}

/// Asks all that `print` makes of a job; whether it made anything.
fn ask(job: &Job, of: &str, found: &mut Found) -> bool {
    let Ok(patterns) = job.patterns_named(&[]) else { return false };
    let Ok(sheets) = job.sheets(patterns) else { return false };
    let pages = sheets.document().pages;
    let margin = job.project().shop.margin.mm();
    pages.iter().for_each(|page| ask_page(page, margin, of, found));
    ask_seams(&sheets, &pages, of, found);
    ask_lines(&sheets, &pages, of, found);
    ask_places(&sheets, &pages, of, found);
    ask_shapes(&sheets, &pages, of, found);
    true
}

/// Sections through most pieces.
fn planes() -> Vec<Plane> {
    let through = |x: f64, y: f64, z: f64, n| Plane::through(Point3::new(x, y, z), n).expect("a plane");
    vec![through(10.0, 0.0, 0.0, Vec3::X), through(0.0, -5.0, 0.0, Vec3::Y), through(0.0, 0.0, 110.0, Vec3::Z)]
}

/// Asks what `draw` and `plot` make of a job; whether they made anything.
fn ask_drawn(job: &Job, of: &str, found: &mut Found) -> bool {
    let margin = job.project().shop.margin.mm();
    let shown = Options {
        hidden: true,
        framed: true,
        date: Some("2026-11-25".into()),
        creator: Some("a joiner".into()),
        sections: planes(),
        overlays: vec![Overlay::Seated, Overlay::Places],
        ..Options::default()
    };
    let whole = Options { scale: Scale::Reduced(1), untiled: true, ..Options::default() };
    let taped = Options { scale: Scale::Reduced(2), ..Options::default() };
    let mut made = false;
    for (which, options) in [("plain", Options::default()), ("shown", shown), ("whole", whole), ("taped", taped)] {
        let Ok(drawing) = job.drawing(&options) else { continue };
        made = true;
        drawing.document.pages.iter().for_each(|page| ask_page(page, margin, &format!("{of}, {which}"), found));
    }
    let rod = job.rod(false).map(|rod| rod.pages).unwrap_or_default();
    rod.iter().for_each(|page| ask_page(page, margin, &format!("{of}, rod"), found));
    if let Ok(patterns) = job.patterns_named(&[]) {
        let plotted = job.plotted(&patterns).document;
        plotted.pages.iter().for_each(|page| ask_page(page, 0.0, &format!("{of}, plotted"), found));
        made = true;
    }
    made
}

/// Fails where anything was found, and writes what was found where it was asked to.
fn tell(found: &Found, test: &str) {
    if let Some(mut path) = std::env::var_os("FULLSIZE_PAGES_TOLD") {
        path.push(format!(".{test}"));
        std::fs::write(path, found.to_string()).expect("a file to write to");
    }
    let few: Vec<String> = found.0.iter().take(30).map(|(wrong, what)| format!("{wrong:?}: {what}")).collect();
    assert!(few.is_empty(), "{:?}\n{}", found.counts(), few.join("\n"));
}

#[test]
fn words_of_every_example_can_be_read() {
    let mut found = Found::default();
    let mut made = 0;
    for (name, text) in files::examples() {
        for (paper, inches) in [("A4", false), ("Letter", true), ("roll 24 in", false)] {
            let Some(job) = files::job(&text, paper, inches) else { continue };
            made += usize::from(ask(&job, &format!("{name} on {paper}"), &mut found));
        }
    }
    assert!(made > 60, "{made}");
    tell(&found, "examples");
}

#[test]
fn words_of_every_drawing_can_be_read() {
    let mut found = Found::default();
    let mut made = 0;
    for (name, text) in files::examples() {
        for (paper, inches) in [("A4", false), ("Letter", true)] {
            let Some(mut job) = files::job(&text, paper, inches) else { continue };
            job.limit_sheets(files::MOST_SHEETS);
            made += usize::from(ask_drawn(&job, &format!("{name} on {paper}"), &mut found));
        }
    }
    assert!(made > 40, "{made}");
    tell(&found, "drawings");
}

#[test]
fn words_of_altered_pieces_can_be_read() {
    let mut found = Found::default();
    let made = files::altered(|name, job| ask(job, name, &mut found));
    assert!(made >= files::wanted(), "{made}");
    tell(&found, "altered");
}
