//! Words for what is found of routing.

use super::drawing::spot;
use crate::finding::{Cures, Said, Words};
use crate::model::InDrawing;
use crate::router::{
    Bevelled, EdgeProblem, Held, InTheWay, NoTemplate, ProfileFault, ProfilesMeet, ScrewRoom, TemplateProblem, Tool,
    ToolCure, Unreached,
};
use crate::units::{Length, Notation};

fn no_template(why: NoTemplate) -> Said {
    let (message, remedy) = match why {
        NoTemplate::TooNarrow => (
            "no template is left: the shape is narrower than the tools",
            "take a smaller collar and cutter, or make the shape wider",
        ),
        NoTemplate::CollarTooSmall => {
            ("the collar does not let the cutter through", "take a larger collar or a smaller cutter")
        }
        NoTemplate::Vanishes => (
            "no template is left where the shape is just as wide as the tools",
            "take a smaller collar and cutter, or make the shape wider",
        ),
        NoTemplate::Untrue => (
            "no template can be made of this outline that is true to 0.005 mm: its edges run too nearly together",
            "take other tools, or draw the narrow places wider, or with fewer corners",
        ),
        NoTemplate::NoEnds => {
            ("this edge has no two ends from which a template could run on", "choose an edge whose ends lie apart")
        }
        NoTemplate::EdgesMeet => (
            "these two edges meet at a corner, and a template of two edges carries one on either side of the part",
            "name the edge across from the first, or ask for a template of each",
        ),
        NoTemplate::BadSize => ("a size of this template is not larger than 0", "give larger sizes"),
        NoTemplate::MeetsItself => (
            "the edge, run on straight past its ends, meets itself or the back of its template",
            "make \"run_on\" shorter or \"hold\" larger, or give the edge flatter ends",
        ),
    };
    Said::new(message, remedy)
}

/// What keeps a template whole: collar and cutter nearer to each other in size.
fn closer_collar(most: Length, notation: &Notation) -> String {
    match notation.rounded_down(most) > Length::ZERO {
        true => format!(
            "take a collar and a cutter whose diameters differ by {} or less, or make the narrow places wider",
            notation.at_most(most)
        ),
        false => "make the narrow places wider, or rout with a bearing in place of a collar".to_owned(),
    }
}

/// Why a cutter cannot be checked against the part: nobody asked for a template.
fn cannot_check(why: NoTemplate) -> Said {
    match why {
        NoTemplate::TooNarrow => Said::new(
            "nothing is left that the cutter could follow: the part is narrower than the tool",
            "check a smaller cutter, or make the part wider",
        ),
        NoTemplate::Untrue => Said::new(
            "no path of the cutter can be worked out that is true to 0.005 mm: edges of the outline run too nearly together",
            "draw the narrow places wider, or with fewer corners",
        ),
        NoTemplate::BadSize => Said::new("the cutter's diameter is not larger than 0", "give it a larger one"),
        other => no_template(other),
    }
}

/// A place in words: where its maker drew it, in the drawing of another file by that one's own numbers.
fn at([x, y]: [Length; 2], drawn: &Option<InDrawing>, notation: &Notation) -> String {
    match drawn {
        Some(drawn) => format!("{} of \"{}\"", spot(&drawn.at), drawn.name),
        None => format!("x {}, y {}", notation.length(x), notation.length(y)),
    }
}

/// How many corners, and which is meant: `a corner`, `6 corners`, `at most, the one`.
fn corners(count: usize) -> (String, &'static str) {
    if count == 1 { ("a corner".to_owned(), "") } else { (format!("{count} corners"), " at most, the one") }
}

fn counted(places: usize) -> String {
    if places == 1 { "one place".to_owned() } else { format!("{places} places") }
}

fn tool_name(tool: &Tool) -> String {
    match tool {
        Tool::Collar => "the collar and its cutter".to_owned(),
        Tool::Cutter(name) => format!("the cutter \"{name}\""),
        Tool::Bearing(name) => format!("the bearing of the cutter \"{name}\""),
    }
}

