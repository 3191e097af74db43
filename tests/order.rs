//! The order of work, held against a bench that keeps account of the wood: which lines, sides and ends of each part are there when a step
//! is done. The bench asks the solved board itself what a step must have; the plan only says which step is next.

use crate::bench_models::random;
use crate::common::draws::for_all;
use crate::common::guide::examples;
use crate::common::shop::{Shop, text};
use fullsize::board::{Against, Fitting, Mortise, Role, Source};
use fullsize::geometry::{Point, Point3, Segment, Vec3};
use fullsize::job::{AlreadyMade, Job, ToDo};
use fullsize::joinery::{MarkedAlong, Marking, far_marking, marked_span, marking};
use fullsize::order::{PartOf, Plan, Reference, Side, State, Step, Use, Work, words};
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::project::{read, read_with};
use serde_json::{Value as Json, json};
use std::path::{Path, PathBuf};

/// So far from a surface wood is asked for, mm: more than arithmetic adds, less than any cut.
const HAIR: f64 = 0.02;

/// A board on the bench.
struct Wood<'a> {
    board: &'a SolvedBoard,
    outline: fullsize::geometry::Path,
    lines: Vec<fullsize::geometry::Path>,
    /// What was done to it: the cuts, and the edges of its outline.
    cuts: Vec<usize>,
    edges: Vec<usize>,
    /// The edges that are sides of the squared blank.
    planed: Vec<usize>,
    dressed: bool,
    turned: bool,
    profiled: bool,
    mortised: Vec<(usize, Source)>,
}

