//! What rule and bevel gauge read on a piece that stands together dry.

use super::field::{Field, Numbers, choice, record};
use super::number::{Pointer, Slot};
use crate::units::{Angle, Length};

record! {
    ($) as_built AsBuiltText
    /// What was measured on the dry assembly of leaning frames, heads level: as-built finds from it how the frames really stand, and solves the parts that are still to be made for that.
    AsBuilt {
        rule: Length, usual [0.5, 0.015625] = "Rule", "How closely lengths were read: of three readings two are no farther off than this; 0.5 mm (1/64 in) unless given.", Length 0.05..=10.0, "0.5";
        rod: Length, usual [0.2, 0.0078125] = "Rod", "The same of lengths that a pinch rod took off the work; 0.2 mm (1/128 in) unless given.", Length 0.01..=10.0, "0.2";
        gauge: Angle, or AsBuilt::USUAL_GAUGE = "Gauge", "The same of angles; 0.2 degrees unless given.", Angle 0.01..=5.0, "0.2";
        distances: Vec<(String, Length)> = "Distances", "From point to point, by the letters of the assembly sheet: \"A-C\", \"A-B'\". A pair that was read twice stands as \"A-C\" and as \"C-A\".", Length 1.0..=20000.0, "{ \"A-C\": 1879.5, \"A-B'\": 1690 }";
        between_rails: Option<Vec<BetweenRails>> = "Between the rails", "From the inside face of one bottom rail to that of the other.", "[{ \"reads\": 1510.4 }]";
        leans: Option<BothFrames> = "Leans", "Of the frames from plumb, heads towards the middle.", "{ \"left\": 7.6 }";
        splays: Option<BothFrames> = "Splays", "Of the frames' legs, as the file's splay is measured.", "{ \"left\": 11.8 }";
        gaps: Vec<(String, Length)> = "Gaps", "Under each foot, with the heads level: 0 where it stands on the floor.", Length 0.0..=500.0, "{ \"A\": 0, \"B\": 1.5, \"C\": 0, \"D\": 0 }";
    }
}

impl AsBuilt {
    /// How closely a bevel gauge is read unless the file says otherwise (common practice, no source).
    pub const USUAL_GAUGE: Angle = Angle::from_degrees(0.2);
}

/// What took a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Instrument {
    /// A rule or a tape.
    Rule,
    /// A pinch rod.
    Rod,
}

choice!(Instrument { "rule" => Instrument::Rule, "rod" => Instrument::Rod });

record! {
    ($) between_rails BetweenRailsText
    /// A length between the bottom rails, square to neither: from a point on the inside face of the one to the same point on the other.
    #[derive(Copy)]
    BetweenRails {
        reads: Length = "Reads", "what was read.", Length 1.0..=20000.0, "1510.4";
        up: Option<Length> = "Up", "How far up the rails' inside faces from their lower arris, on the centre line; where the stretcher's lower edge lands unless given.", Length -500.0..=2000.0, "8";
        off_centre: Length, or Length::ZERO = "Off centre", "How far from the centre line towards the back; 0 unless given.", Length -5000.0..=5000.0, "20";
        mitres: Option<BothFrames> = "Mitres", "How far off square each rail's face stands to the rod or the rule, up the face: above zero where a part between them is shorter above. Left and right are the frames, not the ends of the part.", "{ \"left\": 7.9, \"right\": 8.2 }";
        bevels: Option<BothFrames> = "Bevels", "The same across the face, by frame: above zero where a part between them is longer at the back.", "{ \"left\": 0.3 }";
        with: Instrument, or Instrument::Rule = "With", "\"rule\" (unless given) or \"rod\": what took it.", "\"rod\"";
    }
}

record! {
    ($) both_frames BothFramesText
    /// An angle of each frame.
    #[derive(Copy)]
    BothFrames {
        left: Option<Angle> = "Left", "Of the left frame.", Angle -90.0..=90.0, "7.6";
        right: Option<Angle> = "Right", "Of the right frame.", Angle -90.0..=90.0, "8.1";
    }
}

impl Numbers for Vec<BetweenRails> {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        let list = object.inside(fields);
        for (index, reading) in self.iter_mut().enumerate() {
            reading.each(&[], &list.entry(index), visit);
        }
    }
}
