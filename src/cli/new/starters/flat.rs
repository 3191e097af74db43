//! Flat parts by themselves.

use super::{Starter, following, length};
use crate::geometry::Point;
use crate::layout::Dimension;
use std::f64::consts::FRAC_PI_2;

/// How thick a flat part is.
const THICKNESS: &str = "From face to face, planed. The pattern itself does not change with it; it stands on the pattern and in the \
                         schedule, which lists the blank.";

pub static BOWED_EDGE: Starter = Starter {
    kind: "bowed-edge",
    title: "Bowed edge",
    questions: &[
        length(
            "length",
            "Length",
            "of the board",
            "From end to end along its straight edge. The bow runs over all of it, so that a longer board with the same rise is \
             flatter.",
            ("1400", "55"),
        ),
        length(
            "width",
            "Width",
            "at the middle",
            "From the straight edge to the highest point of the bow, which is the widest place: the board is sawn from a blank of \
             this width.",
            ("120", "4 3/4"),
        ),
        following(
            length(
                "rise",
                "Rise",
                "of the bow: how much narrower it is at the ends",
                "From a straight line through both ends of the bow to its highest point. One in eighty of the length is a quiet bow \
                 that is seen and not noticed; one in thirty is plain to see. The radius follows from it and the length.",
                ("18", "3/4"),
            ),
            &[("length", 18.0 / 1400.0)],
        ),
        length("thickness", "Thickness", "", THICKNESS, ("25", "1")),
    ],
    file: include_str!("../bowed_edge.json"),
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

pub static CURVED_LEG: Starter = Starter {
    kind: "curved-leg",
    title: "Tapered curved leg",
    questions: &[
        length(
            "length",
            "Length",
            "of the leg",
            "From head to foot along its straight outside edge. For a table of 740 mm (29 in) it is that less the top's thickness.",
            ("700", "27 1/2"),
        ),
        length(
            "head_width",
            "Head width",
            "of the leg",
            "Across its upper end. There the apron joins it, so that it is mostly the widest place.",
            ("90", "3 1/2"),
        ),
        length(
            "foot_width",
            "Foot width",
            "of the leg",
            "Across its lower end. Half to two thirds of the head is usual; thinner than 20 mm (3/4 in) a foot splits when it is \
             dragged.",
            ("50", "2"),
        ),
        following(
            length(
                "rise",
                "Rise",
                "of the hollow in the inside edge",
                "From a straight line between the inside corners of head and foot to the deepest point of the hollow. One in sixty of \
                 the length looks springy without weakening the leg; what is left at the hollow must still carry.",
                ("12", "1/2"),
            ),
            &[("length", 12.0 / 700.0)],
        ),
        length("thickness", "Thickness", "", THICKNESS, ("38", "1 1/2")),
    ],
    file: include_str!("../curved_leg.json"),
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

pub static BRACKET: Starter = Starter {
    kind: "bracket",
    title: "Bracket",
    questions: &[
        length(
            "length",
            "Length",
            "along the rail",
            "From the outside corner to the end of the limb that lies along the rail.",
            ("120", "4 3/4"),
        ),
        following(
            length(
                "height",
                "Height",
                "up the leg",
                "From the outside corner to the end of the limb that stands along the leg. The same as the length is usual.",
                ("120", "4 3/4"),
            ),
            &[("length", 1.0)],
        ),
        following(
            length(
                "limb",
                "Limb",
                "width of each of the two",
                "Square across a limb, from its outside edge to its inside edge where that is straight. A fifth of the length is \
                 usual: what is left beyond it is the room for the curve.",
                ("26", "1"),
            ),
            &[("length", 26.0 / 120.0), ("height", 26.0 / 120.0)],
        ),
        following(
            length(
                "radius",
                "Radius",
                "of the inside curve",
                "Of the round inside corner where the two limbs meet. It is at most what the shorter limb has beyond the other's \
                 width. A larger one is stronger, since less grain runs out at the corner; a router bit of no more than this radius \
                 follows it.",
                ("40", "1 1/2"),
            ),
            &[("length", 40.0 / 120.0), ("height", 40.0 / 120.0)],
        ),
        length("thickness", "Thickness", "", THICKNESS, ("18", "3/4")),
    ],
    file: include_str!("../bracket.json"),
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

fn horizontal(name: &str, from: (f64, f64), to: (f64, f64), off: f64) -> Dimension {
    Dimension { from: from.into(), to: to.into(), along: 0.0, off, words: name.into() }
}

fn vertical(name: &str, from: (f64, f64), to: (f64, f64), off: f64) -> Dimension {
    Dimension { from: from.into(), to: to.into(), along: FRAC_PI_2, off, words: name.into() }
}
