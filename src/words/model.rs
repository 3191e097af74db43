//! Words for what more than one module finds.

use super::did_you_mean;
use crate::finding::{Cures, Names, Said, Words};
use crate::model::EdgeChoice;
use crate::model::problem::{Direction, NotTurned, PartFor, Problem, RoundedCorner};
use crate::units::{Length, Notation};

fn unknown_part(name: &str, near: &Option<String>, known: &[String], wanted: PartFor) -> Said {
    let known = known.join(", ");
    let (known, message) = match wanted {
        PartFor::Joint => (format!("the parts are {known}"), format!("the piece has no part \"{name}\"")),
        PartFor::Routing => (format!("its parts are {known}"), format!("the piece has no part \"{name}\"")),
        PartFor::RoutingAlone => (
            "add a \"base\" or a \"top\"; what is routed by a part under \"patterns\" is written there".to_owned(),
            format!("there is no piece with a part \"{name}\""),
        ),
    };
    Said::new(message, did_you_mean(near).unwrap_or(known))
}

fn turned_leg(what: &NotTurned) -> Said {
    let takes_no = |what: &str| {
        Said::new(
            format!("a turned leg takes no {what}"),
            "leave it out, or give the leg \"width\" and \"thickness\" instead of \"round\"",
        )
    };
    match what {
        NotTurned::Taper => takes_no("a taper; give \"foot\" under \"round\""),
        NotTurned::Width => takes_no("a width beside its diameter"),
        NotTurned::Thickness => takes_no("a thickness beside its diameter"),
        NotTurned::Aprons => takes_no("aprons, whose ends want a flat face"),
        NotTurned::EndAprons => takes_no("end aprons, whose ends want a flat face"),
        NotTurned::Stretchers => takes_no("stretchers, whose ends want a flat face"),
        NotTurned::Wedges(part) => Said::new(
            format!("the {part} is turned: it has no face to lie on a wedge and no edge for the fence"),
            "leave the aid out; glue the legs in, stand the piece level and scribe and saw the feet to the floor",
        ),
    }
}

fn unknown_edge(choice: &EdgeChoice, Names { near, all }: &Names, of: usize) -> Said {
    let message = match choice {
        EdgeChoice::Corner(number) => format!("no edge of this outline arrives at a corner {number}"),
        EdgeChoice::Name(name) => format!("no edge of this outline is named \"{name}\""),
    };
    let remedy = match near {
        Some(near) => format!("did you mean \"{near}\"?"),
        None if of == 0 => {
            "draw the outline corner by corner: a whole shape has no edges to follow by themselves".to_owned()
        }
        None if all.len() == of => format!("its edges are {}", all.join(", ")),
        None if !all.is_empty() => format!(
            "named are {}; the others go by the number of the corner at which they arrive, counted from 1",
            all.join(", ")
        ),
        None => "give the edge a \"name\" where its corner is written, or the number of that corner, counted from 1"
            .to_owned(),
    };
    Said::new(message, remedy)
}

impl Words for Problem {
    fn say(&self, notation: &Notation, cures: &Cures) -> Said {
        match self {
            Problem::UnknownPart { name, near, known, wanted } => unknown_part(name, near, known, *wanted),
            Problem::UnknownEdge { choice, named, of } => unknown_edge(choice, &named.0, of.0),
            Problem::TurnedLeg { what } => turned_leg(what),
            Problem::NoDirection { of: Direction::Normal } => {
                Said::new("the normal has no direction", "give three numbers that are not all nothing")
            }
            Problem::NoDirection { of: Direction::Vector } => {
                Said::new("three numbers that are all nothing point nowhere", "give for example [1, 0, 0]")
            }
            Problem::NoDirection { of: Direction::EdgeEnd } => Said::new(
                "this edge runs on from a neighbour that itself runs on from its own neighbours",
                "make the edge beside it straight, an arc or a batten",
            ),
            Problem::CornerRadius { at: RoundedCorner::NotAboveZero, .. } => {
                Said::new("a corner radius is larger than 0", "give a radius, or leave it out for a sharp corner")
            }
            Problem::CornerRadius { at: RoundedCorner::Top, radius, .. } => {
                let radius = notation.length(radius.unwrap_or(Length::ZERO));
                let own = Said::new(
                    format!("a corner radius of {radius} does not fit between the top's edges"),
                    "make it smaller, or the edges less curved",
                );
                super::piece::cured(own, cures, notation)
            }
        }
    }
}
