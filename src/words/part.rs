//! Words for what is wrong with parts, tools and paper as the file has them.

use super::field::bar_read;
use super::outline::{line, spot};
use crate::finding::{Cures, Names, Ratio, Said, Words};
use crate::geometry::MirrorLine;
use crate::project::{
    Across, LaidKind, Nesting, OpeningKind, OutsideEnd, PartProblem, SeveralShapes, TenonProblem, TextProblem,
    ToolKind, TwoSizes, WallTo,
};
use crate::units::{Length, Notation};

fn opening(kind: OpeningKind) -> &'static str {
    match kind {
        OpeningKind::Hole => "hole",
        OpeningKind::Slot => "slot",
    }
}

fn breaks_out(kind: OpeningKind, may_shrink: bool, [out, most]: [Length; 2], notation: &Notation) -> Said {
    let what = opening(kind);
    let narrower = match kind {
        OpeningKind::Slot => "narrower",
        OpeningKind::Hole => "smaller",
    };
    let (out, most) = (notation.at_least(out), notation.at_most(most));
    Said::new(
        format!("this {what} breaks out of the edge by {out}"),
        match may_shrink {
            true => {
                format!("move it in by more than {out}, or make it {narrower}: at {most} it would touch the edge")
            }
            false => "move it inside the outline".to_owned(),
        },
    )
}

fn no_wall(kind: OpeningKind, to: WallTo, wall: Length, notation: &Notation) -> Said {
    let (what, wall) = (opening(kind), notation.length(wall));
    let (to, away) = match to {
        WallTo::Edge => ("the edge of the part", "move it in"),
        WallTo::Opening => ("an opening", "move it away"),
    };
    Said::new(
        format!("this {what} touches {to}: {wall} of wood is left between them"),
        format!("{away}, or make it smaller"),
    )
}

fn across_mirror(what: LaidKind, how: Across, of: MirrorLine, across: String, once_does: bool) -> Said {
    let what = match what {
        LaidKind::Hole => "hole",
        LaidKind::Slot => "slot",
        LaidKind::Opening => "opening",
        LaidKind::Mark => "mark",
    };
    let of = line(of);
    // Of a part that is drawn as half alone, what is made once may not reach over the line either.
    let with_once = |cure: &str, once: &str| if once_does { format!("{cure}{once}") } else { cure.to_owned() };
    match how {
        Across::Wholly => Said::new(
            format!("this {what} lies across the mirror line, {of}, from the half that is drawn"),
            with_once(
                "remove it where it is the mirror image of another, which follows by itself; else draw it in the other half",
                ", or write \"once\": true to have it here alone",
            ),
        ),
        Across::Partly => Said::new(
            format!("this {what} runs {across} over the mirror line, {of}, and is mirrored with the half"),
            with_once(
                "keep it on the side of the half, or lay it evenly over the line to have one there",
                ", or write \"once\": true",
            ),
        ),
        Across::Once => Said::new(
            format!(
                "this {what} is made once and reaches {across} over the mirror line, {of}, where the half template ends"
            ),
            "print the part whole (\"show\": \"whole\"), or keep it on the side of the half",
        ),
    }
}

fn unknown_tool(what: ToolKind, name: &Option<String>, Names { near, all }: &Names) -> Said {
    let what = match what {
        ToolKind::Cutter => "cutter",
        ToolKind::Collar => "collar",
    };
    let Some(name) = name else {
        return Said::new(
            format!("the shop has no {what} to check with"),
            "add one to \"shop\": \"cutters\": { \"trimmer\": { \"diameter\": \"19 mm\" } }",
        );
    };
    let remedy = match (near, all.as_slice()) {
        (Some(near), _) => format!("did you mean \"{near}\"?"),
        (None, []) => format!("add it to \"shop\": \"{what}s\": {{ \"{name}\": {{ \"diameter\": … }} }}"),
        (None, known) => format!("its {what}s are {}; add this one to \"{what}s\"", known.join(", ")),
    };
    Said::new(format!("the shop has no {what} \"{name}\""), remedy)
}

