//! What becomes of parts that exist when the numbers change: they stay good, are trimmed, are rescued, or are made again.
//!
//! A part that exists only shrinks. It stays good or can be trimmed where the part as it is wanted lies in its wood, within a tolerance;
//! what is worked in it is asked across itself alone, with a tolerance of its own: a mouth moves with its end.

use super::differs::{met, numbers, towards};
use super::fit::{Allowed, Fit, fit};
use super::kept::Kept;
use super::measured::{Far, Measured, measured};
use super::place::{BothWorked, apart_of, readiness};
use super::problem::{Lack, MadeName, MadeProblem, Priced, Setting, Slimmer, Step};
use super::rescue::{Patch, Rescue, cheapest_first, of_bevels};
use super::snapshot::Snapshot;
use super::wood::{Kind, Wood, Worked};
use super::words::{called, number_words};
use crate::board::{EdgeName, Role, Source, Surface};
use crate::finding::{Finding, Names, Place};
use crate::model::made::MadePart;
use crate::solid::Shape;
use crate::tolerance::{NOTICEABLE, SHOWN_SQUARE};
use crate::units::{Angle, Length, Notation};

/// By how much wood may fall short of what is drawn, mm, unless the file says otherwise: what a joint takes up. A guess of ours.
pub const SHORT: f64 = 0.3;

/// By how much something worked is pared rather than filled and cut again, mm. A guess of ours.
pub const PARED: f64 = 0.5;

/// How far the axis of something worked may turn, degrees: over 40 mm of depth it is some 0.35 mm.
const TURNED: f64 = 0.5;

/// By how much what holds a top may stand off across itself, mm, and its axis may turn, degrees, before it is cut again: a button reaches
/// farther, and a screw has its slot. Guesses of ours.
const HELD_ASLANT: (f64, f64) = (1.0, 3.0);

/// What becomes of a part that exists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// Nothing is to be done to it.
    Keep,
    /// Wood is to go.
    Trim,
    /// Something worked in it is to be filled and cut again.
    Rescue,
    /// It is to be made again.
    Again,
}

/// What becomes of one part that exists.
#[derive(Debug, Clone)]
pub struct Verdict {
    /// Its names.
    pub name: MadeName,
    /// How many copies are meant.
    pub count: usize,
    /// The key of the part as it is now; `None` where the piece has no such part.
    pub part: Option<String>,
    /// What is still to be done, in order.
    pub steps: Vec<Step>,
    /// What it lacks.
    pub lacks: Vec<Lack>,
    /// The tenons of its own that stand elsewhere than they are wanted or are too small: their places among what is worked in it.
    pub wrong: Vec<usize>,
    /// What else saves it, the cheapest first.
    pub rescues: Vec<Priced>,
    /// How the part as it is wanted lies in it.
    pub fit: Option<Fit>,
    /// Whether all that is cut into the part as it is wanted is still to be cut.
    pub is_bare: bool,
}

impl Verdict {
    /// What becomes of it.
    pub fn outcome(&self) -> Outcome {
        let fills = |step: &Step| matches!(step, Step::Fill { .. });
        let does = |step: &Step| !matches!(step, Step::Idle(_) | Step::MarkThrough(_));
        match () {
            () if !self.lacks.is_empty() => Outcome::Again,
            () if self.steps.iter().any(fills) => Outcome::Rescue,
            () if self.steps.iter().any(does) => Outcome::Trim,
            () => Outcome::Keep,
        }
    }
}

/// What becomes of a part that exists where it is wanted as it is now. `may_lack` is by how much its wood may fall short, mm.
pub fn verdict(made: &Wood, new: &Wood, name: MadeName, may_lack: f64, say: &Notation) -> Verdict {
    let pairs = met(&made.worked, &new.worked);
    let both: Vec<BothWorked> =
        pairs.iter().filter_map(|(was, is)| Some(BothWorked::needed((*was)?, (*is)?, made))).collect();
    let asked = |worked: Option<f64>| fit(made, new, &both, Allowed { wood: may_lack, worked });
    let mut laid = asked(Some(PARED));
    if laid.lack() > may_lack || laid.worked_off() > PARED {
        // May the wood be moved along under what is worked in it?
        let without = asked(None);
        if without.lack() <= may_lack {
            laid = without;
        }
    }
    let mut verdict = Verdict {
        count: if name.only.is_empty() { made.copies.len().max(1) } else { name.only.len() },
        name,
        part: Some(new.id.clone()),
        steps: Vec::new(),
        lacks: Vec::new(),
        wrong: Vec::new(),
        rescues: Vec::new(),
        fit: Some(laid.clone()),
        is_bare: !is_cut_into(made) && is_cut_into(new),
    };
    verdict.of_thickness([made, new], &laid, may_lack);
    let planed = verdict.of_surfaces([made, new], &laid, may_lack);
    verdict.of_turning([made, new], may_lack);
    let along = numbers(&made.numbers, &new.numbers);
    verdict.steps.extend(along.iter().map(|change| Step::Along(number_words(change, say))));
    verdict.of_worked([made, new], &laid, &pairs, may_lack);
    verdict.of_rescues([made, new], &laid, may_lack, &planed);
    verdict
}

