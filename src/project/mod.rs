//! The project file: as written, then worked out as a [`Project`].
//!
//! Whatever is wrong with a file is told in one go, each thing with its place in the text, and then there is no project.

mod aid;
mod as_built;
mod batten;
mod bench;
mod drawing;
mod drawing_problem;
pub mod edit;
mod example;
mod field;
mod field_problem;
mod fit;
mod fixing;
mod given;
mod halves;
mod joint;
pub mod json;
mod kind;
mod largest_rise;
mod laying;
mod letters;
mod lint;
mod made;
mod merge;
mod openings;
mod outline;
mod outline_problem;
mod part_problem;
mod patterns;
mod piece;
mod problem;
mod profile;
mod quantity_problem;
mod raw;
mod request;
mod resolve;
mod round_leg;
mod schema;
mod shop;
mod shops;
mod slip_problem;
mod sources;
mod value;
mod variant;
mod wood;

pub use drawing::{Drawings, no_drawings};
pub(crate) use drawing_problem::{DrawingProblem, LetterProblem, Unusable};
pub(crate) use field_problem::{Count, Expected, FieldProblem, Missing, OtherFile, Ranged, WhyBadName, WrongWord};
pub(crate) use outline_problem::{NoShape, OutlineProblem, SmallerRise, Spot, SquareCure, TurningPoint};
pub(crate) use part_problem::{
    Across, LaidKind, Nesting, OpeningKind, OutsideEnd, PartProblem, SeveralShapes, TenonProblem, TextProblem,
    ToolKind, TwoSizes, WallTo,
};
pub(crate) use quantity_problem::{QuantityProblem, Unreadable};
pub use schema::schema;
pub use shops::{Shops, is_shop, read_shop};
pub(crate) use slip_problem::SlipProblem;
pub(crate) use sources::character_start;
pub use sources::{Source, Sources};

use crate::finding::{Finding, Place, stops};
use crate::model::aid::AidRequest;
use crate::model::as_built::AsBuilt;
use crate::model::base::Base;
use crate::model::joint::{Joint, JointGiven};
use crate::model::made::MadePart;
use crate::model::round_leg::RoundLeg;
use crate::model::{DrawnPattern, Project};
use crate::units::{Notation, Units};
use field::{ROOT, Read, Reader};
use given::Given;
use json::Node;
use raw::ProjectText;
use resolve::Resolver;
use shops::{Laid, readings_from};

/// A project file as read.
#[derive(Debug, Clone)]
pub struct Reading {
    /// The project, unless something stops it.
    pub project: Option<Project>,
    /// Everything there is to say about the file, in the order of the text.
    pub findings: Vec<Finding>,
    /// The texts, to show the findings in.
    pub sources: Sources,
}

/// Reads a project file, with a shop file (its name and bytes) laid over the project's shop, and a variant applied.
/// Outlines that are drawings in other files are refused; see [`read_with`].
pub fn read(file_name: &str, bytes: &[u8], shop: Option<(&str, &[u8])>, variant: Option<&str>) -> Reading {
    read_with(file_name, bytes, shop, variant, &no_drawings)
}

/// As [`read`], with drawings that other files hold.
pub fn read_with(
    file_name: &str,
    bytes: &[u8],
    shop: Option<(&str, &[u8])>,
    variant: Option<&str>,
    drawings: Drawings,
) -> Reading {
    read_in(file_name, bytes, Shops { own: None, named: shop }, variant, drawings)
}

/// As [`read_with`], with a person's own shop file laid under the project's shop too.
pub fn read_in(file_name: &str, bytes: &[u8], shops: Shops, variant: Option<&str>, drawings: Drawings) -> Reading {
    let mut sources = Sources::default();
    let mut findings = Vec::new();
    let root = load(file_name, bytes, &mut sources, &mut findings);
    let [named, own] = [shops.named, shops.own]
        .map(|shop| shop.and_then(|(name, bytes)| load(name, bytes, &mut sources, &mut findings)));
    let root = root.and_then(|root| shops::refuse_shop(root, &mut findings));
    let project = root.and_then(|root| {
        let root = match variant {
            Some(variant) => variant::apply(root, variant, &mut findings),
            None => root,
        };
        let laid = shops::laid(root, named, own, &mut findings);
        let known = Known { texts: &sources.texts(), drawings };
        let (project, notation) = typed(&laid, variant, &known, &mut findings);
        let from = readings_from(&laid, &shops);
        sources.notation = notation;
        sources.uses_own_shop = laid.uses_own;
        sources.root = Some(laid.root);
        project.map(|project| Project { readings_from: from, ..project })
    });
    finished(project, findings, sources)
}