impl Words for PartProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let n = notation;
        match self {
            PartProblem::Outside { end, outside } => {
                let centre = match end {
                    OutsideEnd::Slot(name) => format!("the end \"{name}\" of this slot"),
                    OutsideEnd::Hole => "the centre of this hole".to_owned(),
                };
                let off = n.at_least(*outside);
                Said::new(format!("{centre} lies {off} outside the part"), "move it inside the outline")
            }
            PartProblem::BreaksOut { what, may_shrink, out_by, largest } => {
                breaks_out(*what, *may_shrink, [*out_by, *largest], n)
            }
            PartProblem::IntoOpening { what, inside } => {
                let how = if *inside { "lies inside" } else { "runs into" };
                let message = format!("this {} {how} an opening, where there is no wood", opening(*what));
                Said::new(message, "move it into the wood beside the opening")
            }
            PartProblem::NoWall { what, to, wall } => no_wall(*what, *to, *wall, n),
            PartProblem::RunTogether { what, other, overlap } => Said::new(
                format!("this {} runs into a {} by {}", opening(*what), opening(*other), n.at_least(*overlap)),
                "move them apart, unless one opening is meant",
            ),
            PartProblem::AcrossMirror { what, how, line, across, once_does } => {
                across_mirror(*what, *how, *line, n.at_least(*across), *once_does)
            }
            PartProblem::OnceAlone {} => {
                Said::new("\"once\" says nothing here: this part has no \"half\" that is mirrored", "leave it out")
            }
            PartProblem::SeveralShapes { how } => {
                let apart = "choose one of them by its \"id\", or draw them in files of their own";
                match how {
                    SeveralShapes::Apart => Said::new("this drawing holds several shapes that lie apart", apart),
                    SeveralShapes::InAnOpening => Said::new("a path of this drawing lies inside an opening", apart),
                    SeveralShapes::OfAnOpening => Said::new(
                        "this opening has openings of its own",
                        "choose one path of the drawing by its \"id\"",
                    ),
                }
            }
            PartProblem::OpeningLeaves { at: Some(at) } => Said::new(
                format!("this opening meets the edge of the part at {}", spot(at, n)),
                "move it inside, or make it smaller",
            ),
            PartProblem::OpeningLeaves { at: None } => {
                Said::new("this opening lies outside the part", "move it inside, with \"at\"")
            }
            PartProblem::OpeningsMeet { at } => Said::new(
                format!("this opening runs into another at {}", spot(at, n)),
                "move one of them, or draw both as one",
            ),
            PartProblem::OpeningNested { how } => Said::new(
                match how {
                    Nesting::Inside => "this opening lies inside another, where there is no wood",
                    Nesting::Around => "another opening lies inside this one",
                },
                "remove the inner one, or move one of them out",
            ),
            PartProblem::BoardWithOpenings {} => Said::new(
                "a board of the piece has no openings, and this drawing has",
                "choose its edge alone by its \"id\", or draw the part under \"patterns\"",
            ),
            PartProblem::NoLine {} => {
                Said::new("this line has no length", "give it at least two points that lie apart")
            }
            PartProblem::EdgeTwice {} => {
                Said::new("this edge is named twice", "name it once, or the edge across from it")
            }
            PartProblem::CollarSmall { cutter, cuts, collar, wide } => Said::new(
                format!(
                    "the cutter \"{cutter}\" of {} does not pass through the collar \"{collar}\", which is {} outside",
                    n.exact(*cuts),
                    n.exact(*wide)
                ),
                "take a larger collar or a smaller cutter",
            ),
            PartProblem::UnknownTool { what, name, tools } => unknown_tool(*what, name, &tools.0),
            PartProblem::NoGrain {} => {
                Said::new("the grain of this part is not given", "add \"grain\": its direction from x, for example 0")
            }
            PartProblem::GrainThresholds { along, end } => Said::new(
                format!(
                    "grain along the edge, up to {}, leaves no room below end grain, from {}",
                    n.angle(*along),
                    n.angle(*end)
                ),
                format!("make \"along\" less than {}; 4° and 60° are usual", n.angle(*end)),
            ),
            PartProblem::TwoProfiles {} => Said::new(
                "the top's edge profile is given twice",
                "keep this one or the one under \"routing\", \"top\"",
            ),
            PartProblem::SleeveSmall { large, diameter, small } => Said::new(
                format!(
                    "the large collar \"{large}\" is {}, no larger than the small one \"{small}\"",
                    n.exact(*diameter)
                ),
                "give the collar with its sleeve as \"large\" and the bare one as \"small\"",
            ),
        }
    }
}

/// A sheet by its name, or the roll.
fn sheet(name: &Option<String>) -> &str {
    name.as_deref().unwrap_or("the roll")
}

fn bar_taken(inches: bool, reading: Length, Ratio(factor): Ratio, notation: &Notation) -> Said {
    let (bar, read) = bar_read(inches, reading, notation);
    let percent = ((factor - 1.0).abs() * 1000.0).round() / 10.0;
    let follows = match factor {
        _ if percent == 0.0 => "printed lengths stay as they are".to_owned(),
        stretched if stretched > 1.0 => format!("printed lengths are stretched by {percent} %"),
        _ => format!("printed lengths are shrunk by {percent} %"),
    };
    Said::new(
        format!("taken as the {bar} bar reading {read}: {follows}"),
        "nothing, where that is so; a reading of its other side is written in its own unit, mm or in",
    )
}

