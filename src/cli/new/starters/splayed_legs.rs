//! A stool on four splayed legs.

use super::{
    FASTENERS, HELD, JOINTS, NO, Part, SPECIES, Starter, YES, angle, following, giving_way, length, one_of, perhaps,
    tenon_thickness, where_wanted,
};

pub static SPLAYED_LEGS: Starter = Starter {
    kind: "splayed-legs",
    title: "Stool on four splayed legs",
    questions: &[
        following(
            length(
                "seat_length",
                "Seat length",
                "",
                "From end to end, along the grain, seen from the front. 380 to 450 mm (15 to 18 in) is usual for one person. The length of \
                 the base follows it, unless you say otherwise.",
                ("430", "17"),
            ),
            &[("base_length", 430.0 / 320.0)],
        ),
        following(
            length(
                "seat_width",
                "Seat width",
                "",
                "From front to back, across the grain. 300 to 360 mm (12 to 14 in) is usual. The width of the base follows it.",
                ("340", "13 1/2"),
            ),
            &[("base_width", 340.0 / 260.0)],
        ),
        length(
            "seat_thickness",
            "Seat thickness",
            "",
            "From face to face, before it is hollowed. 30 to 45 mm (1 1/4 to 1 3/4 in) is usual. The base is as high as the stool less this.",
            ("38", "1 1/2"),
        ),
        perhaps(
            "seat_corners",
            "Seat corners",
            "their radius, or none",
            "Of the round at each corner of the seat, seen from above. 30 to 80 mm (1 1/4 to 3 in) is usual; none leaves them square.",
        ),
        length(
            "height",
            "Height",
            "floor to the upper face of the seat",
            "Plumb. 430 to 460 mm (17 to 18 in) is usual at a table, 600 to 650 mm (24 to 26 in) at a counter, 700 to 750 mm (28 to 30 in) at a \
             bar: 250 to 300 mm (10 to 12 in) below what one sits at.",
            ("620", "24 1/2"),
        ),
        following(
            giving_way(length(
                "base_length",
                "Base length",
                "over the legs at the seat, seen from the front",
                "Between the outermost corners of the legs, where they meet the seat. The legs splay, so that the feet stand wider. Three \
                 quarters of the seat is usual, so that it overhangs all round.",
                ("320", "12 1/2"),
            )),
            &[("seat_length", 320.0 / 430.0)],
        ),
        following(
            giving_way(length(
                "base_width",
                "Base width",
                "over the legs at the seat, seen from the side",
                "Between the outermost corners of the legs, where they meet the seat, from front to back. Three quarters of the seat is usual.",
                ("260", "10 1/4"),
            )),
            &[("seat_width", 260.0 / 340.0)],
        ),
        angle(
            "front_splay",
            "Front splay",
            "of the legs, seen from the front",
            "Between the outer corner of a leg and a plumb line, as the front view shows it. 5 to 12 degrees is usual. With the side splay it \
             gives the true lean of the leg and every compound angle; the feet should stand at least as wide as the seat, or the stool tips.",
            "9 deg",
        ),
        angle(
            "side_splay",
            "Side splay",
            "of the legs, seen from the side",
            "Between the outer corner of a leg and a plumb line, as the side view shows it. 4 to 8 degrees is usual, less than in front where the \
             seat is narrower.",
            "6 deg",
        ),
        length(
            "leg",
            "Leg",
            "its width and its thickness",
            "The leg is as wide as it is thick, measured square across its faces at the head. 36 to 45 mm (1 1/2 to 1 3/4 in) is usual. Aprons \
             are set in from its faces by an eighth of it.",
            ("42", "1 5/8"),
        ),
        following(
            length(
                "foot_width",
                "Foot width",
                "to which the legs taper below the aprons",
                "Across the foot, both ways. As wide as the leg it does not taper, as is proposed; two thirds of it is usual where it does. Only \
                 the two inner faces taper, so that the joints stay square to the outer ones.",
                ("42", "1 5/8"),
            ),
            &[("leg", 1.0)],
        ),
        length(
            "apron_depth",
            "Apron depth",
            "",
            "Square across the outside face, from lower to upper edge. 60 to 90 mm (2 1/2 to 3 1/2 in) is usual: the deeper, the stiffer.",
            ("75", "3"),
        ),
        following(
            length(
                "apron_thickness",
                "Apron thickness",
                "",
                "From face to face of all four aprons. Half the leg is usual, 18 to 22 mm (3/4 to 7/8 in).",
                ("21", "7/8"),
            ),
            &[("leg", 0.5)],
        ),
        one_of(
            "stretchers",
            "Stretchers",
            "three between the legs, laid out as an H",
            "Two from front to back between the legs, and one along the middle between these, set some way above the floor. A stool \
             higher than a chair wants them, for stiffness and for feet.",
            &[NO, YES],
        ),
        where_wanted(
            length(
                "stretcher_thickness",
                "Stretcher thickness",
                "",
                "From face to face of all three; they are three quarters of the leg deep. Half the leg is usual.",
                ("21", "7/8"),
            ),
            "stretchers",
            &[("leg", 0.5)],
        ),
        where_wanted(
            length(
                "stretcher_height",
                "Stretcher height",
                "floor to their lower edge",
                "Plumb. A quarter of the height is usual: low enough to rest feet on, high enough to stiffen the legs.",
                ("155", "6 1/8"),
            ),
            "stretchers",
            &[("height", 0.25)],
        ),
        JOINTS,
        tenon_thickness(("7", "1/4")),
        where_wanted(
            length(
                "tenon_width",
                "Tenon width",
                "of the long aprons' tenons",
                "Across the depth of the apron, from edge to edge of the tenon: how long its mortise is. Half the depth is usual. The end \
                     aprons' tenons are half as wide, since both meet in the leg.",
                ("38", "1 1/2"),
            ),
            "joints",
            &[("apron_depth", 0.5)],
        ),
        FASTENERS,
        SPECIES,
    ],
    file: include_str!("../splayed_legs.json"),
    parts: &[
        HELD,
        Part {
            mark: "@stretchers@\n",
            after: &[("stretchers", &[YES])],
            text: "    \"stretchers\": { \"layout\": \"h\", \"thickness\": \"stretcher_thickness\", \"depth\": \"leg * 3 / 4\", \"height\": \"stretcher_height\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES])],
            text: ",\n\n  \"joints\": {\n    \"apron tenon\": { \"from\": \"apron\", \"into\": \"leg\", \"thickness\": \"tenon_thickness\", \"width\": \"tenon_width\", \"length\": \"leg * 3 / 4\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES]), ("stretchers", &[YES])],
            text: "    \"stretcher tenon\": { \"from\": \"stretcher\", \"into\": \"end_stretcher\", \"thickness\": \"tenon_thickness\", \"width\": \"leg * 3 / 8\", \"length\": \"leg / 2\" },\n    \"end stretcher tenon\": { \"from\": \"end_stretcher\", \"into\": \"leg\", \"thickness\": \"tenon_thickness\", \"width\": \"leg * 3 / 8\", \"length\": \"leg / 2\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES])],
            text: "    \"end apron tenon\": { \"from\": \"end_apron\", \"into\": \"leg\", \"thickness\": \"tenon_thickness\", \"width\": \"tenon_width / 2\", \"length\": \"leg / 2\" }\n  }",
        },
    ],
    dimensions: None,
};