impl Verdict {
    fn of_thickness(&mut self, [made, new]: [&Wood; 2], laid: &Fit, may_lack: f64) {
        let by = made.board.thickness - new.board.thickness;
        if by < -may_lack {
            self.lacks.push(Lack::Thickness(Length::from_mm(-by)));
        } else if by > may_lack {
            let side = usize::from(laid.lift >= 0.0);
            self.steps.push(Step::Plane { side: new.sides[side].clone(), by: Length::from_mm(by) });
        }
    }

    /// Which edges are planed, each with the place of that step.
    fn of_surfaces(&mut self, [made, new]: [&Wood; 2], laid: &Fit, may_lack: f64) -> Vec<(EdgeName, usize)> {
        let lacks = laid.lacks.iter().filter(|(_, by)| *by > may_lack);
        self.lacks.extend(lacks.map(|(at, by)| Lack::At(made.name_of(*at), Length::from_mm(*by))));
        let mut spare: Vec<&(Source, f64)> = laid.spare.iter().filter(|(_, by)| *by > may_lack).collect();
        // Edges before ends, which are sawn square off them; of each the readiest first.
        let order = |source: Source| {
            let is_end = new.is_end(source);
            (is_end, new.board.edge_of(source).map_or(u8::MAX, readiness))
        };
        spare.sort_by_key(|(source, _)| order(*source));
        let mut planed = Vec::new();
        for (source, most) in spare {
            let least = apart_of(made, new, *source, &laid.place).unwrap_or(0.0).clamp(0.0, *most);
            let by = [least, *most].map(Length::from_mm);
            let on_face = on_face(new, *source, by);
            let saw = setting(new, *source);
            let name = new.name_of(*source);
            let edge = new.board.edge_of(*source).filter(|_| !new.is_end(*source));
            planed.extend(edge.map(|edge| (edge.clone(), self.steps.len())));
            self.steps.push(match new.is_end(*source) {
                true => Step::Saw { end: name, by, on_face, saw, is_shoulder: new.has_tenon_on(*source) },
                false => Step::Edge { edge: name, by, on_face, saw },
            });
        }
        planed
    }

    /// What else saves it: an edge or the faces at another angle, where that alone is lacking; or else something put on wherever it lacks.
    fn of_rescues(&mut self, [made, new]: [&Wood; 2], laid: &Fit, may_lack: f64, planed: &[(EdgeName, usize)]) {
        if made.turned.is_some() || new.turned.is_some() {
            return;
        }
        let lacking: Vec<&(Source, f64)> = laid.lacks.iter().filter(|(_, by)| *by > may_lack).collect();
        let is_all = lacking.len() == self.lacks.len();
        let mut rescues = if is_all { of_bevels(made, new, &lacking, may_lack) } else { Vec::new() };
        let mut patches: Vec<Option<Patch>> = lacking
            .iter()
            .map(|(at, by)| made.skin(*at).and_then(|skin| Patch::at(made, (*at, &skin), *by)))
            .collect();
        let packed: Vec<Surface> = lacking.iter().map(|(at, _)| made.board.surface(*at)).collect();
        let goes = |(index, one): &(usize, &Worked)| {
            one.stands && (self.wrong.contains(index) || one.on.as_ref().is_some_and(|on| packed.contains(on)))
        };
        let loose = made.worked.iter().enumerate().filter(goes);
        patches.extend(loose.map(|(_, one)| Some(Patch::Loose { what: called(one, made), stands: true })));
        patches.extend(self.lacks.iter().filter_map(|lack| match lack {
            Lack::Tenon { what, stands: false } => Some(Some(Patch::Loose { what: what.clone(), stands: false })),
            Lack::Thickness(by) => Some(Some(Patch::on_far_side(made, *by))),
            Lack::At(..) | Lack::Tenon { .. } => None,
            Lack::Diameter(..) => Some(None),
        }));
        // All of them together, or none. Nothing is glued on where a tenon stands: that goes first, and a loose one takes its place.
        let patches: Option<Vec<Patch>> = patches.into_iter().collect();
        let patches = patches.filter(|all| !all.is_empty()).map(|mut all| {
            all.sort_by_key(|patch| matches!(patch, Patch::Pack { .. }));
            all
        });
        rescues.extend(patches.map(Rescue::Patched));
        cheapest_first(&mut rescues, made);
        let is_done = |index: usize, is: &EdgeName| planed.iter().any(|(edge, at)| *at == index && edge == is);
        let besides = |rescue: &Rescue| -> Vec<Step> {
            match rescue {
                // The part stays where its joints hold it.
                Rescue::Wedge(_) => Vec::new(),
                Rescue::Rebevel { is, .. } => {
                    let others = self.steps.iter().enumerate().filter(|(index, _)| !is_done(*index, is));
                    others.map(|(_, step)| step.clone()).collect()
                }
                Rescue::Patched(_) => self.steps.clone(),
            }
        };
        let priced = |rescue: Rescue| Priced { cost: rescue.cost(made), then: besides(&rescue), rescue };
        self.rescues = rescues.into_iter().map(priced).collect();
    }

