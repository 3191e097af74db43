//! How patterns lay on the sheets of a print.

use super::super::read::{At, Torn};
use crate::layout::TiledPattern;
use crate::page::Part;
use crate::tolerance::PRINTED_RIGHT;
use serde_json::{Value as Json, json};

/// A pattern, or several that share sheets, as it was laid on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidPattern {
    /// Its name, revision code and short code.
    pub part: Part,
    /// The patterns on it: itself, or those that share it.
    pub shows: Vec<Part>,
    /// The codes on its sheets.
    pub sheets: Vec<String>,
    /// By how much the printer was corrected when they were printed, across and up.
    pub correction: [f64; 2],
    /// How it lies on them; `None` where an older program printed it.
    pub lie: Option<Lie>,
}

/// How a pattern lies on its sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lie {
    /// Width and height of a sheet, mm.
    pub page: [f64; 2],
    /// How many rows and columns of sheets there are.
    pub grid: [usize; 2],
    /// The upper left corner of what the first of them shows of the pattern, and the lower right one of what the last does, mm.
    pub shows: [f64; 4],
}

impl Lie {
    pub(super) fn of(plan: &TiledPattern) -> Lie {
        let grid = &plan.grid;
        let (first, last) = (grid.window(0, 0), grid.window(grid.rows - 1, grid.columns - 1));
        Lie {
            page: plan.page_size.into(),
            grid: [grid.rows, grid.columns],
            shows: [first.x0, first.y1, last.x1, last.y0].map(|mm| (mm * LIE_STEPS).round() / LIE_STEPS),
        }
    }

    /// Whether a sheet of the one joins a sheet of the other as it joins its own: seams and crosses stand at the same places.
    fn joins(&self, other: &Lie) -> bool {
        let near = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(a, b)| (a - b).abs() <= PRINTED_RIGHT);
        self.grid == other.grid && near(&self.page, &other.page) && near(&self.shows, &other.shows)
    }
}

/// Steps to a millimetre in which a record says how patterns lie.
const LIE_STEPS: f64 = 1000.0;

impl LaidPattern {
    /// Whether its sheets join those of another print of the same pattern; `true` where that is not known.
    pub fn joins(&self, other: &LaidPattern) -> bool {
        self.lie.zip(other.lie).is_none_or(|(own, other)| own.joins(&other))
    }

    /// By how much what is so wide and so high, mm, comes out too long on its sheets, mm, if the printer draws as it is corrected for now,
    /// across and up: the larger of the two. Below 0 where it comes out too short.
    pub(super) fn too_long(&self, printer: [f64; 2], (width, height): (f64, f64)) -> f64 {
        let share = |way: usize| self.correction[way] / printer[way] - 1.0;
        let (across, up) = (share(0), share(1));
        let larger = |a: f64, b: f64| if a.abs() > b.abs() { a } else { b };
        match self.lie.filter(|_| self.shows.len() == 1) {
            Some(lie) if lie.page[0] <= lie.page[1] => larger(across * width, up * height),
            Some(_) => larger(up * width, across * height),
            // How it lies is not known.
            None => larger(across, up) * width.max(height),
        }
    }
}

fn part_json(part: &Part) -> Json {
    json!([part.name, part.revision, part.code])
}

fn part_of(at: &At) -> Result<Part, Torn> {
    let [name, revision, code] = at.texts::<3>()?;
    Ok(Part { name, revision, code })
}

pub(super) fn laid_json(laid: &LaidPattern) -> Json {
    let shows = laid.shows.iter().map(part_json).collect::<Vec<Json>>();
    let lie = laid.lie.map(|Lie { page, grid, shows }| json!([page, grid, shows]));
    json!({
        "part": part_json(&laid.part),
        "shows": shows,
        "sheets": laid.sheets,
        "correction": laid.correction,
        "lie": lie,
    })
}

/// What was laid, with the correction of the whole print: records of older programs do not say one of each.
pub(super) fn laid_of(at: &At, correction: [f64; 2]) -> Result<LaidPattern, Torn> {
    let correction = match at.field("correction") {
        Ok(own) => own.numbers::<2>()?,
        Err(_) => correction,
    };
    let lie = match at.field("lie") {
        Ok(lie) if !lie.is_null() => Some(lie_of(&lie)?),
        _ => None,
    };
    Ok(LaidPattern {
        correction,
        lie,
        part: part_of(&at.field("part")?)?,
        shows: at.field("shows")?.each(part_of)?,
        sheets: at.field("sheets")?.each(|one| Ok(one.text()?.to_owned()))?,
    })
}

fn lie_of(at: &At) -> Result<Lie, Torn> {
    let grid = at.entry(1)?;
    Ok(Lie {
        page: at.entry(0)?.numbers::<2>()?,
        grid: [grid.entry(0)?.count()?, grid.entry(1)?.count()?],
        shows: at.entry(2)?.numbers::<4>()?,
    })
}