/// What was read, its findings marked and in the order of the text.
fn finished(project: Option<Project>, findings: Vec<Finding>, sources: Sources) -> Reading {
    let mut findings: Vec<Finding> = findings.into_iter().map(|finding| sources.marked(finding)).collect();
    findings.sort_by_key(|finding| finding.place.span.map(|span| (span.source, span.start)));
    let project = project.filter(|_| !stops(&findings));
    shorten(&mut findings);
    Reading { project, findings, sources }
}

/// Leaves as many findings as anybody reads, and says that there are more.
fn shorten(findings: &mut Vec<Finding>) {
    if findings.len() > json::MAX_PROBLEMS {
        findings.truncate(json::MAX_PROBLEMS);
        findings.push(Finding::of(FieldProblem::More { shown: json::MAX_PROBLEMS }, Place::default()));
    }
}

fn load(name: &str, bytes: &[u8], sources: &mut Sources, findings: &mut Vec<Finding>) -> Option<Node> {
    let source = u16::try_from(sources.files.len()).unwrap_or(u16::MAX);
    let text = json::decode(bytes, source, findings);
    let node = text.as_deref().and_then(|text| json::parse(text, source, findings));
    sources.files.push(Source { name: name.to_owned(), text: text.unwrap_or_default() });
    node
}

/// What the project file is read against.
struct Known<'a> {
    /// The texts read, by source.
    texts: &'a [&'a str],
    drawings: Drawings<'a>,
}

/// The tree read by the table, and then worked out.
fn typed(
    laid: &Laid,
    variant: Option<&str>,
    known: &Known,
    findings: &mut Vec<Finding>,
) -> (Option<Project>, Notation) {
    let root = &laid.root;
    let said = root.object().and_then(|object| object.get("units"));
    let inches = said.is_some_and(|member| matches!(&member.node.value, json::Value::Text(text) if text == "in"));
    let mut reader = Reader { texts: known.texts, inches, steps: Vec::new(), findings: Vec::new() };
    let written = ProjectText::read(root, &ROOT, &mut reader);
    findings.append(&mut reader.findings);
    // What could not be read is told in the units that the file names all the same.
    let spoken = Notation { units: if inches { Units::Inch } else { Units::Mm }, ..Notation::default() };
    let Some(written) = written else { return (None, spoken) };
    let Some(units) = written.units.0 else { return (None, spoken) };
    let shop = written.shop.as_ref();
    let (denominator, step) = (shop::denominator(shop), shop::step(shop));
    let notation = Notation { units, denominator, step, ..Notation::default() };
    let resolver = || {
        let mut resolver = Resolver::new(known.texts, laid.units_by_source(units), notation.clone());
        resolver.drawings = known.drawings;
        resolver
    };
    let mut as_written = resolver();
    as_written.findings.append(findings);
    let mut project = model(&written, variant, &mut as_written);
    findings.append(&mut as_written.findings);
    if let Some(project) = project.as_mut().filter(|_| as_written.unsettled) {
        // What is to be told has been told of the numbers as they are written.
        let mut settling = resolver();
        settling.settles = true;
        project.settled = model(&written, variant, &mut settling).map(Box::new);
    }
    (project, as_written.notation_of_given())
}

/// A part that is not there, or one that could be worked out; `None` for one that could not.
fn transposed<T>(part: Option<Option<T>>) -> Option<Option<T>> {
    part.map_or(Some(None), |part| part.map(Some))
}

/// The turned legs of a base.
fn turned_legs(base: &Option<Option<Base>>) -> Option<RoundLeg> {
    match base {
        Some(Some(Base::SplayedLegs(legs))) => legs.leg.round(),
        _ => None,
    }
}

