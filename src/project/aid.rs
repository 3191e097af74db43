//! Angled aids worked out.

use super::field_problem::{FieldProblem, Missing};
use super::given::Given;
use super::raw::AidText;
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::model::aid::{AidRequest, Block, Caul, Sightline, TopTemplate, Wanted, Wedges};
use crate::model::round_leg::RoundLeg;

/// Works an aid out; `turned` are the turned legs of the base, whose tenons its holes are for.
pub fn aid(name: &str, written: &AidText, turned: Option<RoundLeg>, resolver: &mut Resolver) -> Option<AidRequest> {
    let place = Place::pointer("/aids").child(name);
    let wanted = match written {
        AidText::Caul(text) => Caul::work_out(text, resolver).map(Wanted::Caul),
        AidText::Wedges(text) => Wedges::work_out(text, resolver).map(Wanted::Wedges),
        AidText::Block(text) => Block::work_out(text, resolver).map(Wanted::Block),
        AidText::Sightline(text) => {
            let given = Sightline::work_out(text, resolver)?;
            let Some(diameter) = given.diameter.or(turned.map(|leg| leg.tenon)) else {
                return resolver.refuse(Finding::of(FieldProblem::Missing { what: Missing::HoleDiameter }, place));
            };
            Some(Wanted::Sightline(given, diameter))
        }
        AidText::Template(text) => TopTemplate::work_out(text, resolver).map(Wanted::Template),
    };
    Some(AidRequest { name: name.to_owned(), place, wanted: wanted? })
}
