//! Splayed legs worked out: of rectangular section, or turned.

use super::field::{Field, Opened, Reader};
use super::field_problem::{FieldProblem, Missing};
use super::given::{Given, Member, Properties};
use super::part_problem::TextProblem;
use super::raw::{RoundLegText, SplayedLegsText};
use super::resolve::Resolver;
use super::value::Written;
use crate::finding::{Finding, Place};
use crate::model::base::Section;
use crate::model::problem::{NotTurned, Problem};
use crate::model::round_leg::{RoundLeg, place};
use serde_json::{Map, Value as Json};

/// The section of a leg as written.
#[derive(Debug, Clone)]
pub struct SectionText {
    /// Width.
    pub width: Option<Written>,
    /// Thickness.
    pub thickness: Option<Written>,
    /// How it is turned.
    pub round: Option<RoundLegText>,
}

impl Member for Section {
    type Text = SectionText;

    fn read(object: &Opened, fields: &'static [Field], reader: &mut Reader) -> Option<SectionText> {
        let [width, thickness, round] = fields else { return None };
        let (width, thickness) = (object.field(width, reader), object.field(thickness, reader));
        let round = object.field(round, reader);
        Some(SectionText { width: width?, thickness: thickness?, round: round? })
    }

    fn work_out_as(text: &SectionText, _: &'static str, resolver: &mut Resolver) -> Option<Self> {
        if let Some(text) = &text.round {
            return RoundLeg::work_out(text, resolver).filter(|leg| is_turned(leg, resolver)).map(Section::Round);
        }
        let (Some(width), Some(thickness)) = (&text.width, &text.thickness) else {
            let field = if text.width.is_none() { "width" } else { "thickness" };
            let what = Missing::LegSection(field);
            return resolver.refuse(Finding::of(FieldProblem::Missing { what }, Place::pointer("/base/leg")));
        };
        let (width, thickness) = (resolver.length(width), resolver.length(thickness));
        Some(Section::Square { width: width?, thickness: thickness? })
    }

    fn schema(fields: &'static [Field], object: &mut Properties, definitions: &mut Map<String, Json>) {
        if let [width, thickness, round] = fields {
            object.add::<Option<Written>>(width, definitions);
            object.add::<Option<Written>>(thickness, definitions);
            object.add::<Option<RoundLegText>>(round, definitions);
        }
    }
}

/// Whether foot and tenon can be turned from the leg.
fn is_turned(leg: &RoundLeg, resolver: &mut Resolver) -> bool {
    for (field, tenon, given) in [("tenon", true, leg.tenon), ("foot", false, leg.foot_diameter())] {
        if given > leg.diameter {
            let problem = TextProblem::ThickerThanLeg { tenon, given, largest: leg.diameter };
            resolver.findings.push(Finding::of(problem, place().child(field)));
            return false;
        }
    }
    true
}

/// Refuses what needs flat faces beside a leg that is turned; whether there was none.
pub fn stands_alone(written: &SplayedLegsText, resolver: &mut Resolver) -> bool {
    let SectionText { width, thickness, round } = &written.leg.section;
    if round.is_none() {
        return true;
    }
    let flat = [
        ("/base/leg/taper", written.leg.taper.is_some(), NotTurned::Taper),
        ("/base/leg/width", width.is_some(), NotTurned::Width),
        ("/base/leg/thickness", thickness.is_some(), NotTurned::Thickness),
        ("/base/apron", written.apron.is_some(), NotTurned::Aprons),
        ("/base/end_apron", written.end_apron.is_some(), NotTurned::EndAprons),
        ("/base/stretchers", written.stretchers.is_some(), NotTurned::Stretchers),
    ];
    let mut alone = true;
    for (pointer, _, what) in flat.into_iter().filter(|(_, given, _)| *given) {
        resolver.findings.push(Finding::of(Problem::TurnedLeg { what }, Place::pointer(pointer)));
        alone = false;
    }
    alone
}
