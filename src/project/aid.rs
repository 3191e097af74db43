//! Angled aids as meant: what is asked for; their shapes are measured on the solved piece.

use super::raw::AidText;
use super::resolve::Resolver;
use super::round_leg::RoundLeg;
use super::value::Written;
use crate::finding::{Finding, Place};
use crate::units::{Length, Units};

/// How much of the top's underside a template covers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cover {
    /// All of it.
    Whole,
    /// As much as the base takes.
    Middle,
}

/// What an aid is for.
#[derive(Debug, Clone, PartialEq)]
pub enum Wanted {
    /// A wedge under a clamp's jaw.
    Caul {
        /// The part whose end is glued.
        from: String,
        /// The part that the clamp bears on.
        into: String,
        /// Of its foot, along the wedge; where not given, the usual one, or what does not rise too high.
        length: Option<Length>,
        /// Its width.
        width: Length,
        /// Thickness of its thin end.
        toe: Length,
    },
    /// Wedges for the saw or the planing sled.
    Wedges {
        /// The part that is cut.
        part: String,
        /// The end or edge; every one that is not square where not given.
        cut: Option<String>,
        /// Of each wedge.
        length: Length,
        /// Thickness of its thin end.
        toe: Length,
    },
    /// A guide for the cutter along a mortise.
    Block {
        /// The joint.
        joint: String,
        /// The mortised part; both where not given.
        part: Option<String>,
        /// Along the cutter.
        height: Length,
        /// Around the mouths.
        margin: Length,
    },
    /// What drills leaning legs into a top.
    Sightline {
        /// The part whose heads stand under the top.
        part: String,
        /// Of the hole.
        diameter: Length,
        /// Of the block, along the drill.
        height: Length,
    },
    /// What centres the base on the top.
    Template {
        /// How much it covers.
        cover: Cover,
        /// Diameter of the fasteners' holes.
        hole: Length,
        /// The most from one fastener to the next.
        spacing: Length,
        /// The parts that take fasteners; all where none is given.
        parts: Vec<String>,
    },
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

/// Works an aid out; `turned` are the turned legs of the base, whose tenons its holes are for.
pub fn aid(name: &str, written: &AidText, turned: Option<RoundLeg>, resolver: &mut Resolver) -> Option<AidRequest> {
    let place = Place::pointer("/aids").child(name);
    let inches = resolver.notation.units == Units::Inch;
    // Where nothing is given, the usual size in the units that the maker thinks in: millimetres, or inches.
    let mut or = |written: &Option<Written>, usual: [f64; 2]| {
        let usual = if inches { Length::from_inches(usual[1]) } else { Length::from_mm(usual[0]) };
        resolver.optional_length(written.as_ref()).map(|given| given.unwrap_or(usual))
    };
    let wanted = match written {
        AidText::Caul(text) => {
            let (width, toe) = (or(&text.width, [40.0, 1.5]), or(&text.toe, [12.0, 0.5]));
            let length = resolver.optional_length(text.length.as_ref());
            let (from, into) = (text.from.clone(), text.into.clone());
            Wanted::Caul { from, into, length: length?, width: width?, toe: toe? }
        }
        AidText::Wedges(text) => {
            let (length, toe) = (or(&text.length, [300.0, 12.0]), or(&text.toe, [3.0, 0.125]));
            Wanted::Wedges { part: text.part.clone(), cut: text.cut.clone(), length: length?, toe: toe? }
        }
        AidText::Block(text) => {
            let (height, margin) = (or(&text.height, [40.0, 1.5]), or(&text.margin, [20.0, 0.75]));
            let (joint, part) = (text.joint.clone(), text.part.clone());
            Wanted::Block { joint, part, height: height?, margin: margin? }
        }
        AidText::Sightline(text) => {
            let height = or(&text.height, [60.0, 2.5]);
            let given = resolver.optional_length(text.diameter.as_ref())?;
            let Some(diameter) = given.or(turned.map(|leg| leg.tenon)) else {
                let message = "\"diameter\" is missing: that of the hole in the top";
                let finding = Finding::stop("field-missing", place, message);
                return resolver.refuse(finding.remedy("add \"diameter\""));
            };
            let part = text.part.clone().unwrap_or_else(|| "leg".to_owned());
            Wanted::Sightline { part, diameter, height: height? }
        }
        AidText::Template(text) => {
            let (hole, spacing) = (or(&text.hole, [5.0, 0.1875]), or(&text.spacing, [300.0, 12.0]));
            let parts = text.parts.clone().unwrap_or_default();
            Wanted::Template { cover: text.cover.unwrap_or(Cover::Middle), hole: hole?, spacing: spacing?, parts }
        }
    };
    Some(AidRequest { name: name.to_owned(), place, wanted })
}