    fn of_turning(&mut self, [made, new]: [&Wood; 2], may_lack: f64) {
        let (Some(was), Some(is)) = (made.turned, new.turned) else {
            if made.turned.is_some() != new.turned.is_some() {
                self.lacks.push(Lack::Diameter("head", Length::from_mm(0.0)));
            }
            return;
        };
        for (place, (was, is)) in ["head", "foot", "tenon"].into_iter().zip(was.into_iter().zip(is)) {
            if is > was + may_lack {
                self.lacks.push(Lack::Diameter(place, Length::from_mm(is - was)));
            } else if was > is + may_lack {
                self.steps.push(Step::Turn { place, to: Length::from_mm(is) });
            }
        }
    }

    fn of_worked(
        &mut self,
        [made, new]: [&Wood; 2],
        laid: &Fit,
        pairs: &[(Option<&Worked>, Option<&Worked>)],
        may_lack: f64,
    ) {
        let mut off = laid.off.iter();
        let (mut fills, mut cuts, mut idle, mut through) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        let mut off_with = Vec::new();
        for pair in pairs {
            match *pair {
                (Some(was), Some(is)) => {
                    let off = off.next().copied().unwrap_or_default();
                    let filled = fills.len();
                    self.of_one([made, new], laid, [was, is], (off, may_lack), (&mut fills, &mut cuts));
                    let along = (laid.there(is.mouth()) - was.mouth()).x.abs();
                    // What is filled and cut again is then where its pattern has it.
                    if was.holds_top() && along > PARED && fills.len() == filled {
                        through.push(called(is, new));
                    }
                }
                (None, Some(is)) if is.stands => {
                    self.lacks.push(Lack::Tenon { what: called(is, new), stands: false })
                }
                (None, Some(is)) => cuts.push(Step::Cut(called(is, new))),
                // Where it stands something else may be wanted.
                (Some(was), None) if was.stands => off_with.push(Step::SawOff(called(was, made))),
                (Some(was), None) => idle.push(Step::Idle(called(was, made))),
                (None, None) => {}
            }
        }
        let through = (!through.is_empty()).then_some(Step::MarkThrough(through));
        self.steps.extend(off_with.into_iter().chain(fills).chain(cuts).chain(through).chain(idle));
    }

