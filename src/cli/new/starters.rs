//! The pieces that `new` starts: what it asks, the file it writes, and what each size means in the picture.

use crate::geometry::Point;
use crate::layout::Dimension;
use crate::units::Units;
use std::f64::consts::FRAC_PI_2;

/// One size that is asked for.
pub struct Question {
    /// Its name among the file's sizes.
    pub name: &'static str,
    /// What it means, as a maker asks.
    pub ask: &'static str,
    /// Default in millimetres and in inches, as written.
    pub default: (&'static str, &'static str),
}

/// A size of the file by its name, mm.
pub type Size<'a> = dyn Fn(&str) -> f64 + 'a;

/// Dimensions, and the guide lines that make them plain.
pub type Meaning = (Vec<Dimension>, Vec<(Point, Point)>);

/// A piece to start from.
pub struct Starter {
    /// Its name on the command line.
    pub kind: &'static str,
    /// What it is.
    pub title: &'static str,
    /// The sizes that matter.
    pub questions: &'static [Question],
    /// The file, with `@title@`, `@units@`, `@paper@` and `@sizes@` to be filled in.
    pub file: &'static str,
    /// What each size means: dimensions on the pattern and the guide lines under them, with the file's sizes by name in mm.
    pub dimensions: fn(&Size) -> Meaning,
}

impl Question {
    /// The default in the given units, as written.
    pub fn default_in(&self, units: Units) -> &'static str {
        match units {
            Units::Mm => self.default.0,
            Units::Inch => self.default.1,
        }
    }
}

/// Everything that `new` can start.
pub const STARTERS: [&Starter; 3] = [&BOWED_EDGE, &CURVED_LEG, &BRACKET];

const BOWED_EDGE: Starter = Starter {
    kind: "bowed-edge",
    title: "Bowed edge",
    questions: &[
        Question { name: "length", ask: "Length of the board", default: ("1400", "55") },
        Question { name: "width", ask: "Width at the middle", default: ("120", "4 3/4") },
        Question {
            name: "rise",
            ask: "Rise of the bow: how much narrower it is at the ends",
            default: ("18", "3/4"),
        },
        Question { name: "thickness", ask: "Thickness", default: ("25", "1") },
    ],
    file: include_str!("bowed_edge.json"),
    dimensions: |size| {
        let (length, width, rise) = (size("length"), size("width"), size("rise"));
        let dimensions = vec![
            horizontal("length", (0.0, 0.0), (length, 0.0), -10.0),
            vertical("width", (length / 2.0, 0.0), (length / 2.0, width), 0.0),
            vertical("rise", (0.0, width - rise), (0.0, width), 8.0),
        ];
        (dimensions, vec![(Point::new(0.0, width), Point::new(length / 2.0, width))])
    },
};

const CURVED_LEG: Starter = Starter {
    kind: "curved-leg",
    title: "Tapered curved leg",
    questions: &[
        Question { name: "length", ask: "Length of the leg", default: ("700", "27 1/2") },
        Question { name: "head_width", ask: "Width at the head", default: ("90", "3 1/2") },
        Question { name: "foot_width", ask: "Width at the foot", default: ("50", "2") },
        Question { name: "rise", ask: "Rise of the hollow in the inside edge", default: ("12", "1/2") },
        Question { name: "thickness", ask: "Thickness", default: ("38", "1 1/2") },
    ],
    file: include_str!("curved_leg.json"),
    dimensions: |size| {
        let (length, head, foot) = (size("length"), size("head_width"), size("foot_width"));
        let (middle, rise) = ((head + foot) / 2.0, size("rise"));
        let dimensions = vec![
            horizontal("length", (0.0, 0.0), (length, 0.0), -10.0),
            vertical("head_width", (0.0, 0.0), (0.0, head), 8.0),
            vertical("foot_width", (length, 0.0), (length, foot), -8.0),
            vertical("rise", (length / 2.0, middle - rise), (length / 2.0, middle), 0.0),
        ];
        (dimensions, vec![(Point::new(0.0, head), Point::new(length, foot))])
    },
};

const BRACKET: Starter = Starter {
    kind: "bracket",
    title: "Bracket",
    questions: &[
        Question { name: "length", ask: "Length along the rail", default: ("120", "4 3/4") },
        Question { name: "height", ask: "Height up the leg", default: ("120", "4 3/4") },
        Question { name: "limb", ask: "Width of each limb", default: ("26", "1") },
        Question { name: "radius", ask: "Radius of the inside curve", default: ("40", "1 1/2") },
        Question { name: "thickness", ask: "Thickness", default: ("18", "3/4") },
    ],
    file: include_str!("bracket.json"),
    dimensions: |size| {
        let (length, height, limb, radius) = (size("length"), size("height"), size("limb"), size("radius"));
        let dimensions = vec![
            horizontal("length", (0.0, 0.0), (length, 0.0), -10.0),
            vertical("height", (0.0, 0.0), (0.0, height), 10.0),
            horizontal("limb", (0.0, height), (limb, height), 8.0),
            vertical("limb", (length, 0.0), (length, limb), -8.0),
            horizontal("radius", (limb, limb + radius), (limb + radius, limb + radius), 8.0),
        ];
        (dimensions, Vec::new())
    },
};

fn horizontal(name: &str, from: (f64, f64), to: (f64, f64), off: f64) -> Dimension {
    Dimension { from: from.into(), to: to.into(), along: 0.0, off, words: name.into() }
}

fn vertical(name: &str, from: (f64, f64), to: (f64, f64), off: f64) -> Dimension {
    Dimension { from: from.into(), to: to.into(), along: FRAC_PI_2, off, words: name.into() }
}
