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
    /// A length above zero, or none.
    Perhaps,
    /// An angle from 0 to 60 degrees.
    Angle,
    /// A whole number in a range; it stands in the file itself, not among its sizes.
    Count(u32, u32),
    /// One of some words, which decides what else stands in the file.
    OneOf(&'static [&'static str]),
    /// A word or two that stand in the file itself, such as a wood.
    Words,
}

/// Something that is asked for.
#[derive(Debug)]
pub struct Question {
    /// Its name, among the file's sizes where it is one of them.
    pub name: &'static str,
    /// What it is called, in the question and in the picture.
    pub called: &'static str,
    /// What it means, as a maker asks; empty where its name says it.
    pub meaning: &'static str,
    /// Default in millimetres and in inches, as written.
    pub default: (&'static str, &'static str),
    /// Lengths that it follows while nobody has given it: the first of them that somebody has given, times this.
    pub follows: &'static [(&'static str, f64)],
    /// The question and the answers without which it is not asked.
    pub only: Option<(&'static str, &'static [&'static str])>,
    /// What kind of answer is wanted.
    pub wanted: Wanted,
}

/// A length that is asked for.
const fn length(
    name: &'static str,
    called: &'static str,
    meaning: &'static str,
    mm: &'static str,
    inches: &'static str,
) -> Question {
    Question { name, called, meaning, default: (mm, inches), follows: &[], only: None, wanted: Wanted::Length }
}

/// An angle that is asked for.
const fn angle(name: &'static str, called: &'static str, meaning: &'static str, default: &'static str) -> Question {
    Question { wanted: Wanted::Angle, ..length(name, called, meaning, default, default) }
}

/// A length that may be left out.
const fn perhaps(name: &'static str, called: &'static str, meaning: &'static str) -> Question {
    Question { wanted: Wanted::Perhaps, ..length(name, called, meaning, NONE, NONE) }
}

/// One of some words, the first unless another is chosen.
const fn one_of(
    name: &'static str,
    called: &'static str,
    meaning: &'static str,
    words: &'static [&'static str],
) -> Question {
    Question { wanted: Wanted::OneOf(words), ..length(name, called, meaning, words[0], words[0]) }
}

/// A length that follows others.
const fn following(question: Question, follows: &'static [(&'static str, f64)]) -> Question {
    Question { follows, ..question }
}

/// What is asked only after some answers to another question.
const fn only(question: Question, other: &'static str, answers: &'static [&'static str]) -> Question {
    Question { only: Some((other, answers)), ..question }
}

/// What is answered where something is left out.
pub const NONE: &str = "none";

/// Answers to whether there is something.
const YES: &str = "yes";
const NO: &str = "no";

/// A size of the file by its name, mm.
pub type Size<'a> = dyn Fn(&str) -> f64 + 'a;

/// Dimensions, and the guide lines that make them plain.
pub type Meaning = (Vec<Dimension>, Vec<(Point, Point)>);

/// A part of a file that is there after some answers.
#[derive(Debug)]
pub struct Part {
    /// What stands in its place in the starter's file.
    pub mark: &'static str,
    /// Questions with the answers after which it is there, all of them.
    pub after: &'static [(&'static str, &'static [&'static str])],
    /// Questions that must not have been answered with none.
    pub unless_none: &'static [&'static str],
    /// Its text; `@NAME@` is the answer to a question.
    pub text: &'static str,
}

/// A piece to start from.
#[derive(Debug)]
pub struct Starter {
    /// Its name on the command line.
    pub kind: &'static str,
    /// What it is.
    pub title: &'static str,
    /// What is asked.
    pub questions: &'static [Question],
    /// The file, with `@title@`, `@units@`, `@shop@` and `@sizes@` to be filled in, and the marks of parts.
    pub file: &'static str,
    /// Parts of the file that hang on answers; of one mark they follow each other.
    pub parts: &'static [Part],
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

    /// Whether its answer is one of the file's named sizes.
    pub fn is_size(&self) -> bool {
        matches!(self.wanted, Wanted::Length | Wanted::Perhaps | Wanted::Angle)
    }
}

