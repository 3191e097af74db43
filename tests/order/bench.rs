//! Every step of the fixtures' and of random pieces' orders, done on the bench.

use super::{at, fixtures, plan};
use crate::bench_models::random;
use crate::common::draws::for_all;
use fullsize::board::{Against, Fitting, Mortise, Role, Source};
use fullsize::geometry::{Point, Point3, Segment, Vec3};
use fullsize::job::Job;
use fullsize::joinery::{MarkedAlong, Marking, far_marking, marked_span, marking};
use fullsize::order::{PartOf, Plan, Reference, Side, State, Step, Use, Work};
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::project::read;
use serde_json::{Value as Json, json};

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
            let is_side = |missed: &&fullsize::order::Missed| {
                missed.step == *at && missed.need.used.is_spared() && missed.need.on == Reference::Side(side)
            };
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
