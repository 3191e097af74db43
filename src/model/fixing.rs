//! What holds a top flat and to its base.

use super::field::{Field, Numbers, choice, record};
use super::number::{Pointer, Slot};
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

choice!(Hold { "slots" => Hold::Slots, "buttons" => Hold::Buttons, "screws" => Hold::Screws, "glue" => Hold::Glue });

/// What holds a top to its base.
#[derive(Debug, Clone, PartialEq)]
pub enum Fasteners {
    /// In words only: nothing is drawn or checked.
    Words(String),
    /// What is drawn and checked.
    Made(MadeFasteners),
}

impl Numbers for Fasteners {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            Fasteners::Words(_) => {}
            Fasteners::Made(made) => made.each(fields, object, visit),
        }
    }
}

record! {
    ($) made_fasteners MadeFastenersText
    /// What holds the top to the base.
    #[derive(Copy)]
    MadeFasteners {
        by: Hold = "By", "\"slots\" (screws in elongated holes), \"buttons\", \"screws\" in round holes, or \"glue\".", "\"slots\"";
        screw: Length, or MadeFasteners::USUAL_SCREW = "Screw", "Diameter of the hole that a screw passes through; 5 mm unless given.", Length 1.0..=20.0, "\"5 mm\"";
        spacing: Length, or MadeFasteners::USUAL_SPACING = "Spacing", "How far apart they stand at most; 300 mm unless given.", Length 30.0..=2000.0, "\"300 mm\"";
    }
}

impl MadeFasteners {
    /// Diameter of a screw's hole unless given.
    pub const USUAL_SCREW: Length = Length::from_mm(5.0);

    /// Spacing of fasteners unless given.
    pub const USUAL_SPACING: Length = Length::from_mm(300.0);
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

choice!(Glued { "middle" => Glued::Middle, "along" => Glued::Along });

/// How the outer pins of a breadboard end pass through its tongue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum OuterPins {
    /// In elongated holes.
    #[default]
    Slotted,
    /// In round holes.
    Tight,
}

choice!(OuterPins { "slotted" => OuterPins::Slotted, "tight" => OuterPins::Tight });

record! {
    ($) breadboard BreadboardText
    /// Breadboard ends: a piece across each end of the top, on a tongue, held by pins.
    Breadboard {
        width: Length = "Width", "of each end piece, along the length of the top.", Length 10.0..=1000.0, "90";
        tongue: Option<Length> = "Tongue", "Its thickness; a third of the top's unless given.", Length 1.0..=200.0, "8";
        depth: Option<Length> = "Depth", "How far the tongue goes into the end piece; a third of its width unless given.", Length 2.0..=500.0 (Section), "25";
        pin: Length, or Breadboard::USUAL_PIN = "Pin", "Diameter of the pins; 6 mm unless given.", Length 2.0..=30.0, "6";
        pins: u32, or Breadboard::USUAL_PINS = "Pins", "How many in each end, an odd number; 3 unless given.", Number 1.0..=51.0, "3";
        glue: Glued, or Glued::Middle = "Glue", "\"middle\" (unless given): round the middle pin only; or \"along\" the whole tongue.", "\"middle\"";
        outer_pins: OuterPins, or OuterPins::Slotted = "Outer pins", "\"slotted\" (unless given): in elongated holes in the tongue; or \"tight\".", "\"slotted\"";
    }
}

impl Breadboard {
    /// Diameter of the pins unless given.
    pub const USUAL_PIN: Length = Length::from_mm(6.0);

    /// How many pins unless given.
    pub const USUAL_PINS: u32 = 3;

    /// How far the tongue goes in.
    pub fn tongue_depth(&self) -> Length {
        self.depth.unwrap_or(self.width * (1.0 / 3.0))
    }
}