    /// What is to be done to something that is worked in both; `off` is how far it lies off across itself, mm, and no more than `may_lack` is
    /// sawn off the surface that it goes in from without a word.
    fn of_one(
        &mut self,
        [made, new]: [&Wood; 2],
        laid: &Fit,
        [was, is]: [&Worked; 2],
        (off, may_lack): (f64, f64),
        (fills, cuts): (&mut Vec<Step>, &mut Vec<Step>),
    ) {
        let larger = was.size().into_iter().zip(is.size()).map(|(was, is)| is - was);
        let (most, least) = larger.fold((f64::MIN, f64::MAX), |(most, least), by| (most.max(by), least.min(by)));
        // What goes from the surface in which it begins goes from its depth; a tenon is as much longer from its new shoulder.
        let begins = (laid.there(is.mouth()) - was.mouth()).dot(was.frame().w());
        let deeper = match (was.depth(), is.depth()) {
            (Some(was), Some(is)) => is - (was - begins),
            (Some(_), None) => f64::MAX,
            (None, Some(_)) => f64::MIN,
            (None, None) => 0.0,
        };
        let (axis, its) = (was.frame().w(), laid.place.way(is.frame().w()));
        let turn = axis.cross(its).length().atan2(axis.dot(its)).to_degrees();
        // Turned about its own axis, a long mouth stands off at its ends.
        let rolled = was.rolled(is, |v| laid.place.way(v));
        let half = was.size().into_iter().fold(0.0, f64::max) / 2.0;
        let off = off + half * rolled.to_radians().sin().abs();
        // What holds a top holds it a little aslant as well.
        let (pared, may_turn) = if was.holds_top() { HELD_ASLANT } else { (PARED, TURNED) };
        let is_off = off > pared || turn > may_turn;
        let moved = || {
            let both = BothWorked::needed(was, is, made);
            let by = laid.there(is.mouth()) - was.mouth();
            let told = both.across.into_iter().map(|axis| (by.dot(axis), axis));
            told.filter(|(by, _)| by.abs() > NOTICEABLE)
                .map(|(by, axis)| (Length::from_mm(by.abs()), towards(made, axis * by.signum())))
                .collect::<Vec<_>>()
        };
        let name = || called(is, new);
        match was.stands {
            true if is_off || most > PARED || deeper > PARED => {
                self.wrong.extend(made.worked.iter().position(|one| std::ptr::eq(one, was)));
                self.lacks.push(Lack::Tenon { what: name(), stands: true })
            }
            true => {
                if let Some(depth) = is.depth().filter(|_| deeper < -may_lack) {
                    let [by, to] = [-deeper, depth].map(Length::from_mm);
                    cuts.push(Step::Shorten { what: name(), by, to });
                }
                if let Some(by) = slimmer(was, is) {
                    cuts.push(Step::Slim { what: name(), by });
                }
                if off > SHORT {
                    cuts.push(Step::Pare { what: name(), by: Length::from_mm(off) });
                }
            }
            false if was.depth().is_some_and(|depth| depth - begins <= NOTICEABLE) => cuts.push(Step::Cut(name())),
            false if is_off || least < -PARED => {
                let turned = (turn > TURNED).then(|| Angle::from_degrees(turn));
                let rolled = Some(rolled).filter(|by| by.abs() > TURNED);
                fills.push(Step::Fill { what: name(), off: moved(), turned, rolled, is_large: least < -PARED });
            }
            false if most > NOTICEABLE => cuts.push(Step::Enlarge(name())),
            false if deeper > may_lack => {
                cuts.push(Step::Deepen { what: name(), by: Length::from_mm(deeper) });
            }
            false if off > SHORT && !was.holds_top() => {
                cuts.push(Step::Pare { what: name(), by: Length::from_mm(off) })
            }
            false => {}
        }
    }
}

/// By how much something that stands is to be less across itself; `None` where it is good as it is.
fn slimmer(was: &Worked, is: &Worked) -> Option<Slimmer> {
    let [[wide, thick], [its_wide, its_thick]] = [was.size(), is.size()];
    let off = |was: f64, is: f64| (was - is > NOTICEABLE).then(|| Length::from_mm(was - is));
    let (width, thickness) = (off(wide, its_wide), off(thick, its_thick));
    match (&was.shape, &is.shape) {
        (Shape::Turned(_), Shape::Turned(_)) => width.map(Slimmer::Round),
        _ => (width.is_some() || thickness.is_some()).then_some(Slimmer::Square { width, thickness }),
    }
}

/// Whether anything is cut into a part.
fn is_cut_into(wood: &Wood) -> bool {
    wood.worked.iter().any(|one| !one.stands)
}

/// Amounts square to a bevelled surface, on the face square to its line, where a rule reaches; `None` of one that is square to the face, and
/// of one that leans so far that it is planed.
fn on_face(wood: &Wood, source: Source, by: [Length; 2]) -> Option<[Length; 2]> {
    wood.saw(source).filter(|saw| !saw.tapers() && saw.bevel.degrees() > SHOWN_SQUARE)?;
    let Source::Cut(index) = source else { return None };
    let normal = wood.board.cuts.get(index)?.plane.normal();
    Some(by.map(|by| Length::from_mm(by.mm() / normal.x.hypot(normal.y))))
}

