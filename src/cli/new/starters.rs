//! The pieces that `new` starts: what it asks, the file it writes, and what each size means in the picture.

use crate::geometry::Point;
use crate::layout::Dimension;
use crate::units::Units;
use std::f64::consts::FRAC_PI_2;

/// What kind of answer is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// A length above zero.
    Length,
    /// An angle from 0 to 60 degrees.
    Angle,
    /// A whole number in a range; it stands in the file itself, not among its sizes.
    Count(u32, u32),
}

/// One size that is asked for.
pub struct Question {
    /// Its name among the file's sizes.
    pub name: &'static str,
    /// What it means, as a maker asks.
    pub ask: &'static str,
    /// Default in millimetres and in inches, as written.
    pub default: (&'static str, &'static str),
    /// What kind of answer is wanted.
    pub wanted: Wanted,
}

/// A length that is asked for.
const fn length(name: &'static str, ask: &'static str, mm: &'static str, inches: &'static str) -> Question {
    Question { name, ask, default: (mm, inches), wanted: Wanted::Length }
}

/// An angle that is asked for.
const fn angle(name: &'static str, ask: &'static str, default: &'static str) -> Question {
    Question { name, ask, default: (default, default), wanted: Wanted::Angle }
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
    /// What each size of a flat part means: dimensions on the pattern and the guide lines under them, with the file's
    /// sizes by name in mm. A base is drawn with its own dimensions.
    pub dimensions: Option<fn(&Size) -> Meaning>,
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
pub const STARTERS: [&Starter; 7] =
    [&BOWED_EDGE, &CURVED_LEG, &BRACKET, &LEANING_FRAMES, &SPLAYED_LEGS, &SPLAYED_BOX, &BOARDS];

const BOWED_EDGE: Starter = Starter {
    kind: "bowed-edge",
    title: "Bowed edge",
    questions: &[
        length("length", "Length of the board", "1400", "55"),
        length("width", "Width at the middle", "120", "4 3/4"),
        length("rise", "Rise of the bow: how much narrower it is at the ends", "18", "3/4"),
        length("thickness", "Thickness", "25", "1"),
    ],
    file: include_str!("bowed_edge.json"),
    dimensions: Some(|size| {
        let (length, width, rise) = (size("length"), size("width"), size("rise"));
        let dimensions = vec![
            horizontal("length", (0.0, 0.0), (length, 0.0), -10.0),
            vertical("width", (length / 2.0, 0.0), (length / 2.0, width), 0.0),
            vertical("rise", (0.0, width - rise), (0.0, width), 8.0),
        ];
        (dimensions, vec![(Point::new(0.0, width), Point::new(length / 2.0, width))])
    }),
};

const CURVED_LEG: Starter = Starter {
    kind: "curved-leg",
    title: "Tapered curved leg",
    questions: &[
        length("length", "Length of the leg", "700", "27 1/2"),
        length("head_width", "Width at the head", "90", "3 1/2"),
        length("foot_width", "Width at the foot", "50", "2"),
        length("rise", "Rise of the hollow in the inside edge", "12", "1/2"),
        length("thickness", "Thickness", "38", "1 1/2"),
    ],
    file: include_str!("curved_leg.json"),
    dimensions: Some(|size| {
        let (length, head, foot) = (size("length"), size("head_width"), size("foot_width"));
        let (middle, rise) = ((head + foot) / 2.0, size("rise"));
        let dimensions = vec![
            horizontal("length", (0.0, 0.0), (length, 0.0), -10.0),
            vertical("head_width", (0.0, 0.0), (0.0, head), 8.0),
            vertical("foot_width", (length, 0.0), (length, foot), -8.0),
            vertical("rise", (length / 2.0, middle - rise), (length / 2.0, middle), 0.0),
        ];
        (dimensions, vec![(Point::new(0.0, head), Point::new(length, foot))])
    }),
};

const BRACKET: Starter = Starter {
    kind: "bracket",
    title: "Bracket",
    questions: &[
        length("length", "Length along the rail", "120", "4 3/4"),
        length("height", "Height up the leg", "120", "4 3/4"),
        length("limb", "Width of each limb", "26", "1"),
        length("radius", "Radius of the inside curve", "40", "1 1/2"),
        length("thickness", "Thickness", "18", "3/4"),
    ],
    file: include_str!("bracket.json"),
    dimensions: Some(|size| {
        let (length, height, limb, radius) = (size("length"), size("height"), size("limb"), size("radius"));
        let dimensions = vec![
            horizontal("length", (0.0, 0.0), (length, 0.0), -10.0),
            vertical("height", (0.0, 0.0), (0.0, height), 10.0),
            horizontal("limb", (0.0, height), (limb, height), 8.0),
            vertical("limb", (length, 0.0), (length, limb), -8.0),
            horizontal("radius", (limb, limb + radius), (limb + radius, limb + radius), 8.0),
        ];
        (dimensions, Vec::new())
    }),
};

const LEANING_FRAMES: Starter = Starter {
    kind: "leaning-frames",
    title: "Table on two leaning frames",
    questions: &[
        length("height", "Height, floor to the upper face of the top", "740", "29 1/4"),
        length("length", "Length of the base at the top, over the two frames", "1420", "56"),
        length("width", "Width of the base at the top, over a frame's legs", "620", "24 1/2"),
        angle("lean", "Lean: tilt of each frame from plumb, heads inward", "8 deg"),
        angle("splay", "Splay: how far the legs of a frame spread from its centre line", "12 deg"),
        length("leg_thickness", "Thickness of the legs", "40", "1 1/2"),
        length("head_width", "Width of a leg along its head", "95", "3 3/4"),
        length("foot_width", "Width of a leg along its foot", "60", "2 3/8"),
        length("rail_depth", "Depth of rails and aprons", "75", "3"),
        length("top_length", "Length of the top", "1800", "71"),
        length("top_width", "Width of the top", "860", "34"),
        length("top_thickness", "Thickness of the top", "25", "1"),
    ],
    file: include_str!("leaning_frames.json"),
    dimensions: None,
};

const SPLAYED_LEGS: Starter = Starter {
    kind: "splayed-legs",
    title: "Stool on four splayed legs",
    questions: &[
        length("height", "Height, floor to the upper face of the seat", "620", "24 1/2"),
        length("length", "Length over the legs at the seat, seen from the front", "320", "12 1/2"),
        length("width", "Width over the legs at the seat, seen from the side", "260", "10 1/4"),
        angle("splay_front", "Splay seen from the front", "9 deg"),
        angle("splay_side", "Splay seen from the side", "6 deg"),
        length("leg", "Width and thickness of a leg", "42", "1 5/8"),
        length("apron_depth", "Depth of the aprons", "75", "3"),
        length("top_length", "Length of the seat", "430", "17"),
        length("top_width", "Width of the seat", "340", "13 1/2"),
        length("top_thickness", "Thickness of the seat", "38", "1 1/2"),
    ],
    file: include_str!("splayed_legs.json"),
    dimensions: None,
};

const SPLAYED_BOX: Starter = Starter {
    kind: "splayed-box",
    title: "Planter with sloping sides",
    questions: &[
        Question { name: "sides", ask: "How many sides", default: ("6", "6"), wanted: Wanted::Count(3, 24) },
        length("side", "Length of one side along its lower outside edge", "190", "7 1/2"),
        angle("slope", "Slope of the sides from plumb, wider at the top", "12 deg"),
        length("depth", "Depth of a side, up its outside face", "300", "12"),
        length("thickness", "Thickness of the sides", "20", "3/4"),
    ],
    file: include_str!("splayed_box.json"),
    dimensions: None,
};

const BOARDS: Starter = Starter {
    kind: "boards",
    title: "Post and brace, board by board",
    questions: &[
        length("height", "Height of the post", "1200", "48"),
        length("width", "Width of the post", "95", "3 3/4"),
        length("thickness", "Thickness of both boards", "45", "1 3/4"),
        length("brace", "Width of the brace", "70", "2 3/4"),
        length(
            "reach",
            "How far from the post the brace stands on the floor, measured to its underside",
            "600",
            "24",
        ),
    ],
    file: include_str!("boards.json"),
    dimensions: None,
};

fn horizontal(name: &str, from: (f64, f64), to: (f64, f64), off: f64) -> Dimension {
    Dimension { from: from.into(), to: to.into(), along: 0.0, off, words: name.into() }
}

fn vertical(name: &str, from: (f64, f64), to: (f64, f64), off: f64) -> Dimension {
    Dimension { from: from.into(), to: to.into(), along: FRAC_PI_2, off, words: name.into() }
}