fn unreached(
    tool: &Tool,
    how: Unreached,
    across: Option<Length>,
    (depth, place): (Length, String),
    n: &Notation,
) -> String {
    let (tool, depth) = (tool_name(tool), n.at_least(depth));
    let wide = across.map_or_else(String::new, |across| format!(", {} wide", n.length(across)));
    match how {
        Unreached::Curve(radius) => {
            let radius = n.at_most(radius);
            format!("{tool} cannot follow the curve of radius {radius} at {place}: {depth} are left to pare")
        }
        Unreached::Opening => {
            format!("no room for {tool} in the opening with its middle at {place}{wide}: nothing of it is cut")
        }
        Unreached::Narrow => format!("no room for {tool} at {place}{wide}: {depth} are left to pare"),
    }
}

fn tool_cure(cure: ToolCure, [largest, for_all]: [Option<Length>; 2], notation: &Notation) -> String {
    match cure {
        ToolCure::Cutter => "take a smaller cutter, or pare what is hatched on the template".to_owned(),
        ToolCure::Collar if largest.is_some_and(|largest| notation.rounded_down(largest) > Length::ZERO) => format!(
            "take a cutter of {} or less under this collar, which goes in there, or pare what is hatched on the template",
            notation.at_most(largest.unwrap_or(Length::ZERO))
        ),
        ToolCure::Collar => "take a smaller collar and cutter, or pare what is hatched on the template".to_owned(),
        ToolCure::Bearing => {
            let for_all = notation.at_most(for_all.unwrap_or(Length::ZERO));
            let all = format!("a cutter and bearing of {for_all} or less, which follow all but sharp corners");
            match largest.map(|largest| notation.at_most(largest)) {
                Some(here) if here != for_all => {
                    format!(
                        "pare it by hand, or take a cutter and bearing of {here} or less for this place, {for_all} or less for all of the edge but sharp corners"
                    )
                }
                _ => format!("pare it by hand, or take {all}"),
            }
        }
        ToolCure::Paring => "pare it by hand: no cutter follows all of this outline".to_owned(),
    }
}

fn bearing_differs(cutter: &str, by: Length, wanted: Option<Length>, notation: &Notation) -> Said {
    let outside = by > Length::ZERO;
    let (how, larger) = if outside { ("stands out from", "larger") } else { ("lies inside", "smaller") };
    let said = notation.at_least(by.abs());
    Said::new(
        format!(
            "the edge {how} the template by {said}: the bearing of the cutter \"{cutter}\" is {larger} than its cut"
        ),
        match wanted {
            Some(diameter) => format!("take a cutter with a bearing of {}", notation.measured(diameter)),
            None => "set the template off by as much, or take a bearing of the cutter's diameter".to_owned(),
        },
    )
}

fn cutter_short(cutter: &str, [cuts, part, needed]: [Length; 3], on_template: bool, notation: &Notation) -> Said {
    let (say, needed) = (|length: Length| notation.measured(length), notation.at_least(needed));
    Said::new(
        format!("the cutter \"{cutter}\" cuts {} deep; this part of {} needs {needed}", say(cuts), say(part)),
        match on_template {
            true => format!(
                "take a cutter whose \"length\" is {needed} or more, or rout twice: then with the template off and a bearing on the edge just cut"
            ),
            false => {
                "take a longer cutter, or rout twice: then with the template off and the bearing on the edge just cut"
                    .to_owned()
            }
        },
    )
}

fn bevelled(what: &Bevelled, bevel: String, left: String) -> Said {
    match what {
        Bevelled::Edge(cut, board, side) => Said::new(
            format!(
                "the {cut} of the {board} is bevelled {bevel}, and a straight cutter leaves it square: {left} must still come off the {side} side"
            ),
            "rout it to this line, which is the longer side's, and plane the bevel, or saw it to its setting in the \
             schedule and make no template",
        ),
        Bevelled::AllRound(cuts) => Said::new(
            format!(
                "this template follows the face side all round, and a straight cutter cuts square to it: bevelled are {}",
                cuts.join(", ")
            ),
            "leave these long and saw them to the schedule after routing, or take a \"blank\" for the other edges",
        ),
    }
}