impl<'a> Wood<'a> {
    fn new(board: &'a SolvedBoard) -> Wood<'a> {
        Wood {
            board,
            outline: board.board.outline(),
            lines: board
                .board
                .edges
                .iter()
                .map(|edge| fullsize::geometry::Path::open(edge.segments.clone()))
                .collect(),
            cuts: Vec::new(),
            edges: Vec::new(),
            planed: Vec::new(),
            dressed: false,
            turned: false,
            profiled: false,
            mortised: Vec::new(),
        }
    }

    /// Whether there is wood at a place of the board's axes: in the squared blank, which is longer than drawn, and in nothing sawn off.
    fn has(&self, p: Point3) -> bool {
        let (blank, board) = (self.board.solid.blank, &self.board.board);
        let in_blank = p.y > blank.y0 && p.y < blank.y1 && p.z < 0.0 && p.z > -board.thickness;
        let beyond = |cut: &usize| board.cuts[*cut].plane.distance(p) > 0.0;
        self.dressed && in_blank && !self.cuts.iter().any(beyond) && !self.is_sawn_off(Point::new(p.x, p.y))
    }

    /// Whether a place of the face lies outside an edge that was sawn: the one that is nearest.
    fn is_sawn_off(&self, p: Point) -> bool {
        // Nothing is gone while nothing was sawn.
        if self.edges.is_empty() || self.outline.encloses(p) {
            return false;
        }
        let off = |index: &usize| self.lines[*index].nearest(p).map_or(f64::MAX, |(off, _)| off);
        let nearest = (0..self.board.board.edges.len()).min_by(|a, b| off(a).total_cmp(&off(b)));
        nearest.is_some_and(|index| self.edges.contains(&index))
    }

    /// Whether a surface of the finished part is there, so that something can be set out from it: wood behind it and none before it.
    fn shows(&self, source: Source) -> bool {
        if self.turned && !matches!(source, Source::Cut(_)) {
            return false;
        }
        match source {
            Source::Face | Source::Far => self.dressed,
            Source::Edge(index) => {
                let rims = [&self.board.solid.face, &self.board.solid.far];
                let at = rims
                    .iter()
                    .find_map(|ring| ring.part(source).next())
                    .map(|piece| (piece.eval(0.5), piece.tangent(0.5)));
                let Some((at, along)) = at else { return false };
                let out = Vec3::new(along.y, -along.x, 0.0).unit().expect("a direction");
                // The rim of the face runs anticlockwise, that of the far side is told in the same axes.
                let inside = self.outline.encloses(Point::new(at.x - out.x * HAIR, at.y - out.y * HAIR));
                let out = if inside { out } else { out * -1.0 };
                let middle = Point3::new(at.x, at.y, -self.board.board.thickness / 2.0);
                let bare =
                    !self.has(middle + out * HAIR) || self.edges.contains(&index) || self.planed.contains(&index);
                let is_worked =
                    |worked: &fullsize::piece::WorkedEdge| worked.edge.nearest(at).is_some_and(|(off, _)| off < HAIR);
                let is_gone = self.profiled && self.board.worked.iter().any(is_worked);
                self.dressed && bare && !is_gone
            }
            Source::Cut(cut) => self.cuts.contains(&cut),
        }
    }

    /// Whether a side of the blank is whole from end to end, so that the wood lies on it.
    fn is_whole(&self, side: Side) -> bool {
        let (blank, thick) = (self.board.solid.blank, self.board.board.thickness);
        let skin = HAIR / 2.0;
        let across = |level: f64| -> Vec<Point3> {
            (1..20)
                .flat_map(|step| {
                    let x = blank.x0 + blank.width() * f64::from(step) / 20.0;
                    [-skin, skin - thick].map(|z| Point3::new(x, level, z))
                })
                .collect()
        };
        let all = match side {
            Side::Upper => across(blank.y1 - skin),
            Side::Lower => across(blank.y0 + skin),
            Side::Face | Side::Far => {
                let z = if side == Side::Face { -skin } else { skin - thick };
                let at = |step: i32| blank.x0 + blank.width() * f64::from(step) / 20.0;
                (1..20).map(|step| Point3::new(at(step), blank.center().y, z)).collect()
            }
        };
        // Ends only make it shorter, and so does a rounded corner.
        let is_end = |p: &Point3| {
            let cuts = self.board.board.cuts.iter().filter(|cut| cut.role == Role::End);
            let beyond = cuts.map(|cut| cut.plane.distance(*p)).fold(f64::MIN, f64::max);
            let by_end = self.board.board.edges.iter().zip(&self.lines).any(|(edge, path)| {
                let (first, last) = (edge.segments[0].start(), edge.segments[edge.segments.len() - 1].end());
                let is_across =
                    (last - first).y.abs() > (last - first).x.abs() || edge.name == fullsize::board::EdgeName::Corner;
                let near = path.nearest(Point::new(p.x, p.y)).is_some_and(|(off, _)| off < 60.0);
                is_across && near && !self.outline.encloses(Point::new(p.x, p.y))
            });
            beyond > 0.0 || by_end
        };
        self.dressed && !self.turned && all.iter().filter(|p| !is_end(p)).all(|p| self.has(*p))
    }

    fn called(&self, source: Source) -> String {
        format!("{}'s {}", self.board.label, self.board.board.name_of(source))
    }

    fn needs(&self, source: Source, what: &str) -> Result<(), String> {
        match self.shows(source) {
            true => Ok(()),
            false => Err(format!("{what} needs {}", self.called(source))),
        }
    }

    /// The lines from which something is marked.
    fn marked(&self, marking: &Marking, what: &str) -> Result<(), String> {
        for surface in marking.surfaces() {
            let all = self.surfaces();
            let named: Vec<Source> =
                all.iter().copied().filter(|source| self.board.board.surface(*source) == *surface).collect();
            // Of a curve that was made flat in places one flat is meant.
            if !named.is_empty() && !named.iter().any(|source| self.shows(*source)) {
                return Err(format!("{what} is marked from {}", self.called(named[0])));
            }
        }
        if matches!(marking.line, MarkedAlong::Centre(_) | MarkedAlong::SquaredOver) {
            for (index, _) in self.board.board.cuts.iter().enumerate().filter(|(_, cut)| cut.role == Role::End) {
                self.needs(Source::Cut(index), what)?;
            }
        }
        Ok(())
    }

    fn surfaces(&self) -> Vec<Source> {
        let solid = &self.board.solid;
        let rims = [&solid.face, &solid.far].into_iter().flat_map(|ring| ring.pieces()).map(|(_, source)| source);
        let mut all: Vec<Source> = [Source::Face, Source::Far].into_iter().chain(rims).collect();
        let mut seen = Vec::new();
        all.retain(|source| {
            !seen.contains(source) && {
                seen.push(*source);
                true
            }
        });
        all
    }

    /// The sides of the blank on which it could lie while a mortise is cut: that to which the mortise runs on its way in; a board lies on
    /// a broad side where an end of it is mortised. Whether such a side is still whole is asked of the wood.
    fn beds(&self, mortise: &Mortise) -> Vec<Side> {
        let axis = mortise.frame.w();
        let ways = [(Side::Face, axis.z), (Side::Far, -axis.z), (Side::Upper, axis.y), (Side::Lower, -axis.y)];
        let is_end = matches!(mortise.on, Some(Source::Cut(cut)) if self.board.board.cuts[cut].role == Role::End)
            || axis.x.abs() > axis.y.abs().max(axis.z.abs());
        let down = ways.into_iter().max_by(|(_, a), (_, b)| a.total_cmp(b)).map(|(side, _)| side);
        if is_end { vec![Side::Face, Side::Far] } else { down.into_iter().collect() }
    }
}

/// What a bench found.
#[derive(Default)]
struct Seen {
    /// Sides on which work lay.
    beds: usize,
    /// Sides that were gone, as the plan said.
    missed: usize,
    /// Sides that were there though the plan said that they were gone.
    alarms: usize,
    ends_after_routing: usize,
}

/// Does the steps of a plan in an order.
///
/// # Errors
/// The first thing that a step needs and that is not there.
fn worked(job: &Job, plan: &Plan, order: &[usize], seen: &mut Seen) -> Result<(), String> {
    let piece = job.piece().expect("a piece");
    let mut woods: Vec<Option<Wood>> = plan
        .parts
        .iter()
        .map(|part| match part.of {
            PartOf::Board(at) => piece.map(|piece| Wood::new(&piece.boards[at])),
            PartOf::Drawn(_) => None,
        })
        .collect();
    let mut flat: Vec<Vec<&'static str>> = vec![Vec::new(); plan.parts.len()];
    let left = |done: usize, is: &dyn Fn(&Step) -> bool| order[done + 1..].iter().any(|at| is(&plan.steps[*at]));
    for (done, at) in order.iter().enumerate() {
        let step = &plan.steps[*at];
        let misses = |side: Side| {
            let is_side =
                |missed: &&fullsize::order::Missed| missed.step == *at && missed.need.on == Reference::Side(side);
            plan.missed.iter().any(|missed| is_side(&missed))
        };
        let Some(part) = step.part else {
            let together = step.work.joins();
            if left(done, &|later| later.part.is_some_and(|part| together.contains(&part))) {
                return Err("put together before its parts are finished".to_owned());
            }
            continue;
        };
        let Some(wood) = woods[part].as_ref() else {
            // A part that the file draws: square sides to bore from, then its outline, then what is worked along that.
            let key = step.work.key();
            let was = &flat[part];
            let fine = match &step.work {
                Work::Dress { .. } => was.is_empty(),
                Work::Bore | Work::Open => was.contains(&"dress") && !was.contains(&"outline"),
                Work::Outline { .. } => was.contains(&"dress"),
                Work::Profile => was.contains(&"outline"),
                _ => false,
            };
            if !fine {
                return Err(format!("{key} of a part that is drawn"));
            }
            flat[part].push(key);
            continue;
        };
        let bed = |side: Side, what: &str, seen: &mut Seen| match (wood.is_whole(side), misses(side)) {
            (true, is_missed) => {
                seen.beds += 1;
                seen.alarms += usize::from(is_missed);
                Ok(())
            }
            (false, true) => {
                seen.missed += 1;
                Ok(())
            }
            (false, false) => Err(format!("{what}: the {side:?} side of {} is gone", wood.board.label)),
        };
        match &step.work {
            Work::Dress { .. } if wood.dressed => return Err("dressed twice".to_owned()),
            Work::Dress { edges, .. } => {
                let blank = wood.board.solid.blank;
                let straight =
                    |index: &usize| matches!(wood.board.board.edges[*index].segments.as_slice(), [Segment::Line(_)]);
                let on_side = |index: &usize| {
                    let segment = wood.board.board.edges[*index].segments[0];
                    [blank.y0, blank.y1]
                        .iter()
                        .any(|y| (segment.start().y - y).abs() < 1e-6 && (segment.end().y - y).abs() < 1e-6)
                };
                assert!(edges.iter().all(straight), "dressed edges are straight");
                assert!(edges.len() <= 1 || edges.iter().all(on_side), "edges of one squared blank");
            }
            Work::SawEnd { end, .. } => {
                wood.needs(Source::Face, "an end").or(if wood.turned {
                    Ok(())
                } else {
                    Err("no face".to_owned())
                })?;
                if let Source::Cut(cut) = end {
                    if wood.board.left_long.contains(cut) {
                        if left(done, &|later| later.part == Some(part) && matches!(later.work, Work::Rout { .. })) {
                            return Err(format!("{} is sawn before it is routed", wood.called(*end)));
                        }
                        seen.ends_after_routing += 1;
                    }
                    let saw = wood.board.cuts.iter().find(|saw| saw.cut == *cut);
                    if let Some(register) =
                        saw.and_then(|saw| saw.registers.first()).filter(|_| wood.board.turned.is_none())
                    {
                        wood.needs(register.source, "a fence")?;
                    }
                }
                if wood.board.turned.is_some() && !wood.turned {
                    return Err("its centre is sawn off before it is turned".to_owned());
                }
            }
            Work::Turn => {
                let sawn = wood.board.board.cuts.iter().enumerate().filter(|(_, cut)| cut.role == Role::End);
                if sawn.into_iter().any(|(index, _)| wood.cuts.contains(&index)) {
                    return Err("its centre is gone".to_owned());
                }
            }
            Work::Rip { cut } => {
                let up = wood.board.board.cuts[*cut].plane.normal().y > 0.0;
                bed(if up { Side::Lower } else { Side::Upper }, "a rip", seen)?;
            }
            Work::Mortise { joint, on, .. } => {
                wood.needs(*on, "a mortise")?;
                let own = wood
                    .board
                    .mortises
                    .iter()
                    .filter(|m| m.of == *joint && m.on == Some(*on) && m.fitting != Fitting::Standing);
                let lies_on = bed_told(plan, *at).ok_or("a mortise is cut, and nothing is said to lie on")?;
                for mortise in own {
                    if !wood.beds(mortise).contains(&lies_on) {
                        return Err(format!("a mortise in {}: it lies on the {lies_on:?} side", wood.called(*on)));
                    }
                    if let Some(told) = marking(wood.board, mortise) {
                        wood.marked(&told, "a mortise")?;
                    }
                    if let Some((exit, told)) = far_marking(wood.board, mortise) {
                        wood.needs(exit, "the far mouth of a mortise")?;
                        wood.marked(&told, "the far mouth of a mortise")?;
                    }
                }
                bed(lies_on, "a mortise", seen)?;
            }
            Work::Cutout { name, on } => {
                wood.needs(*on, "a joint")?;
                for cutout in wood.board.joint_cutouts().filter(|cutout| cutout.joint == name && cutout.on == *on) {
                    if let Some(span) = marked_span(wood.board, &cutout) {
                        wood.marked(&span.marking, "a joint")?;
                    }
                }
            }
            Work::Profile if left(done, &|later| later.part == Some(part)) => {
                return Err("the arrises are gone before all is marked from them".to_owned());
            }
            Work::Shape { .. } | Work::Rout { .. } | Work::Taper { .. } | Work::Fastenings => {
                wood.needs(Source::Face, "a pattern")?;
            }
            Work::Breadboard if !wood.edges.is_empty() => return Err("shaped before its ends are on".to_owned()),
            _ => {}
        }
        // What stands against the cut must be there to be fitted, unless the two stand against each other.
        let cut = match &step.work {
            Work::SawEnd { end: Source::Cut(cut), .. } | Work::Rip { cut } | Work::Taper { cut } => Some(*cut),
            _ => None,
        };
        if let Some(Against::Part { part: other, surface, .. }) =
            cut.and_then(|cut| wood.board.board.cuts[cut].against.as_ref())
        {
            let beside =
                woods.iter().flatten().find(|beside| beside.board.id == *other && beside.board.id != wood.board.id);
            let stands_back = |beside: &Wood| {
                let cuts = beside.board.board.cuts.iter().filter_map(|cut| cut.against.as_ref());
                cuts.into_iter()
                    .any(|against| matches!(against, Against::Part { part, .. } if *part == wood.board.id))
            };
            if let Some(beside) = beside.filter(|beside| !stands_back(beside)) {
                let named: Vec<Source> = beside
                    .surfaces()
                    .into_iter()
                    .filter(|source| beside.board.board.surface(*source) == *surface)
                    .collect();
                if !named.is_empty() && !named.iter().all(|source| beside.shows(*source)) {
                    return Err(format!(
                        "{} is sawn to fit {}, which is not there",
                        wood.board.label,
                        beside.called(named[0])
                    ));
                }
            }
        }
        let wood = woods[part].as_mut().expect("wood");
        match &step.work {
            Work::Dress { edges, .. } => {
                wood.dressed = true;
                wood.planed.extend(edges);
            }
            _ if !wood.dressed && step.work != Work::GlueLines => return Err("worked before it is square".to_owned()),
            Work::SawEnd { end: Source::Cut(cut), .. } | Work::Rip { cut } | Work::Taper { cut } => {
                wood.cuts.push(*cut)
            }
            Work::SawEnd { end: Source::Edge(index), .. } => wood.edges.push(*index),
            Work::Shape { edges, .. } | Work::Rout { edges, .. } => wood.edges.extend(edges),
            Work::Turn => wood.turned = true,
            Work::Profile => wood.profiled = true,
            Work::Mortise { joint, on, .. } => wood.mortised.push((*joint, *on)),
            _ => {}
        }
    }
    let is_whole = plan.waiting.is_empty() && plan.parts.iter().all(|part| part.state == State::ToMake);
    for wood in woods.iter().flatten().filter(|_| is_whole) {
        finished(wood)?;
    }
    if let Some(piece) = piece.filter(|_| is_whole) {
        joined(piece, plan)?;
    }
    Ok(())
}

/// The side on which a step is said to lie, there or gone.
fn bed_told(plan: &Plan, at: usize) -> Option<Side> {
    let missed = plan.missed.iter().filter(|missed| missed.step == at).map(|missed| &missed.need);
    plan.steps[at].needs.iter().chain(missed).find_map(|need| match (need.used, need.on) {
        (Use::Bed, Reference::Side(side)) => Some(side),
        _ => None,
    })
}

/// Whether all that the joints of the piece join is glued, and nothing else: each part in a step with another of its joint.
fn joined(piece: &Piece, plan: &Plan) -> Result<(), String> {
    let glued: Vec<&[usize]> =
        plan.steps.iter().filter(|step| step.work.key() == "glue").map(|step| step.work.joins()).collect();
    let members = |joint: usize| -> Vec<usize> {
        let has = |board: &SolvedBoard| board.mortises.iter().any(|own| own.of == joint && own.on.is_some());
        (0..piece.boards.len()).filter(|index| has(&piece.boards[*index])).collect()
    };
    let mut wanted: Vec<usize> = Vec::new();
    for joint in
        piece.boards.iter().flat_map(|board| &board.mortises).filter(|own| own.on.is_some()).map(|own| own.of)
    {
        let all = members(joint);
        for one in &all {
            let with = |step: &&&[usize]| {
                step.contains(one) && (all.len() == 1 || all.iter().any(|other| other != one && step.contains(other)))
            };
            if !glued.iter().any(|step| with(&step)) {
                return Err(format!("{} is never glued to what it is joined to", piece.boards[*one].label));
            }
        }
        wanted.extend(all);
    }
    match glued.iter().flat_map(|step| step.iter()).find(|part| !wanted.contains(part)) {
        Some(part) => Err(format!("{} is glued to nothing", piece.boards[*part].label)),
        None => Ok(()),
    }
}

/// Whether all of a board is there when all is done.
fn finished(wood: &Wood) -> Result<(), String> {
    let ends = wood.board.solid.ends.iter().enumerate().filter(|(_, end)| !end.rings.is_empty());
    for (cut, _) in ends {
        if !wood.cuts.contains(&cut) {
            return Err(format!("{} is never sawn", wood.called(Source::Cut(cut))));
        }
    }
    if !wood.turned {
        let edge = |source: &Source| matches!(source, Source::Edge(_));
        for source in wood.surfaces().into_iter().filter(edge) {
            let Source::Edge(index) = source else { continue };
            if !wood.edges.contains(&index) && !wood.planed.contains(&index) {
                return Err(format!("{} is never made", wood.called(source)));
            }
        }
    }
    for mortise in wood.board.mortises.iter().filter(|mortise| mortise.fitting != Fitting::Standing) {
        let Some(on) = mortise.on else { continue };
        if !wood.mortised.contains(&(mortise.of, on)) {
            return Err(format!("{}: {} is never cut", wood.board.label, mortise.joint));
        }
    }
    Ok(())
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// A job on a file of ours, where something may be made of it.
fn job_of(name: &str, bytes: &[u8], folder: &Path) -> Option<Job> {
    let beside = |name: &str| {
        let folders = [folder.to_owned(), root().join("fixtures/svg")];
        let found = folders.iter().find_map(|folder| std::fs::read(folder.join(name)).ok());
        found.ok_or_else(|| "none".to_owned())
    };
    let job = Job::new(read_with(name, bytes, None, None, &beside).project?);
    (!job.stops()).then_some(job)
}

fn fixtures() -> Vec<(String, Job)> {
    let mut all = Vec::new();
    for folder in ["fixtures/good", "fixtures/routed", "templates-demo"] {
        let folder = root().join(folder);
        let mut files: Vec<PathBuf> =
            std::fs::read_dir(&folder).expect("a folder").map(|entry| entry.expect("an entry").path()).collect();
        files.sort();
        for path in files.into_iter().filter(|path| path.extension().is_some_and(|ending| ending == "json")) {
            let bytes = std::fs::read(&path).expect("a file");
            let name = path.display().to_string();
            all.extend(job_of(&name, &bytes, &folder).map(|job| (name, job)));
        }
    }
    for (name, file) in examples() {
        all.extend(job_of(&name, file.as_bytes(), &root()).map(|job| (name, job)));
    }
    all
}

/// Random pieces and all fixtures: no step meets what is gone, and steps in another order do.
#[test]
fn no_step_needs_what_is_gone() {
    let each = std::env::var("FULLSIZE_PIECES").ok().and_then(|count| count.parse().ok()).unwrap_or(10);
    let drawn = random(each).into_iter().enumerate().filter_map(|(index, file)| {
        let job = Job::new(read("piece.json", file.to_string().as_bytes(), None, None).project?);
        (!job.stops()).then(|| (format!("random {index} {file}"), job))
    });
    let all: Vec<(String, Job)> = drawn.chain(fixtures()).collect();
    assert!(all.len() as u64 > each * 5 + 25, "{}", all.len());
    let (mut seen, mut wrong, mut shuffled, mut passed) = (Seen::default(), Vec::new(), 0, 0);
    for (index, (name, job)) in all.iter().enumerate() {
        // Whichever part comes first; which is best is asked of the demos alone.
        let by_name = |id: &str| Some(usize::MAX / 2 - id.len());
        let plan = match name.contains("templates-demo") {
            true => Plan::of(job),
            false if index % 2 == 0 => Plan::ranked(job, &by_name),
            false => Plan::ranked(job, &|_| None),
        };
        let plan = plan.expect("an order");
        assert!(plan.rings.is_empty(), "{name}: {:?}", plan.rings);
        let order: Vec<usize> = (0..plan.steps.len()).collect();
        for link in &plan.links {
            assert!(link.before < link.after, "{name}: {link:?}");
        }
        if let Err(why) = worked(job, &plan, &order, &mut seen) {
            wrong.push(format!("{name}: {why}"));
        }
        if plan.steps.len() < 6 {
            continue;
        }
        let back: Vec<usize> = order.iter().rev().copied().collect();
        assert!(worked(job, &plan, &back, &mut Seen::default()).is_err(), "{name}: done backwards");
        for_all(3, |draws| {
            let mut mixed = order.clone();
            for at in (1..mixed.len()).rev() {
                mixed.swap(at, draws.below(at + 1));
            }
            shuffled += 1;
            passed += usize::from(mixed != order && worked(job, &plan, &mixed, &mut Seen::default()).is_ok());
        });
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), all.len(), wrong.join("\n"));
    assert!(passed * 50 < shuffled, "{passed} of {shuffled} shuffled orders were taken");
    // Work lies on whole sides nearly always; ends are left long for a router somewhere.
    assert_eq!(seen.alarms, 0, "sides that are there are said to be gone");
    assert!(seen.missed * 10 < seen.beds, "{} sides missed, {} there", seen.missed, seen.beds);
    assert!(seen.ends_after_routing > 5, "{}", seen.ends_after_routing);
}

fn plan(file: &Json) -> (Job, Plan) {
    let reading = read("piece.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    let plan = Plan::of(&job).expect("an order");
    (job, plan)
}

/// Where the first step of a part that is of a kind stands.
fn at(plan: &Plan, part: &str, is: impl Fn(&Work) -> bool) -> usize {
    let of = |step: &Step| step.part.is_some_and(|at| plan.parts[at].id == part);
    plan.steps.iter().position(|step| of(step) && is(&step.work)).unwrap_or_else(|| panic!("no such step of {part}"))
}

/// A stool's legs taper below their mortises: these are cut while the blank is square.
#[test]
fn mortises_are_cut_before_the_taper() {
    let file: Json = json!({
        "fullsize": 1, "title": "Stool", "units": "mm",
        "base": { "kind": "splayed_legs", "height": 450, "length_at_top": 300, "width_at_top": 300, "splay_front": 5, "splay_side": 5,
            "leg": { "width": 40, "thickness": 40, "taper": { "from": 90, "foot_width": 24, "foot_thickness": 24 } },
            "apron": { "thickness": 20, "depth": 60, "inset": 4 } },
        "joints": { "apron to leg": { "from": "apron", "into": "leg", "thickness": 8, "width": 30, "length": 20 } }
    });
    let (job, plan) = plan(&file);
    let order: Vec<usize> = (0..plan.steps.len()).collect();
    worked(&job, &plan, &order, &mut Seen::default()).expect("an order that can be worked");
    let legs: Vec<&str> =
        plan.parts.iter().filter(|part| part.id.contains("leg")).map(|part| part.id.as_str()).collect();
    for leg in legs {
        let mortise = plan.steps.iter().rposition(|step| {
            step.part.is_some_and(|at| plan.parts[at].id == leg) && matches!(step.work, Work::Mortise { .. })
        });
        let taper = at(&plan, leg, |work| matches!(work, Work::Shape { .. } | Work::Taper { .. }));
        assert!(mortise.expect("a mortise") < taper, "{leg}");
    }
}

const TABLE: &str = include_str!("../templates-demo/reading_table.json");

fn table() -> Json {
    serde_json::from_str(TABLE).expect("a file")
}

/// Where the dry assembly stands.
fn dry(plan: &Plan) -> usize {
    plan.steps.iter().position(|step| step.work.key() == "dry").expect("a dry assembly")
}

/// The demo table: aprons and stretcher are sawn when the frames stand, and gluing is last.
#[test]
fn the_last_parts_wait_for_the_frames() {
    let (_, plan) = plan(&table());
    let dry = dry(&plan);
    let sawn = |work: &Work| matches!(work, Work::SawEnd { .. });
    assert!(at(&plan, "leg", sawn) < dry && at(&plan, "top_rail", sawn) < dry);
    assert!(dry < at(&plan, "stretcher", sawn) && dry < at(&plan, "apron", sawn));
    assert!(matches!(plan.steps.last().map(|step| &step.work), Some(Work::Glue { .. })));
}

/// The demo table with some of its parts made, so much being to do to each still.
fn with_made(made: &[(&str, &[&str], ToDo)]) -> Plan {
    let reading = read("table.json", TABLE.as_bytes(), None, None);
    let mut job = Job::new(reading.project.expect("a project"));
    let entry = |(part, copies, to_do): &(&str, &[&str], ToDo)| AlreadyMade {
        part: (*part).to_owned(),
        copies: copies.iter().map(|copy| (*copy).to_owned()).collect(),
        words: "made".to_owned(),
        to_do: *to_do,
    };
    job.mark_made(made.iter().map(entry).collect());
    Plan::of(&job).expect("an order")
}

/// The keys of the parts that a step puts together.
fn together<'p>(plan: &'p Plan, step: &Step) -> Vec<&'p str> {
    step.work.joins().iter().map(|part| plan.parts[*part].id.as_str()).collect()
}

