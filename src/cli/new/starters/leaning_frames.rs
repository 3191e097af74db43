//! A table on two leaning frames.

use super::{
    FASTENERS, HELD, JOINTS, NO, Part, SPECIES, Starter, YES, angle, following, giving_way, length, one_of, perhaps,
    tenon_thickness, where_wanted,
};

pub static LEANING_FRAMES: Starter = Starter {
    kind: "leaning-frames",
    title: "Table on two leaning frames",
    questions: &[
        following(
            length(
                "top_length",
                "Top length",
                "",
                "From end to end, along the grain. At a dining table each person along a side takes about 600 mm (24 in): 1800 mm (71 in) \
                 seats six. The length of the base follows it, unless you say otherwise.",
                ("1800", "71"),
            ),
            &[("base_length", 1800.0 / 1420.0)],
        ),
        following(
            length(
                "top_width",
                "Top width",
                "",
                "From edge to edge, across the grain: it is in this that the top grows and shrinks. 800 to 950 mm (32 to 38 in) is usual for a \
                 dining table, 600 to 750 mm (24 to 30 in) to write at. The width of the base follows it.",
                ("860", "34"),
            ),
            &[("base_width", 860.0 / 620.0)],
        ),
        length(
            "top_thickness",
            "Top thickness",
            "",
            "From face to face, planed. 20 to 30 mm (3/4 to 1 1/4 in) is usual. The base is as high as the table less this.",
            ("25", "1"),
        ),
        perhaps(
            "top_corners",
            "Top corners",
            "their radius, or none",
            "Of the round at each corner of the top, seen from above. 20 to 60 mm (3/4 to 2 1/2 in) spares hips; none leaves them square.",
        ),
        length(
            "height",
            "Height",
            "floor to the upper face of the top",
            "Plumb. 720 to 760 mm (28 1/2 to 30 in) is usual to eat or write at, 420 to 480 mm (16 1/2 to 19 in) for a low table. The \
             length of the legs and the room for knees follow from it.",
            ("740", "29 1/4"),
        ),
        following(
            giving_way(length(
                "base_length",
                "Base length",
                "at the top, over the two frames",
                "Over the outside faces of the two frames, where they meet the top. The frames lean, heads inward, so that the feet stand \
                 farther apart than this. Four fifths of the top is usual: it leaves room for a person at each end, and the feet stay under \
                 the top.",
                ("1420", "56"),
            )),
            &[("top_length", 1420.0 / 1800.0)],
        ),
        following(
            giving_way(length(
                "base_width",
                "Base width",
                "at the top, over a frame's legs",
                "Over the outside edges of the two legs of a frame, where they meet the top. The legs spread, so that the feet stand wider \
                 than this; about seven tenths of the top keeps the feet near its edges, where nobody trips over them.",
                ("620", "24 1/2"),
            )),
            &[("top_width", 620.0 / 860.0)],
        ),
        angle(
            "lean",
            "Lean",
            "tilt of each frame from plumb, heads inward",
            "Between the outside face of a frame and a plumb line, seen from the front. 5 to 10 degrees is usual. Heads and feet are sawn at \
             this bevel, and with the splay it makes every joint a compound one; the schedule gives each setting.",
            "8 deg",
        ),
        angle(
            "splay",
            "Splay",
            "how far the legs of a frame spread from its centre line",
            "Between the outside edge of a leg and the centre line of its frame, measured in the leaning face of the frame. 8 to 14 degrees is \
             usual. How wide the feet stand, and how long the bottom rail is, follow from it.",
            "12 deg",
        ),
        length(
            "leg_thickness",
            "Leg thickness",
            "",
            "Square to the face of the frame. 35 to 45 mm (1 3/8 to 1 3/4 in) is usual. Rails and aprons are proposed thinner than this.",
            ("40", "1 1/2"),
        ),
        length(
            "head_width",
            "Head width",
            "of a leg, along its head",
            "Along the sawn head, on the outside face of the frame, from edge to edge. Rail and apron both join the leg here, so that it is \
             the widest place; twice the leg's thickness or more is usual.",
            ("95", "3 3/4"),
        ),
        length(
            "foot_width",
            "Foot width",
            "of a leg, along its foot",
            "Along the sawn foot, on the outside face of the frame. Six tenths of the head is usual; the leg tapers evenly from one to the other.",
            ("60", "2 3/8"),
        ),
        perhaps(
            "leg_curve",
            "Leg curve",
            "how hollow the legs' inside edges are, or none",
            "From a straight line between the inside corners of head and foot to the deepest point of the hollow. 5 to 12 mm (3/16 to 1/2 in) is \
             seen and not noticed. Rails land on flats in it; none leaves the edges straight.",
        ),
        length(
            "rail_depth",
            "Rail depth",
            "of rails and aprons",
            "Square across their faces, from lower to upper edge. 70 to 100 mm (2 3/4 to 4 in) is usual under a dining table: deeper is stiffer \
             and leaves less room for knees.",
            ("75", "3"),
        ),
        following(
            length(
                "top_rail_thickness",
                "Top rail thickness",
                "",
                "From face to face of the rail that joins the heads of a frame's legs. It stands in the middle of the leg's thickness; three \
                 quarters of that is usual, which leaves an even step on either side.",
                ("30", "1 1/8"),
            ),
            &[("leg_thickness", 0.75)],
        ),
        following(
            length(
                "bottom_rail_thickness",
                "Bottom rail thickness",
                "",
                "From face to face of the rail that joins a frame's legs a fifth of the height above the floor. The same as the top rail is usual.",
                ("30", "1 1/8"),
            ),
            &[("top_rail_thickness", 1.0), ("leg_thickness", 0.75)],
        ),
        following(
            length(
                "apron_thickness",
                "Apron thickness",
                "",
                "From face to face of the long aprons between the two frames. 20 to 25 mm (3/4 to 1 in) is usual.",
                ("25", "1"),
            ),
            &[("leg_thickness", 0.625)],
        ),
        one_of(
            "stretcher",
            "Stretcher",
            "between the two frames",
            "A long piece on the centre line from one bottom rail to the other, a little above the rails' lower edges. It keeps the frames from \
             spreading, and is where feet are put; without it the aprons alone hold them.",
            &[YES, NO],
        ),
        where_wanted(
            length(
                "stretcher_thickness",
                "Stretcher thickness",
                "",
                "From face to face; it stands on edge, two fifths as deep as the rails. The same as the aprons is usual.",
                ("25", "1"),
            ),
            "stretcher",
            &[("apron_thickness", 1.0), ("leg_thickness", 0.625)],
        ),
        where_wanted(
            length(
                "stretcher_height",
                "Stretcher height",
                "floor to its lower edge",
                "Plumb. The bottom rails stand a fifth of the height above the floor, and the whole of the stretcher's end must \
                     land on them: a little above their lower edge is usual.",
                ("160", "6 3/8"),
            ),
            "stretcher",
            &[("height", 160.0 / 740.0)],
        ),
        JOINTS,
        tenon_thickness(("8", "5/16")),
        where_wanted(
            length(
                "tenon_width",
                "Tenon width",
                "of the tenons of rails and aprons",
                "Across the depth of rail or apron, from edge to edge of the tenon: how long its mortise is. Half the depth is usual; more \
                     leaves thin wood over the mortise at the head of the leg. A stretcher's tenon is a third of its depth.",
                ("38", "1 1/2"),
            ),
            "joints",
            &[("rail_depth", 0.5)],
        ),
        FASTENERS,
        SPECIES,
    ],
    file: include_str!("../leaning_frames.json"),
    parts: &[
        HELD,
        Part {
            mark: "@stretcher@\n",
            after: &[("stretcher", &[YES])],
            text: "    \"stretcher\": {\n      \"thickness\": \"stretcher_thickness\",\n      \"depth\": \"rail_depth * 2 / 5\",\n      \"height\": \"stretcher_height\"\n    },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES])],
            text: ",\n\n  \"joints\": {\n    \"top rail tenon\": { \"from\": \"top_rail\", \"into\": \"leg\", \"thickness\": \"tenon_thickness\", \"width\": \"tenon_width\", \"length\": \"head_width / 2\" },\n    \"bottom rail tenon\": { \"from\": \"bottom_rail\", \"into\": \"leg\", \"thickness\": \"tenon_thickness\", \"width\": \"tenon_width\", \"length\": \"foot_width * 3 / 4\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES]), ("stretcher", &[YES])],
            text: "    \"stretcher tenon\": { \"from\": \"stretcher\", \"into\": \"bottom_rail\", \"thickness\": \"tenon_thickness\", \"width\": \"rail_depth * 2 / 15\", \"length\": \"leg_thickness * 3 / 4\" },\n",
        },
        Part {
            mark: "@joints@",
            after: &[("joints", &[YES])],
            text: "    \"apron tenon\": { \"from\": \"apron\", \"into\": \"leg\", \"thickness\": \"tenon_thickness\", \"width\": \"tenon_width\", \"length\": \"leg_thickness\" }\n  }",
        },
    ],
    dimensions: None,
};
