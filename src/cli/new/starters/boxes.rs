//! A box of sloping sides, and a piece made board by board.

use super::{Question, Starter, Wanted, angle, following, length};

pub static SPLAYED_BOX: Starter = Starter {
    kind: "splayed-box",
    title: "Planter with sloping sides",
    questions: &[
        Question {
            wanted: Wanted::Count,
            ..length(
                "sides",
                "Sides",
                "how many",
                "All are equal. The more there are, the flatter two of them meet: four at a right angle, six at 120 degrees in plan. The \
                 angle of the mitres follows from their number and the slope together, and is never the one in the textbook.",
                ("6", "6"),
            )
        },
        length(
            "side",
            "Side",
            "its length along the lower outside edge",
            "From corner to corner on the outside, at the bottom of one side. How wide the box is follows from it and from how many \
             sides there are: six of 190 mm (7 1/2 in) stand 330 mm (13 in) across.",
            ("190", "7 1/2"),
        ),
        angle(
            "slope",
            "Slope",
            "of the sides from plumb, wider at the top; below zero narrower",
            "0 is plumb. 8 to 15 degrees is usual for a planter. From it follow mitre and bevel of every corner, and how much wider the \
             box is at the top.",
            "12 deg",
        ),
        length(
            "depth",
            "Depth",
            "of a side, up its outside face",
            "From the lower outside edge to the upper one, along the sloping face: the width of the board. The height of the box is a \
             little less.",
            ("300", "12"),
        ),
        length(
            "thickness",
            "Thickness",
            "of the sides",
            "From face to face, planed. 18 to 22 mm (3/4 to 7/8 in) is usual.",
            ("20", "3/4"),
        ),
    ],
    file: include_str!("../splayed_box.json"),
    parts: &[],
    dimensions: None,
};

pub static BOARDS: Starter = Starter {
    kind: "boards",
    title: "Post and brace, board by board",
    questions: &[
        length("height", "Height", "of the post", "From the floor to its head, plumb.", ("1200", "48")),
        length(
            "width",
            "Width",
            "of the post",
            "Across the face that is seen from the front. The brace ends against its left side.",
            ("95", "3 3/4"),
        ),
        length(
            "thickness",
            "Thickness",
            "of both boards",
            "From front to back. Both are of one thickness, so that they lie flush.",
            ("45", "1 3/4"),
        ),
        length("brace", "Brace", "its width", "Square across it, seen from the front.", ("70", "2 3/4")),
        following(
            length(
                "reach",
                "Reach",
                "how far from the post the brace stands on the floor, measured to its underside",
                "From the left side of the post, along the floor, to where the underside of the brace meets it. The brace runs up at 45 \
                 degrees, so that it meets the post as high as it reaches out; half the post's height is usual.",
                ("600", "24"),
            ),
            &[("height", 0.5)],
        ),
    ],
    file: include_str!("../boards.json"),
    parts: &[],
    dimensions: None,
};