fn has_steps(plan: &Plan, part: &str) -> bool {
    plan.steps.iter().any(|step| step.part.is_some_and(|at| plan.parts[at].id == part))
}

/// When the frames' parts are made, what comes next is to put them together dry and to measure; what is glued names them.
#[test]
fn frames_that_are_made_are_put_together_and_measured() {
    let keep = |part: &'static str| (part, &[][..], ToDo::Keep);
    let plan = with_made(&[keep("leg"), keep("top_rail"), keep("bottom_rail")]);
    let dry = dry(&plan);
    assert_eq!(together(&plan, &plan.steps[dry]), ["leg", "top_rail", "bottom_rail"]);
    let sawn = |work: &Work| matches!(work, Work::SawEnd { .. });
    assert!(dry < at(&plan, "stretcher", sawn) && dry < at(&plan, "apron", sawn));
    for part in ["leg", "top_rail", "bottom_rail"] {
        assert!(!has_steps(&plan, part), "{part}");
    }
    let glued: Vec<Vec<&str>> =
        plan.steps.iter().filter(|step| step.work.key() == "glue").map(|step| together(&plan, step)).collect();
    assert_eq!(glued.first(), Some(&vec!["leg", "top_rail", "bottom_rail"]));
    assert!(glued.last().is_some_and(|all| all.contains(&"stretcher") && all.contains(&"leg")), "{glued:?}");
    // When nothing that goes between them is left to make, nothing is measured.
    let all = ["leg", "top_rail", "bottom_rail", "apron", "stretcher"].map(keep);
    assert!(with_made(&all).steps.iter().all(|step| step.work.key() != "dry"));
}

