//! Breadboard ends that cannot be made, or leave too little wood about their tongue.

use super::end_piece::{GROOVE_CLEAR, THICK_CHEEK, tongue_of};
use super::limits::base;
use super::{NoEnd, TongueSize, TongueWall, TopProblem};
use crate::finding::Finding;
use crate::model::top::Top;
use crate::tolerance::ROUNDING;
use crate::units::Length;

/// Wood left beside a tongue on either side and beyond its end, at the least, mm (common practice, no source).
const CHEEK: f64 = 3.0;

/// The thinnest and the shortest tongue that is any use, mm.
const THINNEST: f64 = 2.0;

/// What a tongue leaves of something.
struct Wall {
    /// Which size of the tongue leaves it.
    size: TongueSize,
    /// How much there is of it, mm.
    whole: f64,
    /// How much more than is given is cut out, mm.
    more: f64,
    /// Among how many walls the rest is shared.
    walls: f64,
    /// How thick each had better be, mm.
    wanted: f64,
}

impl Wall {
    /// Tells a tongue that leaves too little.
    fn left(&self, field: &str, given: f64) -> Option<Finding> {
        let left = (self.whole - given - self.more) / self.walls;
        // What rounding leaves of a third is a third.
        if left >= self.wanted.max(CHEEK) - ROUNDING {
            return None;
        }
        let least = if left < CHEEK { CHEEK } else { self.wanted };
        let largest = self.whole - self.more - self.walls * least;
        let larger = (largest < THINNEST).then_some(THINNEST + self.more + self.walls * least);
        let [whole, fits, given] = [self.whole, largest, given].map(Length::from_mm);
        let (wall_left, least_wall) = (Length::from_mm(left), Length::from_mm(least));
        let wall = TongueWall { size: self.size, whole, least: least_wall, larger: larger.map(Length::from_mm) };
        let place = base(&format!("/top/breadboard/{field}"));
        Some(match left < CHEEK {
            true => {
                let (given, left) = (Some(given), Some(wall_left));
                Finding::of(TopProblem::NoEnd { how: NoEnd::Wall(wall), given, left, fits }, place)
            }
            false => Finding::of(TopProblem::ThinWalls { wall, given, left: wall_left, fits }, place),
        })
    }
}

/// What of its breadboard ends cannot be made, or is left thin.
pub(super) fn breadboard(given: &Top) -> Vec<Finding> {
    let Some(ends) = &given.breadboard else { return Vec::new() };
    let (width, thickness) = (ends.width.mm(), given.thickness.mm());
    let third = thickness / 3.0;
    let beyond = Wall { size: TongueSize::Depth, whole: width, more: GROOVE_CLEAR, walls: 1.0, wanted: THICK_CHEEK };
    let wanted = THICK_CHEEK.min(third);
    let beside = Wall { size: TongueSize::Thickness, whole: thickness, more: 0.0, walls: 2.0, wanted };
    let thin = [beyond.left("depth", ends.tongue_depth().mm()), beside.left("tongue", tongue_of(given, ends))];
    let mut told: Vec<Finding> = thin.into_iter().flatten().collect();
    let mut most = |field: &str, how: NoEnd, given: f64, largest: f64| {
        if given > largest {
            let (given, fits) = (Some(Length::from_mm(given)), Length::from_mm(largest));
            let problem = TopProblem::NoEnd { how, given, left: None, fits };
            told.push(Finding::of(problem, base(&format!("/top/breadboard/{field}"))));
        }
    };
    most("width", NoEnd::Width, width, given.length.mm() / 3.0);
    most("pin", NoEnd::Pin, ends.pin.mm(), ends.tongue_depth().mm() / 2.0);
    if ends.pins.is_multiple_of(2) {
        let problem = TopProblem::NoMiddlePin { pins: ends.pins };
        told.push(Finding::of(problem, base("/top/breadboard/pins")));
    }
    told
}
