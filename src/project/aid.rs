//! Angled aids worked out.

use super::field_problem::{FieldProblem, Missing};
use super::raw::AidText;
use super::resolve::Resolver;
use super::value::Written;
use crate::finding::{Finding, Place};
use crate::model::aid::{AidRequest, Cover, Wanted};
use crate::model::round_leg::RoundLeg;
use crate::units::{Length, Units};

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
                return resolver.refuse(Finding::of(FieldProblem::Missing { what: Missing::HoleDiameter }, place));
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