fn no_screws(held: &Held, cures: &[ScrewRoom], notation: &Notation) -> Said {
    let size = |name: &str, size: &Length| format!("\"{name}\" {}", notation.at_least(*size));
    let said: Vec<String> = cures
        .iter()
        .map(|cure| match cure {
            ScrewRoom::RunOn(run_on) => size("run_on", run_on),
            ScrewRoom::Hold(hold) => size("hold", hold),
            ScrewRoom::Clear(clear) => size("clear", clear),
            ScrewRoom::Both(run_on, hold) => format!("{} and {}", size("run_on", run_on), size("hold", hold)),
        })
        .collect();
    let bare = held.bare_words().unwrap_or_default();
    let (message, hold) = match held.screws {
        0 => (
            "no screw has room clear of the cutter on this template".to_owned(),
            "hold the template at two places at least, with tape or toggle clamps",
        ),
        1 => (
            format!(
                "one screw alone holds this template, and it swings round it: {bare} none has room clear of the cutter"
            ),
            "hold that end too, with tape or a toggle clamp",
        ),
        _ => (
            format!("{bare} no screw of this template has room clear of the cutter"),
            "hold that end with tape or a toggle clamp",
        ),
    };
    Said::new(
        message,
        match said.as_slice() {
            [] => format!("{hold}, or take a template of another edge"),
            said => format!("make {}, or {hold}", said.join(", or ")),
        },
    )
}

fn saw_line(
    is_opening: bool,
    place: String,
    [distance, largest]: [Length; 2],
    places: usize,
    notation: &Notation,
) -> Said {
    let what = if is_opening { "the opening" } else { "the narrow place" };
    let more = match places {
        0 | 1 => String::new(),
        count => format!(" and {} more", count - 1),
    };
    Said::new(
        format!(
            "the saw line leaves out {what} at {place}{more}: it has no room there {} from both sides",
            notation.measured(distance)
        ),
        match largest > Length::ZERO {
            true => {
                format!("make \"distance\" {} or less, or cut that place by itself", notation.at_most(largest))
            }
            false => "cut that place by itself".to_owned(),
        },
    )
}

