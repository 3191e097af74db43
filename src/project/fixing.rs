//! What holds a top flat and to its base, worked out.

use super::raw::{BreadboardText, FastenersText};
use super::resolve::Resolver;
use crate::model::fixing::{Breadboard, Fasteners};
use crate::units::Length;

/// Diameter of a screw's hole unless given.
const USUAL_SCREW: Length = Length::from_mm(5.0);

/// Spacing of fasteners unless given.
const USUAL_SPACING: Length = Length::from_mm(300.0);

/// Diameter of a breadboard end's pins unless given.
const USUAL_PIN: Length = Length::from_mm(6.0);

/// Pins of a breadboard end unless given.
const USUAL_PINS: u32 = 3;

/// Works the fasteners out.
pub fn fasteners(written: &FastenersText, resolver: &mut Resolver) -> Option<Fasteners> {
    match written {
        FastenersText::Words(words) => Some(Fasteners::Words(words.clone())),
        FastenersText::Made(made) => {
            let screw = resolver.optional_length(made.screw.as_ref());
            let spacing = resolver.optional_length(made.spacing.as_ref());
            Some(Fasteners::Made {
                by: made.by,
                screw: screw?.unwrap_or(USUAL_SCREW),
                spacing: spacing?.unwrap_or(USUAL_SPACING),
            })
        }
    }
}

/// Works the breadboard ends out.
pub fn breadboard(written: &BreadboardText, resolver: &mut Resolver) -> Option<Breadboard> {
    let width = resolver.length(&written.width);
    let tongue = resolver.optional_length(written.tongue.as_ref());
    let depth = resolver.optional_length(written.depth.as_ref());
    let pin = resolver.optional_length(written.pin.as_ref());
    let width = width?;
    Some(Breadboard {
        width,
        tongue: tongue?,
        depth: depth?.unwrap_or(width * (1.0 / 3.0)),
        pin: pin?.unwrap_or(USUAL_PIN),
        pins: written.pins.unwrap_or(USUAL_PINS),
        glue: written.glue.unwrap_or_default(),
        outer_pins: written.outer_pins.unwrap_or_default(),
    })
}