/// A part that must be made again, or some copies of which are still wanted, is made; one that is trimmed is not made from the blank.
#[test]
fn what_must_be_made_again_is_in_the_order() {
    let state = |plan: &Plan, id: &str| plan.parts.iter().find(|part| part.id == id).expect("a part").state.clone();
    let plan = with_made(&[("leg", &[], ToDo::Make), ("top_rail", &[], ToDo::Trim), ("stretcher", &[], ToDo::Keep)]);
    assert!(state(&plan, "leg") == State::ToMake && has_steps(&plan, "leg"));
    assert!(state(&plan, "top_rail") == State::ToTrim && !has_steps(&plan, "top_rail"));
    assert!(state(&plan, "stretcher") == State::Exists && !has_steps(&plan, "stretcher"));
    let plan = with_made(&[("leg", &["right front leg"], ToDo::Keep)]);
    assert!(state(&plan, "leg") == State::ToMake && has_steps(&plan, "leg"), "three legs are still to be made");
    let each = ["right front leg", "right back leg", "left front leg", "left back leg"];
    let plan = with_made(&each.each_ref().map(|copy| ("leg", std::slice::from_ref(copy), ToDo::Keep)));
    assert!(state(&plan, "leg") == State::Exists, "all four are made, each by an entry of its own");
}