/// How the saw is set for a surface; `None` where a plane does it square to the face.
fn setting(wood: &Wood, source: Source) -> Option<Setting> {
    let saw = wood.saw(source).filter(|saw| !saw.tapers())?;
    let bevel = saw.signed_bevel();
    let mitre = (saw.role == Role::End).then(|| saw.mitre());
    (mitre.is_some() || bevel.degrees().abs() > SHOWN_SQUARE).then_some(Setting { mitre, bevel })
}

/// What becomes of all parts that a file says exist.
#[derive(Debug, Clone, Default)]
pub struct Verdicts {
    /// What becomes of each that is known, in the order of the file; of one that is several parts now, each of these.
    pub all: Vec<Verdict>,
    /// What is told of them.
    pub findings: Vec<Finding>,
    /// The keys of parts of which it is not known what was made.
    pub unknown: Vec<String>,
}

impl Verdicts {
    /// What becomes of parts that exist where a piece is wanted as it is now.
    pub fn of(made: &[MadePart], kept: &Kept, now: &Snapshot, say: &Notation) -> Verdicts {
        let mut verdicts = Verdicts::default();
        let mut keeps = Vec::new();
        for part in made {
            match without_named(part, made, kept) {
                Some(part) => verdicts.add(&part, kept, now, say, &mut keeps),
                None => continue,
            }
        }
        if let Some(place) = keeps.first().map(|(place, _)| place.clone()) {
            let parts = keeps.into_iter().map(|(_, name)| name).collect();
            verdicts.findings.insert(0, Finding::of(MadeProblem::Keeps { parts }, place));
        }
        verdicts
    }

    fn add(
        &mut self,
        part: &MadePart,
        kept: &Kept,
        now: &Snapshot,
        say: &Notation,
        keeps: &mut Vec<(Place, MadeName)>,
    ) {
        let Some(drawn) = kept.drawn(&part.part, &part.code) else {
            let names: Vec<&str> = now.parts.iter().map(|wood| wood.id.as_str()).chain(kept.names()).collect();
            let problem = MadeProblem::Unknown {
                part: part.part.clone(),
                code: part.code.clone(),
                parts: Names::instead_of(&part.part, names.iter().copied()),
                codes: kept.codes(&part.part),
            };
            self.findings.push(Finding::of(problem, part.place.clone()));
            self.unknown.push(part.part.clone());
            return;
        };
        if let Some(copy) = part.only.iter().find(|copy| !drawn.copies.contains(copy)) {
            let copies = Names::instead_of(copy, drawn.copies.iter().map(String::as_str));
            let problem = MadeProblem::NoCopy { part: drawn.name.clone(), copy: copy.clone(), copies };
            self.findings.push(Finding::of(problem, part.place.child("only")));
            return;
        }
        let name = MadeName::of(drawn, part);
        let Measured { wood, residuals, accuracy, far, other_side } = match measured(drawn, part) {
            Ok(measured) => measured,
            Err(why) => {
                self.findings.push(Finding::of(MadeProblem::unfits(drawn, part, why), part.place.clone()));
                return;
            }
        };
        let may_lack = part.tolerance.map_or(SHORT, Length::mm) + accuracy;
        for (end, off) in residuals.into_iter().filter(|(_, off)| *off > may_lack) {
            let problem = MadeProblem::InWind { part: name.clone(), end, off: Length::from_mm(off) };
            self.findings.push(Finding::of(problem, part.place.clone()));
        }
        self.findings.extend(far.into_iter().map(|Far { what, read, drawn }| {
            let problem = MadeProblem::ReadingFar { part: name.clone(), what, read, drawn };
            Finding::of(problem, part.place.clone())
        }));
        self.findings.extend(other_side.into_iter().map(|(at, [read, drawn])| {
            let problem = MadeProblem::OtherSide { part: name.clone(), at, read, drawn };
            Finding::of(problem, part.place.clone())
        }));
        let wanted = wanted(&wood, part, &now.parts);
        if wanted.is_empty() {
            self.findings.push(Finding::of(MadeProblem::Unwanted { part: name.clone() }, part.place.clone()));
            self.all.push(Verdict {
                name,
                count: 0,
                part: None,
                steps: Vec::new(),
                lacks: Vec::new(),
                wrong: Vec::new(),
                rescues: Vec::new(),
                fit: None,
                is_bare: false,
            });
            return;
        }
        for new in wanted {
            let new = of_copies(new, part);
            let found = verdict(&wood, &new, name.clone(), may_lack, say);
            match told(&found, new.follows_numbers()) {
                Some(problem) => self.findings.push(Finding::of(problem, part.place.clone())),
                None => keeps.push((part.place.clone(), found.name.clone())),
            }
            self.all.push(found);
        }
    }
}

