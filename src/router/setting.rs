//! How the router is set for a template: collars, cutter, offset, and what the cutter must cut and reach.

use super::caution::Caution;
use super::held::Held;
use super::passes::Passes;
use super::problem::TemplateProblem;
use super::routed::{RoutedTemplate, TemplateShape};
use crate::finding::Finding;
use crate::model::{CollarTool, CutterTool, DrawnPattern, TemplateKind, Work};
use crate::tolerance::TOOL_STEP;
use crate::units::Length;

/// How far a cutter is to pass its part (common practice, no source).
pub const PAST: Length = Length::from_mm(2.0);

/// How much less deep the recess is than the inlay is thick: what stands proud is planed off (common practice, no source).
const PROUD: Length = Length::from_mm(0.5);

/// Of an inlay thinner than four times that, this share of its thickness.
const PROUD_SHARE: f64 = 0.25;

/// How the router is set for one template.
#[derive(Debug, Clone, PartialEq)]
pub struct TemplateSetting {
    /// What the part is called.
    pub part: String,
    /// What the template is called: `collar template`.
    pub template: String,
    /// The collars that follow it: of an inlay the large one, with its sleeve on, first.
    pub collars: Vec<CollarTool>,
    /// The cutter; a saw line has none.
    pub cutter: Option<CutterTool>,
    /// From the finished line to the template's edge, mm (references 7.collar_offset); 0 under a bearing.
    pub offset: Option<f64>,
    /// Of an inlay: by how much the sleeve makes the collar larger, mm in diameter; twice the cutter where the plug fits.
    pub sleeve: Option<f64>,
    /// Thickness of the template's board, where it is given.
    pub thickness: Option<Length>,
    /// What the cutter must cut in one setting: the part, and what passes it. None of a saw line.
    pub must_cut: Option<Length>,
    /// Of an inlay: how deep the recess is, a little less than the inlay is thick; the plug is cut through.
    pub recess: Option<Length>,
    /// How the cut is taken, the deepest where there are two.
    pub passes: Option<Passes>,
    /// How the recess of an inlay is taken.
    pub recess_passes: Option<Passes>,
    /// How far it must stand out below the router: that and the template, where its thickness is given.
    pub must_reach: Option<Length>,
    /// What holds it, where it is screwed down.
    pub held: Option<Held>,
    /// What to mind.
    pub cautions: Vec<Caution>,
}

impl TemplateSetting {
    /// The setting for a template of a part.
    pub fn new(drawn: &DrawnPattern, made: &RoutedTemplate) -> TemplateSetting {
        let (collars, cutter) = match &made.asked.kind {
            TemplateKind::Collar { collar, cutter, .. } => (vec![collar.clone()], Some(cutter.clone())),
            TemplateKind::Inlay { large, small, cutter } => {
                (vec![large.clone(), small.clone()], Some(cutter.clone()))
            }
            TemplateKind::SawLine { .. } => (Vec::new(), None),
            TemplateKind::Blank(blank) => (Vec::new(), blank.cutter.clone()),
        };
        let (offset, sleeve) = match (&made.shape, &made.asked.kind) {
            (TemplateShape::Collar(template), _) => (Some(template.offset), None),
            (TemplateShape::Inlay(_), TemplateKind::Inlay { large, small, cutter }) => {
                let (large, small) = (large.collar.diameter.mm(), small.collar.diameter.mm());
                (Some((large - cutter.cutter.diameter.mm()) / 2.0), Some(large - small))
            }
            (TemplateShape::SawLine(_), TemplateKind::SawLine { distance }) => (Some(distance.mm()), None),
            _ => (Some(0.0), None),
        };
        let routed = !matches!(made.asked.kind, TemplateKind::SawLine { .. });
        let must_cut = routed.then(|| drawn.thickness + PAST);
        let inlay = matches!(made.asked.kind, TemplateKind::Inlay { .. });
        let recess = inlay.then(|| drawn.thickness - proud(drawn.thickness));
        let tool = cutter.as_ref().map(|tool: &CutterTool| tool.cutter);
        let outside = match &made.asked.kind {
            TemplateKind::Collar { work, .. } => *work == Work::Outside,
            TemplateKind::Inlay { .. } => false,
            TemplateKind::SawLine { .. } | TemplateKind::Blank(_) => true,
        };
        // Only along a blank it is the bearing that follows the template.
        let followed = made.asked.thickness.filter(|_| matches!(made.asked.kind, TemplateKind::Blank(_)));
        let taken = |cut: Length| {
            let passes = |cutter| match outside {
                true => Passes::outside(cut, &cutter, followed),
                false => Passes::inside(cut, &cutter),
            };
            tool.map(passes)
        };
        TemplateSetting {
            part: drawn.name.clone(),
            template: made.name.clone(),
            collars,
            cutter,
            offset,
            sleeve,
            thickness: made.asked.thickness,
            must_cut,
            recess,
            passes: must_cut.and_then(taken),
            recess_passes: recess.and_then(taken),
            must_reach: must_cut.zip(made.asked.thickness).map(|(cut, template)| cut + template),
            held: match (&made.shape, &made.asked.kind) {
                (TemplateShape::Blank(blank), TemplateKind::Blank(wanted)) => Some(Held::of(drawn, wanted, blank)),
                _ => None,
            },
            cautions: made.cautions.clone(),
        }
    }