/// By the commands: a part that is said to be made by a code that nobody knows is made; one that is known is not.
#[test]
fn the_command_asks_what_becomes_of_what_is_made() {
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    let made = shop.run(&["made", "table.json", "top_rail"]);
    assert!(made.status.success(), "{}", text(&made.stderr));
    let file = std::fs::read_to_string(shop.path("table.json")).expect("a file");
    let mut file: Json = serde_json::from_str(&file).expect("JSON");
    file["made"]["leg"] = json!({ "code": "ABCDEF" });
    shop.file("table.json", &file.to_string());
    let ordered = |shop: &Shop| -> Json {
        let done = shop.run(&["order", "table.json", "--format", "json"]);
        serde_json::from_slice(&done.stdout).unwrap_or_else(|_| panic!("{}", text(&done.stderr)))
    };
    let state = |data: &Json, id: &str| -> (String, usize) {
        let part =
            data["parts"].as_array().expect("parts").iter().find(|part| part["id"] == id).expect("a part").clone();
        (part["state"].as_str().expect("a state").to_owned(), part["steps"].as_array().expect("steps").len())
    };
    let data = ordered(&shop);
    assert!(state(&data, "leg").0 == "to_make" && state(&data, "leg").1 > 4, "{:?}", state(&data, "leg"));
    assert_eq!(state(&data, "top_rail"), ("exists".to_owned(), 0));
    let glued = data["steps"].as_array().expect("steps").iter().find(|step| step["work"] == "glue").expect("gluing");
    assert_eq!(glued["joins"], json!(["leg", "top_rail", "bottom_rail"]));
    // Shorter rails are sawn of what is there, longer ones are made again.
    let set =
        |value: &str| assert!(shop.run(&["set", "table.json", &format!("width_at_top={value}")]).status.success());
    set("604");
    assert_eq!(state(&ordered(&shop), "top_rail"), ("to_trim".to_owned(), 0));
    let told = text(&shop.run(&["order", "table.json"]).stdout);
    assert!(
        told.contains("what is still to be cut of them, do that before they are put together: top rail"),
        "{told}"
    );
    set("700");
    assert_eq!(state(&ordered(&shop), "top_rail").0, "to_make");
}

