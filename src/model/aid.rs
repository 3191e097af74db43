//! Angled aids: what is asked for; their shapes are measured on the solved piece.

use super::field::{Field, Numbers, choice, record};
use super::number::{Pointer, Slot};
use crate::finding::Place;
use crate::units::{Length, Units};

/// How much of the top's underside a template covers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cover {
    /// All of it.
    Whole,
    /// As much as the base takes.
    Middle,
}

choice!(Cover { "whole" => Cover::Whole, "middle" => Cover::Middle });

record! {
    ($) caul CaulText
    /// A caul that makes a clamp pull square where one part is glued to another that leans.
    Caul {
        from: String = "From", "the part whose end is glued.", "\"apron\"";
        into: String = "Into", "the part on which it lies and on which the clamp bears.", "\"leg\"";
        length: Option<Length> = "Length", "Of its foot, along the wedge; unless given 120 mm (4 3/4 in), or as much as rises 60 mm (2 3/8 in).", Length 20.0..=1000.0, "120";
        width: Length, usual [40.0, 1.5] = "Width", "Of the caul; 40 mm (1 1/2 in) unless given.", Length 5.0..=500.0, "40";
        toe: Length, usual [12.0, 0.5] = "Toe", "Thickness of its thin end; 12 mm (1/2 in) unless given.", Length 1.0..=200.0, "12";
    }
}

record! {
    ($) wedges WedgesText
    /// Wedges that hold a part so that a square blade or cutter makes a cut that is not square.
    Wedges {
        part: String = "Part", "the part that is cut.", "\"apron\"";
        cut: Option<String> = "Cut", "The end or edge that is cut; every one that is not square unless given.", "\"left end\"";
        length: Length, usual [300.0, 12.0] = "Length", "Of each wedge; 300 mm (12 in) unless given.", Length 50.0..=2000.0, "300";
        toe: Length, usual [3.0, 0.125] = "Toe", "Thickness of its thin end; 3 mm (1/8 in) unless given.", Length 0.5..=100.0, "3";
    }
}

record! {
    ($) block BlockText
    /// A block that sits on a sawn end or a face and holds the cutter along a joint's mortise.
    Block {
        joint: String = "Joint", "the joint, by its name under \"joints\".", "\"apron to leg\"";
        part: Option<String> = "Part", "The part that is mortised; both unless given.", "\"leg\"";
        height: Length, usual [40.0, 1.5] = "Height", "Of the block along the cutter; 40 mm (1 1/2 in) unless given.", Length 10.0..=300.0, "40";
        margin: Length, usual [20.0, 0.75] = "Margin", "Of the block around the mouths; 20 mm (3/4 in) unless given.", Length 5.0..=300.0, "20";
    }
}

record! {
    ($) sightline SightlineText
    /// What drills the leaning legs' holes into the underside of the top: centres, sightlines, a gauge and a block.
    Sightline {
        part: String, usual (Sightline::usual_part) = "Part", "The part whose heads stand under the top; \"leg\" unless given.", "\"leg\"";
        diameter: Option<Length> = "Diameter", "Of the hole; that of a turned leg's tenon unless given.", Length 3.0..=200.0, "25";
        height: Length, usual [60.0, 2.5] = "Height", "Of the block along the drill; 60 mm (2 1/2 in) unless given.", Length 10.0..=300.0, "60";
    }
}

record! {
    ($) top_template TopTemplateText
    /// A template for the underside of the top that centres the base on it.
    TopTemplate {
        cover: Cover, or Cover::Middle = "Cover", "\"whole\": all of the underside; \"middle\" (unless given): as much as the base takes, with centre lines.", "\"middle\"";
        hole: Length, usual [5.0, 0.1875] = "Hole", "Diameter of the fasteners' holes; 5 mm (3/16 in) unless given.", Length 1.0..=50.0, "5";
        spacing: Length, usual [300.0, 12.0] = "Spacing", "The most from one fastener to the next along a part; 300 mm (12 in) unless given.", Length 30.0..=2000.0, "300";
        parts: Option<Vec<String>> = "Parts", "The parts that take fasteners; all that lie under the top unless given.", "[\"top_rail\", \"apron\"]";
    }
}

impl Sightline {
    /// The part whose heads stand under the top unless the file says otherwise.
    pub fn usual_part(_: Units) -> String {
        "leg".to_owned()
    }
}

/// What an aid is for.
#[derive(Debug, Clone, PartialEq)]
pub enum Wanted {
    /// A wedge under a clamp's jaw.
    Caul(Caul),
    /// Wedges for the saw or the planing sled.
    Wedges(Wedges),
    /// A guide for the cutter along a mortise.
    Block(Block),
    /// What drills leaning legs into a top, with the diameter of the hole.
    Sightline(Sightline, Length),
    /// What centres the base on the top.
    Template(TopTemplate),
}

impl Numbers for Wanted {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            Wanted::Caul(caul) => caul.each(fields, object, visit),
            Wanted::Wedges(wedges) => wedges.each(fields, object, visit),
            Wanted::Block(block) => block.each(fields, object, visit),
            Wanted::Sightline(sightline, diameter) => {
                sightline.each(fields, object, visit);
                *diameter = sightline.diameter.unwrap_or(*diameter);
            }
            Wanted::Template(template) => template.each(fields, object, visit),
        }
    }
}

/// An aid asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct AidRequest {
    /// Its name.
    pub name: String,
    /// Where it stands in the file.
    pub place: Place,
    /// What it is for.
    pub wanted: Wanted,
}
