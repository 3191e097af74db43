//! The steps by which a part that the file draws directly is made.

use super::step::{Need, Reference, Side, Step, Use, Work};
use crate::board::Source;
use crate::model::{DrawnPattern, TemplateKind};

/// Holes and slots while the blank is square, openings while there is wood to hold, the outline, profiles.
pub(super) fn steps(drawn: &DrawnPattern, part: usize) -> Vec<Step> {
    let step = |work: Work| Step { part: Some(part), work, needs: Vec::new(), makes: Vec::new(), takes: Vec::new() };
    let need = |on: Reference, used: Use| Need { part, on, used };
    let (face, outline) = (Reference::Surface(Source::Face), Reference::Surface(Source::Edge(0)));
    let (laid, bed) = (need(face, Use::Laid), need(Reference::Side(Side::Lower), Use::Guide));
    let makes = [face, Reference::Surface(Source::Far)].into_iter().chain(Side::ALL.map(Reference::Side)).collect();
    let mut steps = vec![Step { makes, ..step(Work::Dress { glued: false, edges: Vec::new() }) }];
    if !drawn.holes.is_empty() || !drawn.slots.is_empty() {
        steps.push(Step { needs: vec![laid, bed], ..step(Work::Bore) });
    }
    if !drawn.openings.is_empty() {
        steps.push(Step { needs: vec![laid, bed], ..step(Work::Open) });
    }
    let is_cut = |kind: &TemplateKind| matches!(kind, TemplateKind::Blank(_) | TemplateKind::Collar { .. });
    let routed = drawn.routing.templates.iter().any(|template| is_cut(&template.kind));
    let takes = vec![Reference::Side(Side::Upper), Reference::Side(Side::Lower)];
    steps.push(Step { needs: vec![laid], makes: vec![outline], takes, ..step(Work::Outline { routed }) });
    if !drawn.routing.profiles.is_empty() {
        let needs = vec![need(outline, Use::Followed)];
        steps.push(Step { needs, takes: vec![outline], ..step(Work::Profile) });
    }
    steps
}