impl Words for TextProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let n = notation;
        match self {
            TextProblem::AnglesReversed { from, to } => Said::new(
                format!("the fence's angles run from {} back to {}", n.angle(*from), n.angle(*to)),
                format!("the smallest comes first: {} to {}", n.angle(*to), n.angle(*from)),
            ),
            TextProblem::MarginsWide { sheet: name, side, margin, largest } => Said::new(
                format!(
                    "margins of {} leave too little of {}, which is {} wide",
                    n.exact(*margin),
                    sheet(name),
                    n.exact(*side)
                ),
                format!("make the margin {} or less, or take larger paper", n.at_most(*largest)),
            ),
            TextProblem::OverlapWide { sheet: name, printed, overlap, largest } => Said::new(
                format!(
                    "an overlap of {} is more than half of what {} shows inside its margins, which is {}",
                    n.exact(*overlap),
                    sheet(name),
                    n.exact(*printed)
                ),
                format!("make the overlap {} or less, or take larger paper", n.at_most(*largest)),
            ),
            TextProblem::BarTaken { inches, reading, factor } => bar_taken(*inches, *reading, *factor, n),
            TextProblem::NoBoards {} => Said::new(
                "the base has no board in it",
                "add a board, for example \"brace\": { \"thickness\": 20, \"outline\": …, \"at\": [0, 0, 0], \"along\": [1, 0, 0], \"face\": [0, -1, 0] }",
            ),
            TextProblem::NoEffect { field, oval } => {
                let shape = if *oval { "an oval" } else { "a round" };
                Said::new(
                    format!("\"{field}\" has no effect on {shape} top, which has one edge all round"),
                    "leave it out, or leave \"shape\" out for a top with four edges",
                )
            }
            TextProblem::TwoSizes { of: TwoSizes::Span(name) } => Said::new(
                format!("\"{name}_at_top\" and \"{name}_at_floor\" exclude each other"),
                "keep one of the two; the angles give the other",
            ),
            TextProblem::TwoSizes { of: TwoSizes::Box } => {
                Said::new("\"side\" and \"across\" exclude each other", "keep one of the two")
            }
            TextProblem::UnknownPaper { why } => why.said(),
            TextProblem::Nothing {} => {
                Said::new("this project has nothing to draw", "add a \"base\", a \"top\", or a part to \"patterns\"")
            }
            TextProblem::ThickerThanLeg { tenon, given, largest } => {
                let what = if *tenon { "a tenon" } else { "a foot" };
                Said::new(
                    format!("{what} {} thick cannot be turned from a leg of {}", n.exact(*given), n.exact(*largest)),
                    format!("the largest that does is {}", n.at_most(*largest)),
                )
            }
            TextProblem::TwoAngles {} => {
                Said::new("\"lean\" and \"rake\" are two words for one angle", "keep one of the two")
            }
            TextProblem::FlatBevels {} => Said::new(
                "only an upright stretcher's edges are bevelled",
                "leave \"edge_bevels\" out, or set the stretcher upright",
            ),
            TextProblem::UnknownSurface {} => {
                Said::new("this names no surface of a board", "write ID.face, ID.far or ID.edge.NAME")
            }
        }
    }
}

/// Of length, depths and clearance, which have to agree, one is left to follow from the others.
fn tenon_too_long([together, length, fits]: [Length; 3], clearance: Option<Length>, notation: &Notation) -> Said {
    let n = notation;
    let room = together - length;
    let remedy = match clearance {
        None => format!("the length that does is {}, or deepen the mortises", n.at_most(fits)),
        Some(_) if room < Length::ZERO => format!(
            "leave \"length\" out, and it is {}; or deepen the mortises by {} together and leave \"clearance\" out",
            n.exact(fits),
            n.at_least(-room)
        ),
        Some(asked) => format!(
            "leave \"length\" out, and it is {}; or leave \"clearance\" out, and it is {} in place of {}",
            n.exact(fits),
            n.exact(room),
            n.exact(asked)
        ),
    };
    Said::new(
        format!("a tenon {} long lies in mortises {} deep together", n.exact(length), n.exact(together)),
        remedy,
    )
}

impl Words for TenonProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        match self {
            TenonProblem::ThickerThanWide { width, thickness } => {
                let (width, thickness) = (notation.exact(*width), notation.exact(*thickness));
                Said::new(
                    format!("a tenon {width} wide is {thickness} thick"),
                    format!("make it at least {thickness} wide"),
                )
            }
            TenonProblem::TwoSpreads {} => Said::new(
                "\"at\" gives the places by hand; \"count\", \"spacing\" and \"margin\" give them by rule",
                "keep one of the two ways",
            ),
            TenonProblem::NoPlaces {} => {
                Said::new("no place is given for a tenon", "give the distance of each centre, or leave \"at\" out")
            }
            TenonProblem::DepthsOfFixed {} => Said::new(
                "a fixed tenon needs no mortise in its own part",
                "give its \"length\" and the \"clearance\" at its end",
            ),
            TenonProblem::SecondDepth { first } => Said::new(
                "the second of \"depths\" is not used: the mortise goes through the second part",
                format!("give {} as \"length\" in place of \"depths\"", notation.exact(*first)),
            ),
            TenonProblem::TooLong { together, clearance, length, largest } => {
                tenon_too_long([*together, *length, *largest], *clearance, notation)
            }
        }
    }
}