impl Words for TemplateProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let n = notation;
        match self {
            TemplateProblem::NoTemplate { why } => no_template(*why),
            TemplateProblem::CannotCheck { why } => cannot_check(*why),
            TemplateProblem::ToolDoesNotFit {
                tool,
                at: how,
                across,
                depth,
                x,
                y,
                drawn,
                largest,
                largest_for_all,
                cure,
            } => Said::new(
                unreached(tool, *how, *across, (*depth, at([*x, *y], drawn, n)), n),
                tool_cure(*cure, [*largest, *largest_for_all], n),
            ),
            TemplateProblem::MorePlaces { more } => Said::new(
                format!("{more} more places, none as deep, are left; all are drawn on the pattern"),
                "cure the deepest first",
            ),
            TemplateProblem::RoundedOff { corners: count, radius, depth, x, y, drawn } => {
                let ((what, which), depth) = (corners(*count), n.at_least(*depth));
                let place = at([*x, *y], drawn, n);
                Said::new(
                    format!("{what} will be rounded off as the collar turns there, by {depth}{which} at {place}"),
                    format!(
                        "draw a \"corner_radius\" of {} or more, or stop short of the corner and saw it",
                        n.at_least(*radius)
                    ),
                )
            }
            TemplateProblem::LeftRound { cutter, corners: count, depth, x, y, drawn } => {
                let ((what, which), depth) = (corners(*count), n.at_least(*depth));
                let place = at([*x, *y], drawn, n);
                let message = match cutter {
                    Some(name) => format!(
                        "the cutter \"{name}\" cannot reach into {what} without a radius, by {depth}{which} at {place}"
                    ),
                    None => format!(
                        "{what} without a radius cannot be reached by the round cutter, by {depth}{which} at {place}"
                    ),
                };
                Said::new(message, "square it with a chisel, or draw it with the cutter's radius")
            }
            TemplateProblem::BearingDiffers { cutter, by, wanted, .. } => bearing_differs(cutter, *by, *wanted, n),
            TemplateProblem::NoBearing { cutter, diameter } => Said::new(
                format!("the cutter \"{cutter}\" has no bearing to follow this template with"),
                format!(
                    "give its \"bearing\" in the shop, for example {}, or take a \"collar\" template",
                    n.measured(*diameter)
                ),
            ),
            TemplateProblem::HoleToDrill { cutter, holes, diameter } => {
                let diameter = n.measured(*diameter);
                let what = match holes {
                    1 => format!("the hole of {diameter}"),
                    count => format!("{count} holes, the smallest of {diameter}"),
                };
                Said::new(format!("the cutter \"{cutter}\" does not enter {what}"), "drill it")
            }
            TemplateProblem::CutterShort { cutter, cuts, part, on_template, needed, .. } => {
                cutter_short(cutter, [*cuts, *part, *needed], *on_template, n)
            }
            TemplateProblem::CutterNoReach { cutter, reach, part, needed, .. } => Said::new(
                format!(
                    "the cutter \"{cutter}\" stands out {} below the router at most; this part of {} and its template need {}",
                    n.measured(*reach),
                    n.measured(*part),
                    n.at_least(*needed)
                ),
                format!("take a cutter whose \"reach\" is {} or more, or a thinner template", n.at_least(*needed)),
            ),
            TemplateProblem::CollarProud { collar, projection, thickness } => Said::new(
                format!(
                    "the collar \"{collar}\" stands out {} below the router, and its template is {} thick: the collar would ride on the work",
                    n.measured(*projection),
                    n.measured(*thickness)
                ),
                format!("make the template more than {} thick, or file the collar down", n.measured(*projection)),
            ),
            TemplateProblem::InlayLoses { places, outside, inside, depth, x, y, drawn } => Said::new(
                format!(
                    "the inlay loses its shape in {}, by {} at most, at {}",
                    counted(*places),
                    n.at_least(*depth),
                    at([*x, *y], drawn, n)
                ),
                format!(
                    "draw outside corners with a radius of {} or more and inside corners with {} or more, or cut them by hand",
                    n.at_least(*outside),
                    n.at_least(*inside)
                ),
            ),
            TemplateProblem::PlugToEase { places, depth, x, y, drawn } => Said::new(
                format!(
                    "the plug is too large for its recess in {}, by {} at most, at {}",
                    counted(*places),
                    n.at_least(*depth),
                    at([*x, *y], drawn, n)
                ),
                "ease the plug's corners there, or square those of the recess with a chisel",
            ),
            TemplateProblem::InlayGap { gap } => Said::new(
                match *gap > Length::ZERO {
                    true => format!("the plug is {} smaller than the recess all round", n.at_least(*gap)),
                    false => format!(
                        "the plug is {} larger than the recess all round: it does not go in",
                        n.at_least(-*gap)
                    ),
                },
                "the large collar less the small one should be twice the cutter",
            ),
            TemplateProblem::Bevelled { what, bevel, left } => bevelled(
                what,
                bevel.map(|bevel| n.angle(bevel)).unwrap_or_default(),
                left.map(|left| n.at_least(left)).unwrap_or_default(),
            ),
            TemplateProblem::NoScrews { held, cures } => no_screws(held, cures, n),
            TemplateProblem::RunOnInPart { depth, both } => Said::new(
                format!(
                    "the part goes on past {} of the edge that this template carries, and the template runs on straight there: a cutter that follows it to its end takes up to {} off the part",
                    if *both { "either end" } else { "one end" },
                    n.length(*depth)
                ),
                "stop the cutter at the end of the edge, or take a template that goes all round (\"kind\": \"collar\")",
            ),
            TemplateProblem::LooseIsland { size: [width, height], pieces, .. } => {
                let (what, size) = match pieces {
                    1 => ("the piece in the middle of this template falls out".to_owned(), "it is"),
                    count => (format!("{count} pieces in the middle of this template fall out"), "the largest is"),
                };
                Said::new(
                    format!("{what}: {size} {} x {}", n.length(*width), n.length(*height)),
                    "keep what falls out and fix it to the base in its place before routing",
                )
            }
            TemplateProblem::FallsApart { pieces: 1, most, .. } => Said::new(
                "this template is broken through between an opening and an edge, and guides nothing there",
                closer_collar(*most, n),
            ),
            TemplateProblem::FallsApart { pieces, size: [width, height], most } => {
                let size = format!("{} x {}", n.length(*width), n.length(*height));
                let message =
                    format!("this template falls into {pieces} pieces, the smallest {size}, and guides nothing");
                Said::new(message, closer_collar(*most, n))
            }
            TemplateProblem::Vanishes { across, most } => Said::new(
                format!(
                    "no template is left where the part is {} wide or less: the collar stands off half of that on either side",
                    n.length(*across)
                ),
                closer_collar(*most, n),
            ),
            TemplateProblem::ThinTemplate { least, most } => Said::new(
                format!(
                    "this template has places narrower than {}, which bend or break under the collar",
                    n.length(*least)
                ),
                closer_collar(*most, n),
            ),
            TemplateProblem::SawLineLeftOut { is_opening, at: spot, drawn, distance, places, largest } => {
                saw_line(*is_opening, at(*spot, drawn, n), [*distance, *largest], *places, n)
            }
        }
    }
}