/// A part that has its shape and nothing cut into it: its mortises are told, and that the sides on which they were to be cut are gone.
#[test]
fn what_is_to_be_cut_into_a_part_that_exists_is_in_the_order() {
    let plan = with_made(&[("leg", &[], ToDo::Work), ("apron", &[], ToDo::Work)]);
    let leg = plan.parts.iter().position(|part| part.id == "leg").expect("a leg");
    let own: Vec<(usize, &Step)> = plan.steps.iter().enumerate().filter(|(_, step)| step.part == Some(leg)).collect();
    assert!(own.iter().all(|(_, step)| step.work.key() == "mortise") && own.len() == 3, "{own:?}");
    // Both edges of a leg are shaped: of its mortises those in the landings have nothing straight to lie on.
    let gone = |at: usize| plan.missed.iter().any(|missed| missed.step == at && missed.need.used == Use::Bed);
    for (at, step) in own {
        let is_landing = matches!(step.work, Work::Mortise { on: Source::Edge(_), .. });
        assert_eq!(gone(at), is_landing, "{step:?}");
    }
    // By the command, of a leg that is said to be made without what is worked in it.
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    let made = shop.run(&["made", "table.json", "leg"]);
    assert!(made.status.success(), "{}", text(&made.stderr));
    let file = std::fs::read_to_string(shop.path("table.json")).expect("a file");
    let mut file: Json = serde_json::from_str(&file).expect("JSON");
    file["made"]["leg"]["worked"] = json!(false);
    shop.file("table.json", &file.to_string());
    let done = shop.run(&["order", "table.json", "--format", "json"]);
    let data: Json = serde_json::from_slice(&done.stdout).expect("JSON");
    let leg = data["parts"].as_array().expect("parts").iter().find(|part| part["id"] == "leg").expect("a leg");
    assert!(leg["state"] == "to_work" && leg["steps"].as_array().is_some_and(|steps| steps.len() == 3), "{leg}");
    let told = text(&shop.run(&["order", "table.json"]).stdout);
    assert!(told.contains("leg, made already: do first what fullsize made says of it"), "{told}");
}

/// What is held back stops what it is part of, and nothing else: frames are put together, measured and glued while the stretcher waits.
#[test]
fn what_is_held_back_stops_what_it_is_part_of_alone() {
    let mut file = table();
    // What it is wide moves no mortise of the rails.
    file["undecided"] = json!(["base.stretcher.thickness"]);
    let (_, plan) = plan(&file);
    let held = |part: &usize| matches!(plan.parts[*part].state, State::Held(_));
    dry(&plan);
    let glued: Vec<&Step> = plan.steps.iter().filter(|step| step.work.key() == "glue").collect();
    assert!(!glued.is_empty() && glued.iter().all(|step| !step.work.joins().iter().any(held)), "{glued:?}");
    assert!(plan.waiting.iter().any(|step| step.work.key() == "glue" && step.work.joins().iter().any(held)));
}

/// A leg with two landings: neither is a side of its blank, and both mortises are cut on a wedge that brings the landing level.
#[test]
fn a_mortise_in_a_landing_that_leans_is_cut_on_a_wedge() {
    let (job, plan) = plan(&table());
    let piece = job.piece().expect("a piece").expect("a piece");
    let (part, leg) = piece.boards.iter().enumerate().find(|(_, board)| board.id.as_str() == "leg").expect("a leg");
    let notation = &job.project().notation;
    let told = words(&plan, Some(piece), "a table", notation);
    let mut seen = 0;
    for step in plan.steps.iter().filter(|step| step.part == Some(part)) {
        let Work::Mortise { on: Source::Edge(index), .. } = step.work else { continue };
        let landing = leg.board.edges[index].segments[0];
        // The leg lies on the blank's side at the outside edge, above which the landing rises towards one end.
        let [from, to] = [landing.start(), landing.end()];
        let slope = ((to.y - from.y) / (to.x - from.x)).atan().to_degrees();
        let is_up = leg.solid.blank.center().y < from.y;
        let (rises_to_head, at_foot) = ((slope > 0.0) == is_up, slope.abs());
        let end = if rises_to_head { "foot" } else { "head" };
        let angle = notation.angle(fullsize::units::Angle::from_degrees(at_foot));
        let line = format!("put a wedge of {angle}, its thick end at the {end}, under the part");
        assert!(at_foot > 1.0 && told.contains(&line), "{line}\n{told}");
        seen += 1;
    }
    assert_eq!(seen, 2);
    let dressed = at(&plan, "leg", |work| matches!(work, Work::Dress { .. }));
    assert!(
        matches!(&plan.steps[dressed].work, Work::Dress { edges, .. } if edges.is_empty()),
        "no edge is the blank's"
    );
}