    /// How deep the cutter cuts where that is less than it must, with what it must; `None` also where it is not known.
    pub fn cuts_only(&self) -> Option<(Length, Length)> {
        self.cutter.as_ref()?.cutter.length.zip(self.must_cut).filter(|(has, needs)| has < needs)
    }

    /// How far the cutter stands out where that is less than it must, with what it must; `None` also where it is not known.
    pub fn stands_out_only(&self) -> Option<(Length, Length)> {
        self.cutter.as_ref()?.cutter.reach.zip(self.must_reach).filter(|(has, needs)| has < needs)
    }

    /// How much thicker the template is than the collar stands out that does so most, mm: it must be above 0
    /// (references 7.template_thickness). `None` where one of the two is not known.
    pub fn above_collar(&self) -> Option<f64> {
        let most = self.collars.iter().filter_map(|tool| tool.collar.projection).map(Length::mm).reduce(f64::max)?;
        Some(self.thickness?.mm() - most)
    }
}

/// By how much an inlay stands proud of its ground.
fn proud(thickness: Length) -> Length {
    let share = thickness * PROUD_SHARE;
    if share < PROUD { share } else { PROUD }
}

/// What does not go together in the setting for a template.
pub(super) fn findings(drawn: &DrawnPattern, made: &RoutedTemplate) -> Vec<Finding> {
    let setting = TemplateSetting::new(drawn, made);
    let Some(tool) = &setting.cutter else { return Vec::new() };
    let (cutter, part) = (|| tool.name.clone(), drawn.thickness);
    let short = setting.cuts_only().map(|(cuts, needed)| {
        let short_by = needed - cuts;
        TemplateProblem::CutterShort { cutter: cutter(), cuts, part, on_template: true, needed, short_by }
    });
    let near = setting.stands_out_only().map(|(reach, needed)| {
        let short_by = needed - reach;
        TemplateProblem::CutterNoReach { cutter: cutter(), reach, part, needed, short_by }
    });
    let bearing = matches!(made.asked.kind, TemplateKind::Blank(_)).then(|| bearing(tool)).flatten();
    let place = made.asked.place.child("cutter");
    let all = [short, near, bearing].into_iter().flatten();
    all.map(|problem| Finding::of(problem, place.clone())).collect()
}

/// That a cutter that is to follow a template has no bearing, or one of another diameter.
fn bearing(tool: &CutterTool) -> Option<TemplateProblem> {
    let (cutter, diameter) = (tool.name.clone(), tool.cutter.diameter);
    let Some(bearing) = tool.cutter.bearing else { return Some(TemplateProblem::NoBearing { cutter, diameter }) };
    let step = (bearing - diameter).mm() / 2.0;
    let by = Length::from_mm(step);
    (2.0 * step.abs() > TOOL_STEP).then_some(TemplateProblem::BearingDiffers {
        cutter,
        by,
        wanted: Some(diameter),
        step: Some(by),
    })
}