/// Everything that `new` can start.
pub const STARTERS: [&Starter; 7] =
    [&BOWED_EDGE, &CURVED_LEG, &BRACKET, &LEANING_FRAMES, &SPLAYED_LEGS, &SPLAYED_BOX, &BOARDS];

static BOWED_EDGE: Starter = Starter {
    kind: "bowed-edge",
    title: "Bowed edge",
    questions: &[
        length("length", "Length", "of the board", "1400", "55"),
        length("width", "Width", "at the middle", "120", "4 3/4"),
        following(
            length("rise", "Rise", "of the bow: how much narrower it is at the ends", "18", "3/4"),
            &[("length", 18.0 / 1400.0)],
        ),
        length("thickness", "Thickness", "", "25", "1"),
    ],
    file: include_str!("bowed_edge.json"),
    parts: &[],
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

static CURVED_LEG: Starter = Starter {
    kind: "curved-leg",
    title: "Tapered curved leg",
    questions: &[
        length("length", "Length", "of the leg", "700", "27 1/2"),
        length("head_width", "Head width", "of the leg", "90", "3 1/2"),
        length("foot_width", "Foot width", "of the leg", "50", "2"),
        following(
            length("rise", "Rise", "of the hollow in the inside edge", "12", "1/2"),
            &[("length", 12.0 / 700.0)],
        ),
        length("thickness", "Thickness", "", "38", "1 1/2"),
    ],
    file: include_str!("curved_leg.json"),
    parts: &[],
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

static BRACKET: Starter = Starter {
    kind: "bracket",
    title: "Bracket",
    questions: &[
        length("length", "Length", "along the rail", "120", "4 3/4"),
        following(length("height", "Height", "up the leg", "120", "4 3/4"), &[("length", 1.0)]),
        following(
            length("limb", "Limb", "width of each of the two", "26", "1"),
            &[("length", 26.0 / 120.0), ("height", 26.0 / 120.0)],
        ),
        following(
            length("radius", "Radius", "of the inside curve", "40", "1 1/2"),
            &[("length", 40.0 / 120.0), ("height", 40.0 / 120.0)],
        ),
        length("thickness", "Thickness", "", "18", "3/4"),
    ],
    file: include_str!("bracket.json"),
    parts: &[],
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

/// What holds the top.
const FASTENERS: Question =
    one_of("fasteners", "Held by", "what holds the top to the base", &["buttons", "slots", NONE]);

/// What holds it where it moves.
const HOLDS: &[&str] = &["buttons", "slots"];

/// The wood and its moisture, by which it is known how far the top moves.
const WOOD: Question = only(
    Question {
        wanted: Wanted::Words,
        ..length(
            "wood",
            "Wood",
            "of the top, whose moisture is taken as 8 % today and 6 to 11 % in use",
            "white oak",
            "white oak",
        )
    },
    "fasteners",
    HOLDS,
);

/// The part of a file that holds the top.
const HELD: Part = Part {
    mark: "@fasteners@\n",
    after: &[("fasteners", HOLDS)],
    unless_none: &[],
    text: "    \"species\": \"@wood@\",\n    \"moisture\": { \"today\": 8, \"driest\": 6, \"dampest\": 11 },\n    \"fasteners\": { \"by\": \"@fasteners@\" },\n",
};

/// Round corners of the top.
const CORNER: Part =
    Part { mark: "@corner@\n", after: &[], unless_none: &["corner"], text: "    \"corner_radius\": \"corner\",\n" };

static LEANING_FRAMES: Starter = Starter {
    kind: "leaning-frames",
    title: "Table on two leaning frames",
    questions: &[
        following(length("top_length", "Top length", "", "1800", "71"), &[("length", 1800.0 / 1420.0)]),
        following(length("top_width", "Top width", "", "860", "34"), &[("width", 860.0 / 620.0)]),
        length("top_thickness", "Top thickness", "", "25", "1"),
        perhaps("corner", "Top corners", "their radius, or none"),
        length("height", "Height", "floor to the upper face of the top", "740", "29 1/4"),
        following(
            length("length", "Base length", "at the top, over the two frames", "1420", "56"),
            &[("top_length", 1420.0 / 1800.0)],
        ),
        following(
            length("width", "Base width", "at the top, over a frame's legs", "620", "24 1/2"),
            &[("top_width", 620.0 / 860.0)],
        ),
        angle("lean", "Lean", "tilt of each frame from plumb, heads inward", "8 deg"),
        angle("splay", "Splay", "how far the legs of a frame spread from its centre line", "12 deg"),
        length("leg_thickness", "Leg thickness", "", "40", "1 1/2"),
        length("head_width", "Head width", "of a leg, along its head", "95", "3 3/4"),
        length("foot_width", "Foot width", "of a leg, along its foot", "60", "2 3/8"),
        perhaps("curve", "Leg curve", "how hollow the legs' inside edges are, or none"),
        length("rail_depth", "Rail depth", "of rails and aprons", "75", "3"),
        one_of("stretcher", "Stretcher", "between the two frames", &[YES, NO]),
        one_of("joints", "Tenons", "loose ones in every joint of the base", &[YES, NO]),
        only(length("tenon", "Tenon thickness", "", "8", "5/16"), "joints", &[YES]),
        FASTENERS,
        WOOD,
    ],
    file: include_str!("leaning_frames.json"),
    parts: &[
        CORNER,
        HELD,
        Part {
            mark: "@curve@\n",
            after: &[],
            unless_none: &["curve"],
            text: "      \"inside_edge\": { \"rise\": \"0 - curve\" },\n",
        },
        Part {
            mark: "@stretcher@\n",
            after: &[("stretcher", &[YES])],
            unless_none: &[],
            text: "    \"stretcher\": {\n      \"thickness\": \"leg_thickness * 5 / 8\",\n      \"depth\": \"rail_depth / 2\",\n      \"height\": \"height / 5 + rail_depth / 4\"\n    },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES])],
            unless_none: &[],
            text: ",\n\n  \"joints\": {\n    \"top rail tenon\": { \"from\": \"top_rail\", \"into\": \"leg\", \"thickness\": \"tenon\", \"width\": \"rail_depth / 2\", \"length\": \"head_width / 2\" },\n    \"bottom rail tenon\": { \"from\": \"bottom_rail\", \"into\": \"leg\", \"thickness\": \"tenon\", \"width\": \"rail_depth / 2\", \"length\": \"foot_width * 3 / 4\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES]), ("stretcher", &[YES])],
            unless_none: &[],
            text: "    \"stretcher tenon\": { \"from\": \"stretcher\", \"into\": \"bottom_rail\", \"thickness\": \"tenon\", \"width\": \"rail_depth / 4\", \"length\": \"leg_thickness * 3 / 4\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES])],
            unless_none: &[],
            text: "    \"apron tenon\": { \"from\": \"apron\", \"into\": \"leg\", \"thickness\": \"tenon\", \"width\": \"rail_depth / 2\", \"length\": \"leg_thickness\" }\n  }",
        },
    ],
    dimensions: None,
};

static SPLAYED_LEGS: Starter = Starter {
    kind: "splayed-legs",
    title: "Stool on four splayed legs",
    questions: &[
        following(length("top_length", "Seat length", "", "430", "17"), &[("length", 430.0 / 320.0)]),
        following(length("top_width", "Seat width", "", "340", "13 1/2"), &[("width", 340.0 / 260.0)]),
        length("top_thickness", "Seat thickness", "", "38", "1 1/2"),
        perhaps("corner", "Seat corners", "their radius, or none"),
        length("height", "Height", "floor to the upper face of the seat", "620", "24 1/2"),
        following(
            length("length", "Base length", "over the legs at the seat, seen from the front", "320", "12 1/2"),
            &[("top_length", 320.0 / 430.0)],
        ),
        following(
            length("width", "Base width", "over the legs at the seat, seen from the side", "260", "10 1/4"),
            &[("top_width", 260.0 / 340.0)],
        ),
        angle("splay_front", "Front splay", "of the legs, seen from the front", "9 deg"),
        angle("splay_side", "Side splay", "of the legs, seen from the side", "6 deg"),
        length("leg", "Leg", "its width and its thickness", "42", "1 5/8"),
        perhaps("foot_width", "Foot", "to which the legs taper below the aprons, or none"),
        length("apron_depth", "Apron depth", "", "75", "3"),
        one_of("stretcher", "Stretchers", "three between the legs, laid out as an H", &[NO, YES]),
        one_of("joints", "Tenons", "loose ones in every joint of the base", &[YES, NO]),
        only(length("tenon", "Tenon thickness", "", "7", "1/4"), "joints", &[YES]),
        FASTENERS,
        WOOD,
    ],
    file: include_str!("splayed_legs.json"),
    parts: &[
        CORNER,
        HELD,
        Part {
            mark: "@taper@\n",
            after: &[],
            unless_none: &["foot_width"],
            text: "      \"taper\": { \"from\": \"apron_depth * 4 / 3\", \"foot_width\": \"foot_width\", \"foot_thickness\": \"foot_width\" },\n",
        },
        Part {
            mark: "@stretcher@\n",
            after: &[("stretcher", &[YES])],
            unless_none: &[],
            text: "    \"stretchers\": { \"layout\": \"h\", \"thickness\": \"leg / 2\", \"depth\": \"leg * 3 / 4\", \"height\": \"height / 4\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES])],
            unless_none: &[],
            text: ",\n\n  \"joints\": {\n    \"apron tenon\": { \"from\": \"apron\", \"into\": \"leg\", \"thickness\": \"tenon\", \"width\": \"apron_depth / 2\", \"length\": \"leg * 3 / 4\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES]), ("stretcher", &[YES])],
            unless_none: &[],
            text: "    \"stretcher tenon\": { \"from\": \"stretcher\", \"into\": \"end_stretcher\", \"thickness\": \"tenon\", \"width\": \"leg * 3 / 8\", \"length\": \"leg / 2\" },\n    \"end stretcher tenon\": { \"from\": \"end_stretcher\", \"into\": \"leg\", \"thickness\": \"tenon\", \"width\": \"leg * 3 / 8\", \"length\": \"leg / 2\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES])],
            unless_none: &[],
            text: "    \"end apron tenon\": { \"from\": \"end_apron\", \"into\": \"leg\", \"thickness\": \"tenon\", \"width\": \"apron_depth / 4\", \"length\": \"leg / 2\" }\n  }",
        },
    ],
    dimensions: None,
};

static SPLAYED_BOX: Starter = Starter {
    kind: "splayed-box",
    title: "Planter with sloping sides",
    questions: &[
        Question { wanted: Wanted::Count(3, 24), ..length("sides", "Sides", "how many", "6", "6") },
        length("side", "Side", "its length along the lower outside edge", "190", "7 1/2"),
        angle("slope", "Slope", "of the sides from plumb, wider at the top", "12 deg"),
        length("depth", "Depth", "of a side, up its outside face", "300", "12"),
        length("thickness", "Thickness", "of the sides", "20", "3/4"),
    ],
    file: include_str!("splayed_box.json"),
    parts: &[],
    dimensions: None,
};

static BOARDS: Starter = Starter {
    kind: "boards",
    title: "Post and brace, board by board",
    questions: &[
        length("height", "Height", "of the post", "1200", "48"),
        length("width", "Width", "of the post", "95", "3 3/4"),
        length("thickness", "Thickness", "of both boards", "45", "1 3/4"),
        length("brace", "Brace", "its width", "70", "2 3/4"),
        following(
            length(
                "reach",
                "Reach",
                "how far from the post the brace stands on the floor, measured to its underside",
                "600",
                "24",
            ),
            &[("height", 0.5)],
        ),
    ],
    file: include_str!("boards.json"),
    parts: &[],
    dimensions: None,
};

fn horizontal(name: &str, from: (f64, f64), to: (f64, f64), off: f64) -> Dimension {
    Dimension { from: from.into(), to: to.into(), along: 0.0, off, words: name.into() }
}

fn vertical(name: &str, from: (f64, f64), to: (f64, f64), off: f64) -> Dimension {
    Dimension { from: from.into(), to: to.into(), along: FRAC_PI_2, off, words: name.into() }
}
