//! What holds a top flat and to its base.

use crate::units::Length;

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