fn no_profile(why: &ProfileFault, notation: &Notation) -> Said {
    match why {
        ProfileFault::TooDeep(by) => Said::new(
            format!("this profile is {} deeper than the part is thick", notation.at_least(Length::from_mm(*by))),
            "make it shallower, or the part thicker",
        ),
        ProfileFault::ArcTooDeep => Said::new(
            "an arc deeper than it is wide would undercut the face",
            "make it wider or shallower, or take the ellipse",
        ),
        ProfileFault::NoSize => Said::new("a size of this profile is not larger than 0", "give a larger size"),
        ProfileFault::NotAcross => Said::new(
            "this profile does not run from the face to the edge or the far side",
            "begin on the face (up 0), end on the edge (in 0) or the far side, and cross nothing between",
        ),
    }
}

fn profiles_meet(how: &ProfilesMeet, other: &str, [over, deepest]: [Option<Length>; 2], notation: &Notation) -> Said {
    let side = match how {
        ProfilesMeet::OnFace => "face",
        ProfilesMeet::OnFarSide => "far side",
        ProfilesMeet::TooDeep([own, before, thickness]) => {
            let [over, most] = [over, deepest].map(|length| length.unwrap_or(Length::ZERO));
            return Said::new(
                format!(
                    "this profile takes {} of the edge and the one at {other} {}: {} more than the part of {} has",
                    notation.length(*own),
                    notation.length(*before),
                    notation.at_least(over),
                    notation.measured(*thickness)
                ),
                format!("make this one {} deep or less, or leave one of them out", notation.at_most(most)),
            );
        }
    };
    Said::new(
        format!("this edge has two profiles on its {side}: the other is at {other}"),
        "leave one of them out, or draw both as one \"profile\"; \"edge_profile\" runs along every edge",
    )
}

impl Words for EdgeProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let n = notation;
        let unfair = |message: String| {
            Said::new(
                message,
                "if it is not meant, move the points beside it or use fewer; \"comb\": true draws how the curve bends",
            )
        };
        match self {
            EdgeProblem::Flat { length, x, y } => unfair(format!(
                "the batten runs nearly straight for {} about {}",
                n.length(*length),
                at([*x, *y], &None, n)
            )),
            EdgeProblem::Bump { length, x, y } => unfair(format!(
                "the batten bends sharply over {} about {}",
                n.length(*length),
                at([*x, *y], &None, n)
            )),
            EdgeProblem::Turns { x, y, .. } => unfair(format!(
                "the batten turns from hollow to round at {}, which its points do not call for",
                at([*x, *y], &None, n)
            )),
            EdgeProblem::NoProfile { why } => no_profile(why, n),
            EdgeProblem::TooWide { meets, most, reaches_in, room } => {
                let meets = match meets {
                    InTheWay::Hole => "an opening or a hole is in its way",
                    InTheWay::Itself => "it meets itself from the edge across",
                    InTheWay::End => "the part ends",
                };
                Said::new(
                    format!(
                        "this profile reaches {} in from the edge, and {meets} at {}",
                        n.length(*reaches_in),
                        n.length(*room)
                    ),
                    format!("make it {} wide or less, or leave more wood there", n.at_most(*most)),
                )
            }
            EdgeProblem::KnifeEdge { nothing, least, left, deepest } => {
                let left = if *nothing { "nothing".to_owned() } else { n.length(*left) };
                Said::new(
                    format!("{left} is left of the square edge: it comes out as sharp as a knife and breaks away"),
                    format!("make it {} deep or less, which leaves {}", n.at_most(*deepest), n.measured(*least)),
                )
            }
            EdgeProblem::ProfilesMeet { how, other, over, deepest } => {
                profiles_meet(how, other, [*over, *deepest], n)
            }
        }
    }
}