/// What was worked out of joints and aids; `None` stands for what could not be.
struct JoinedAndAided {
    /// The numbers of the joints by name.
    given: Option<Vec<(String, JointGiven)>>,
    /// The joints, with that of turned legs in a top last.
    joints: Option<Vec<Joint>>,
    /// The aids.
    aids: Option<Vec<AidRequest>>,
}

/// Works out joints and aids.
fn joints_and_aids(
    written: &ProjectText,
    turned: Option<RoundLeg>,
    has_top: bool,
    resolver: &mut Resolver,
) -> JoinedAndAided {
    let joints = written.joints.iter().flat_map(|joints| &joints.0);
    // Every one is worked out before the first bad one ends the work.
    let made: Vec<Option<(String, (JointGiven, Joint))>> =
        joints.map(|(name, text)| Some((name.clone(), joint::joint(name, text, resolver)?))).collect();
    let made: Option<Vec<_>> = made.into_iter().collect();
    let (given, joints) = match made {
        Some(made) => {
            let (given, mut joints): (Vec<_>, Vec<_>) =
                made.into_iter().map(|(name, (given, joint))| ((name, given), joint)).unzip();
            joints.extend(turned.filter(|_| has_top).map(|leg| leg.joint()));
            (Some(given), Some(joints))
        }
        None => (None, None),
    };
    let aids = written.aids.iter().flat_map(|aids| &aids.0);
    let aids: Vec<Option<AidRequest>> = aids.map(|(name, text)| aid::aid(name, text, turned, resolver)).collect();
    JoinedAndAided { given, joints, aids: aids.into_iter().collect() }
}

fn model(written: &ProjectText, variant: Option<&str>, resolver: &mut Resolver) -> Option<Project> {
    if let Some(sizes) = &written.sizes {
        resolver.work_out_sizes(&sizes.0);
    }
    let shop = shop::shop(written.shop.as_ref(), resolver);
    let drawn = written.patterns.as_ref().map_or(&[][..], |patterns| patterns.0.as_slice());
    let patterns: Vec<Option<DrawnPattern>> =
        drawn.iter().map(|(name, pattern)| patterns::pattern(name, pattern, shop.as_ref(), resolver)).collect();
    let base = written.base.as_ref().map(|text| piece::base(text, resolver));
    let top = written.top.as_ref().map(|text| piece::top(text, resolver));
    let routing =
        shop.as_ref().map(|shop| request::parts(written, top.as_ref().and_then(Option::as_ref), shop, resolver));
    let turned = turned_legs(&base);
    let as_built = written.as_built.as_ref().map(|text| AsBuilt::work_out(text, resolver));
    let JoinedAndAided { given, joints, aids } = joints_and_aids(written, turned, top.is_some(), resolver);
    // Where something is wrong already, that may be why nothing was found.
    if let Some(sizes) = written.sizes.as_ref().filter(|_| !stops(&resolver.findings)) {
        resolver.tell_unused_sizes(&sizes.0, written.variants.is_some());
    }
    let nothing = drawn.is_empty() && base.is_none() && top.is_none();
    if nothing && !stops(&resolver.findings) {
        resolver.findings.push(Finding::of(TextProblem::Nothing {}, Place::default()));
    }
    let made = written.made.iter().flat_map(|made| &made.0);
    let made: Vec<Option<MadePart>> = made.map(|(name, text)| made::made(name, text, resolver)).collect();
    let variants = written.variants.iter().flat_map(|variants| &variants.0);
    Some(Project {
        title: written.title.0.clone()?,
        notation: resolver.notation_of_given(),
        sizes: resolver.known_sizes(),
        patterns: patterns.into_iter().collect::<Option<Vec<DrawnPattern>>>()?,
        base: transposed(base)?,
        top: transposed(top)?,
        routing: routing??,
        joints_given: given?,
        joints: joints?,
        aids: aids?,
        as_built: transposed(as_built)?,
        made: made.into_iter().collect::<Option<Vec<MadePart>>>()?,
        undecided: written.undecided.clone().unwrap_or_default(),
        fixed: written.fixed.clone().unwrap_or_default(),
        shop: shop?,
        readings_from: None,
        variants: variants.map(|(name, _)| name.clone()).collect(),
        variant: variant.map(str::to_owned),
        settled: None,
    })
}