/// Where nothing straight goes to a fence that is said with the tool that does without one, and with the saw's manual before all.
#[test]
fn nobody_is_told_to_rip_freehand() {
    let (mut rips, mut others) = (0, 0);
    for (name, job) in fixtures() {
        let plan = Plan::ranked(&job, &|_| None).expect("an order");
        let told = words(&plan, job.piece().expect("a piece"), &name, &job.project().notation);
        for missed in plan.missed.iter().filter(|missed| missed.need.used == Use::Guide) {
            match plan.steps[missed.step].work {
                Work::Rip { .. } => rips += 1,
                _ => others += 1,
            }
        }
        let unguided = told.lines().filter(|line| line.contains("gone by then") && line.contains("fence"));
        for line in unguided {
            assert!(line.contains("manual") && line.contains("band saw"), "{name}: {line}");
        }
    }
    assert!(rips > 0 && others + rips > 0, "{rips} rips and {others} others go without a fence");
}

/// A template that leads along an end has it routed; nothing saws it to its line first.
#[test]
fn an_end_along_which_a_template_leads_is_routed() {
    let mut file: Json = serde_json::from_str(include_str!("../fixtures/good/routed_table.json")).expect("a file");
    file["routing"]["top"]["template"]["edge"] = json!("right edge");
    let (job, plan) = plan(&file);
    let piece = job.piece().expect("a piece").expect("a piece");
    let (part, top) = piece.boards.iter().enumerate().find(|(_, board)| board.id.as_str() == "top").expect("a top");
    let is_right = |index: &usize| top.board.name_of(Source::Edge(*index)) == "right edge";
    let right: Vec<usize> = (0..top.board.edges.len()).filter(is_right).collect();
    assert!(!right.is_empty());
    for step in plan.steps.iter().filter(|step| step.part == Some(part)) {
        let is_sawn = matches!(step.work, Work::SawEnd { end: Source::Edge(index), .. } if right.contains(&index));
        assert!(!is_sawn, "{step:?}");
    }
    let is_routed = |step: &&Step| {
        step.part == Some(part)
            && matches!(&step.work, Work::Rout { edges, .. } if right.iter().all(|index| edges.contains(index)))
    };
    assert_eq!(plan.steps.iter().filter(is_routed).count(), 1);
}