/// An entry for all copies of a part without those that have entries of their own; `None` where none is left.
pub(super) fn without_named(part: &MadePart, all: &[MadePart], kept: &Kept) -> Option<MadePart> {
    let Some(drawn) = kept.drawn(&part.part, &part.code).filter(|_| part.only.is_empty()) else {
        return Some(part.clone());
    };
    let others: Vec<&String> =
        all.iter().filter(|other| drawn.is_called(&other.part)).flat_map(|other| &other.only).collect();
    if others.is_empty() {
        return Some(part.clone());
    }
    let only: Vec<String> = drawn.copies.iter().filter(|copy| !others.contains(copy)).cloned().collect();
    (!only.is_empty()).then(|| MadePart { only, ..part.clone() })
}

/// The parts as which a part that exists is wanted now: the one of its key, or those of its kind with one of its copies.
pub(super) fn wanted<'a>(wood: &Wood, part: &MadePart, now: &'a [Wood]) -> Vec<&'a Wood> {
    let is_kind = |new: &&Wood| new.kind == wood.kind;
    let copies = if part.only.is_empty() { &wood.copies } else { &part.only };
    let shares = |new: &Wood| copies.iter().any(|copy| new.copies.contains(copy));
    let own = now.iter().filter(is_kind).find(|new| new.id == wood.id);
    let own = own.filter(|new| {
        part.only.is_empty() && (new.copies.is_empty() || copies.iter().all(|copy| new.copies.contains(copy)))
    });
    match (own, wood.kind) {
        (Some(own), _) => vec![own],
        (None, Kind::Board(_)) => now.iter().filter(is_kind).filter(|new| shares(new)).collect(),
        (None, Kind::Drawn) => now.iter().filter(is_kind).filter(|new| new.id == wood.id).collect(),
    }
}

/// A part as those copies of it are that are meant.
pub(super) fn of_copies(new: &Wood, part: &MadePart) -> Wood {
    let mut new = new.clone();
    if !part.only.is_empty() {
        new.worked.retain(|one| one.copies.is_empty() || one.copies.iter().any(|copy| part.only.contains(copy)));
    }
    new
}

/// What is told of a part that does not stay as it is; `may_be_spared` is whether other numbers of the piece could make it stay.
pub(super) fn told(verdict: &Verdict, may_be_spared: bool) -> Option<MadeProblem> {
    let (part, steps, rescues) = (verdict.name.clone(), verdict.steps.clone(), verdict.rescues.clone());
    let most = |of: &dyn Fn(&Step) -> Option<Length>| steps.iter().filter_map(of).map(Length::mm).fold(0.0, f64::max);
    match verdict.outcome() {
        Outcome::Keep => {
            let is_marked = steps.iter().any(|step| matches!(step, Step::MarkThrough(_)));
            is_marked.then_some(MadeProblem::Marked { part, steps })
        }
        Outcome::Trim => {
            let taken = most(&|step| match step {
                Step::Plane { by, .. } => Some(*by),
                Step::Edge { by: [_, most], .. } | Step::Saw { by: [_, most], .. } => Some(*most),
                _ => None,
            });
            Some(MadeProblem::Trims { part, steps, rescues, taken: Length::from_mm(taken) })
        }
        Outcome::Rescue => {
            let off = most(&|step| match step {
                Step::Fill { off, .. } => off.iter().map(|(by, _)| *by).max_by(|a, b| a.mm().total_cmp(&b.mm())),
                _ => None,
            });
            Some(MadeProblem::Rescued { part, steps, rescues, may_be_spared, off: Length::from_mm(off) })
        }
        Outcome::Again => {
            let missing = verdict.lacks.iter().map(|lack| match lack {
                Lack::At(_, by) | Lack::Thickness(by) | Lack::Diameter(_, by) => by.mm(),
                Lack::Tenon { .. } => 0.0,
            });
            let missing = Length::from_mm(missing.fold(0.0, f64::max));
            let lacks = verdict.lacks.clone();
            Some(MadeProblem::Again { part, lacks, rescues, may_be_spared, missing })
        }
    }
}
