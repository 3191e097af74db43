//! What holds a top flat and to its base, as meant.

use super::raw::{BreadboardText, FastenersText};
use super::resolve::Resolver;
use crate::units::Length;

/// Diameter of a screw's hole unless given.
const USUAL_SCREW: Length = Length::from_mm(5.0);

/// Spacing of fasteners unless given.
const USUAL_SPACING: Length = Length::from_mm(300.0);

/// Diameter of a breadboard end's pins unless given.
const USUAL_PIN: Length = Length::from_mm(6.0);

/// Pins of a breadboard end unless given.
const USUAL_PINS: u32 = 3;

/// By what a top is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// Screws in holes that are longer along the movement.
    Slots,
    /// Buttons in grooves or short mortises.
    Buttons,
    /// Screws in round holes.
    Screws,
    /// Glue.
    Glue,
}

/// What holds a top to its base.
#[derive(Debug, Clone, PartialEq)]
pub enum Fasteners {
    /// In words only: nothing is drawn or checked.
    Words(String),
    /// What is drawn and checked.
    Made {
        /// By what.
        by: Hold,
        /// Diameter of the hole that a screw passes through.
        screw: Length,
        /// How far apart they stand at most.
        spacing: Length,
    },
}

/// How a breadboard end is glued.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Glued {
    /// Round the middle pin only.
    #[default]
    Middle,
    /// Along the whole tongue.
    Along,
}

/// How the outer pins of a breadboard end pass through its tongue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum OuterPins {
    /// In elongated holes.
    #[default]
    Slotted,
    /// In round holes.
    Tight,
}

/// The end pieces across a top.
#[derive(Debug, Clone, PartialEq)]
pub struct Breadboard {
    /// Width of each, along the length of the top.
    pub width: Length,
    /// Thickness of the tongue; a third of the top's where not given.
    pub tongue: Option<Length>,
    /// How far the tongue goes in.
    pub depth: Length,
    /// Diameter of the pins.
    pub pin: Length,
    /// How many pins in each end.
    pub pins: u32,
    /// Where it is glued.
    pub glue: Glued,
    /// How the outer pins pass the tongue.
    pub outer_pins: OuterPins,
}

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