#[test]
fn the_command_tells_the_order_and_why() {
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    let done = shop.run(&["order", "table.json"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let told = text(&done.stdout);
    assert!(told.contains("Put the frames together dry") && told.contains("it is marked from the"), "{told}");
    let done = shop.run(&["order", "table.json", "--format", "json"]);
    let data: Json = serde_json::from_slice(&done.stdout).expect("JSON");
    let again = shop.run(&["order", "table.json", "--format", "json"]);
    assert_eq!(done.stdout, again.stdout, "the same each time");
    let steps = data["steps"].as_array().expect("steps");
    assert!(steps.len() > 20);
    for step in steps {
        for before in step["after"].as_array().expect("a list") {
            assert!(before["step"].as_u64() < step["number"].as_u64(), "{step}");
        }
    }
}

/// A number that is not decided holds back what hangs on it, and nothing else.
#[test]
fn what_hangs_on_an_undecided_number_is_held_back() {
    let mut file = table();
    file["undecided"] = json!(["base.stretcher.depth"]);
    let (_, held) = plan(&file);
    let states = |plan: &Plan| -> Vec<String> {
        plan.parts.iter().filter(|part| matches!(part.state, State::Held(_))).map(|part| part.id.clone()).collect()
    };
    assert!(
        states(&held).contains(&"stretcher".to_owned()) && !states(&held).contains(&"leg".to_owned()),
        "{:?}",
        states(&held)
    );
    assert!(!held.waiting.is_empty(), "what is glued waits");
    let shop = Shop::new();
    shop.file("table.json", &file.to_string());
    let done = shop.run(&["check", "table.json"]);
    let told = text(&done.stdout);
    assert!(told.contains("\"base.stretcher.depth\" is not decided"), "{told}");
    let done = shop.run(&["print", "table.json"]);
    let printed = text(&done.stdout);
    assert!(
        printed.contains("Held back until what they hang on is decided, so left out: ")
            && printed.contains("\"stretcher\""),
        "{printed}"
    );
    let record = std::fs::read_to_string(shop.path("table.printed.json")).expect("a record");
    let record: Json = serde_json::from_str(&record).expect("JSON");
    let shows = record.to_string();
    assert!(shows.contains("\"leg\""), "{shows}");
    let done = shop.run(&["print", "table.json", "--pattern", "stretcher", "-o", "one.pdf"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    // Where a mortise stands is of the leg too.
    file["undecided"] = json!(["base.bottom_rail.height"]);
    let (_, rails) = plan(&file);
    assert!(states(&rails).contains(&"leg".to_owned()), "{:?}", states(&rails));
}

/// Whatever is drawn of a part that waits for a number says so on every sheet, printed and plotted, and nothing else does.
#[test]
fn what_is_drawn_of_an_undecided_part_says_so() {
    const WORDS: &str = "NOT DECIDED YET: cut nothing by this";
    let mut file: Json = serde_json::from_str(include_str!("../templates-demo/reading_table.json")).expect("a file");
    file["undecided"] = json!(["base.stretcher.depth"]);
    file["shop"]["plotter"] = json!({ "text": "plain" });
    let shop = Shop::new();
    shop.file("table.json", &file.to_string());
    for (part, waits) in [("stretcher", true), ("leg", false)] {
        let done =
            shop.run(&["print", "table.json", "--pattern", part, "-o", "part.pdf", "--format", "json", "--force"]);
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
        let pdf = lopdf::Document::load(shop.path("part.pdf")).expect("a PDF");
        let list = std::fs::read(shop.path("part.sheets.json")).expect("a list");
        let list: Json = serde_json::from_slice(&list).expect("JSON");
        let all = list["patterns"].as_array().expect("patterns").iter();
        let sheets = all.flat_map(|one| one["sheets"].as_array().expect("sheets"));
        let page = |sheet: &Json| u32::try_from(sheet["page"].as_u64().expect("a page")).expect("a page");
        let pages: Vec<u32> = sheets.map(page).collect();
        assert!(!pages.is_empty());
        for page in pages {
            let words = pdf.extract_text(&[page]).expect("words").replace('\n', " ");
            assert_eq!(words.contains(WORDS), waits, "{part}, page {page}: {words}");
        }
        let done = shop.run(&["plot", "table.json", "--pattern", part, "-o", "part.svg", "--force"]);
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
        let plot = std::fs::read_to_string(shop.path("part.svg")).expect("a plot");
        let plot = usvg::roxmltree::Document::parse(&plot).expect("XML");
        let words: Vec<&str> = plot.descendants().filter_map(|node| node.text()).collect();
        assert_eq!(words.iter().any(|words| words.contains(WORDS)), waits, "{words:?}");
        assert_eq!(words.iter().any(|words| words.contains("waits for base.stretcher.depth")), waits, "{words:?}");
    }
}

#[test]
fn a_name_that_is_no_number_is_refused() {
    let shop = Shop::new();
    let mut file = table();
    file["undecided"] = json!(["base.hight"]);
    shop.file("table.json", &file.to_string());
    let done = shop.run(&["check", "table.json"]);
    assert_eq!(done.status.code(), Some(1));
    let told = text(&done.stdout);
    assert!(told.contains("did you mean \"base.height\"?"), "{told}");
}

/// The reading table with a part beside it whose name has a dot, after a change.
fn table_with(change: impl Fn(&mut Json)) -> Job {
    let mut file: Json = serde_json::from_str(include_str!("../templates-demo/reading_table.json")).expect("a file");
    let outline = json!([{ "to": [0, 0] }, { "to": [600, 0] }, { "to": [0, 200] }]);
    file["patterns"] = json!({ "shelf 1.2": { "thickness": 18, "outline": outline } });
    change(&mut file);
    Job::new(read("table.json", file.to_string().as_bytes(), None, None).project.expect("a project"))
}

/// The codes of what is told of a name under `undecided` or under `fixed`, with the name that is offered in its place.
fn told_of(list: &str, name: &str) -> Vec<(String, Option<String>)> {
    let job = table_with(|file| file[list] = json!([name]));
    let of_names =
        job.findings().filter(|found| ["/undecided/0", "/fixed/0"].contains(&found.place.pointer.as_str()));
    let told = of_names.map(|found| {
        let words = found.said(&job.project().notation).in_one_line();
        let offered = words.split_once("did you mean \"").and_then(|(_, rest)| rest.rsplit_once("\"?"));
        (found.code.to_owned(), offered.map(|(name, _)| name.to_owned()))
    });
    told.collect()
}

/// A name is read alike under `undecided` and under `fixed`, as `set` reads it, and both know the same numbers: those too that are not
/// given and follow from others.
#[test]
fn a_name_of_a_number_is_read_alike_wherever_it_stands() {
    for name in [
        "joints.apron tenon",
        "joints.'apron tenon'",
        "joints.\"apron tenon\"",
        "joints.apron tenon.width",
        "base . leg",
        "base.top_rail.set_back",
        "base.leg.outside_edge.rise",
    ] {
        let undecided = told_of("undecided", name);
        assert_eq!((undecided.len(), undecided[0].0.as_str()), (1, "undecided-holds"), "{name}");
        assert_eq!(told_of("fixed", name), [], "{name}");
    }
    for name in ["base.hieght", "joints.apron tennon", "joints.'apron tenon", "base.leg.splayy", "base.", "hook"] {
        for list in ["undecided", "fixed"] {
            let told = told_of(list, name);
            assert_eq!((told.len(), told[0].0.as_str()), (1, format!("{list}-unknown").as_str()), "{name}");
            // What is offered is read back.
            let Some(offered) = &told[0].1 else { continue };
            assert!(told_of(list, offered).iter().all(|(code, _)| !code.ends_with("-unknown")), "{name}: {offered}");
        }
    }
    for (name, meant) in
        [("base.hieght", "base.height"), ("joints.apron tennon", "joints.apron tenon"), ("base.legg", "base.leg")]
    {
        assert_eq!(told_of("fixed", name)[0].1.as_deref(), Some(meant));
    }
    // A part that the file draws is no number.
    assert_eq!(told_of("fixed", "patterns.'shelf 1.2'")[0].0, "fixed-unknown");
}

/// A part with a dot in its name is marked by it, and offered so.
#[test]
fn a_part_with_a_dot_in_its_name_can_be_undecided() {
    for name in ["patterns.'shelf 1.2'", "patterns.\"shelf 1.2\".thickness"] {
        let job = table_with(|file| file["undecided"] = json!([name]));
        assert_eq!(job.held_back("shelf 1.2"), [name]);
        assert!(job.held_back("leg").is_empty());
    }
    let told = told_of("undecided", "patterns.shelf 1.2");
    assert_eq!(told, [("undecided-unknown".to_owned(), Some("patterns.'shelf 1.2'".to_owned()))]);
}

/// Where nothing can be made of a piece as it is, nobody knows what hangs on a number: all its parts are held.
#[test]
fn all_parts_are_held_where_nothing_can_be_made() {
    let job = table_with(|file| {
        file["undecided"] = json!(["base.stretcher.depth"]);
        file["joints"]["apron tenon"]["length"] = json!(180);
    });
    assert!(job.stops());
    let codes: Vec<&str> = job.findings().map(|found| found.code).collect();
    assert!(codes.contains(&"undecided-holds") && !codes.contains(&"undecided-idle"), "{codes:?}");
    for part in ["leg", "apron", "stretcher", "top_rail", "bottom_rail"] {
        assert_eq!(job.held_back(part), ["base.stretcher.depth"], "{part}");
    }
}

/// The numbers that may be changed to spare what is made are those of the base, but for how thick its boards are and for what is fixed; those
/// that follow from others are among them.
#[test]
fn what_may_be_changed_is_of_the_base_and_not_how_thick() {
    let good = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/good");
    let mut seen = 0;
    for file in std::fs::read_dir(good).expect("files").map(|file| file.expect("a file").path()) {
        let Ok(text) = std::fs::read(&file) else { continue };
        let Some(project) = read("piece.json", &text, None, None).project else { continue };
        let spelt = project.spelt_out();
        let is_free = |pointer: &str| pointer.starts_with("/base/") && !pointer.ends_with("/thickness");
        let all: Vec<String> = spelt.numbers().into_iter().map(|number| number.place.pointer).collect();
        let expected: Vec<&String> = all.iter().filter(|pointer| is_free(pointer)).collect();
        let free = project.free_numbers();
        let free: Vec<&String> = free.iter().map(|number| &number.place.pointer).collect();
        assert_eq!(free, expected, "{file:?}");
        seen += free.len();
    }
    assert!(seen > 100, "{seen}");
    let job = table_with(|file| file["fixed"] = json!(["base.leg", "base.'top_rail'.set_back", "base.height"]));
    let free: Vec<String> = job.project().free_numbers().into_iter().map(|number| number.place.pointer).collect();
    let is_fixed = |pointer: &&String| {
        pointer.starts_with("/base/leg/") || ["/base/top_rail/set_back", "/base/height"].contains(&pointer.as_str())
    };
    assert_eq!(free.iter().find(is_fixed), None);
    assert!(free.contains(&"/base/bottom_rail/set_back".to_owned()), "{free:?}");
}
