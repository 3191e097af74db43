//! The stages of gluing, and whether each goes together.

use super::link::{Link, Member, links};
use super::travel::{Pull, apart, least_play};
use crate::board::PartRole;
use crate::geometry::Vec3;
use crate::piece::Piece;

/// Tenons whose directions differ by less than about 30 degrees, as a cosine, are drawn up in one stage where no usual order is
/// known.
const ALONGSIDE: f64 = 0.87;

/// Orders of more kinds of direction than this are not tried: there are too many, and no piece has them.
const KINDS: usize = 3;

/// How a piece is glued.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Every tenon of it.
    pub links: Vec<Link>,
    /// The stages, in order.
    pub stages: Vec<Stage>,
    /// Whether the order is the usual one of its kind; else that binds, and this one is the first that was found.
    pub is_usual: bool,
}

/// What is glued at one time: of a table both frames.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    /// Its number; of the usual order 0 is frames, ends or all that is glued at once, 1 what joins them, 2 the top.
    pub number: usize,
    /// Each set of parts that becomes one part.
    pub closings: Vec<Closing>,
}

/// Parts that become one.
#[derive(Debug, Clone, PartialEq)]
pub struct Closing {
    /// The parts: boards, and what earlier stages made of boards.
    pub parts: Vec<Vec<Member>>,
    /// With what it begins.
    pub core: Core,
    /// What then goes on part by part, in order.
    pub puts: Vec<Put>,
}

/// With what a closing begins.
#[derive(Debug, Clone, PartialEq)]
pub enum Core {
    /// One part.
    One(usize),
    /// Parts of which none goes on alone when the others are closed, but all of whose tenons draw up at once: each with its travel
    /// as it is drawn up, mm from where every tenon just stands before its mortise, about their middle.
    Together(Vec<(usize, Vec3)>),
    /// Parts that do not go together.
    Stuck(Bind),
}

/// A part that goes on alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Put {
    /// Which of the closing's parts.
    pub part: usize,
    /// The way it travels as it goes on, of length 1.
    pub way: Vec3,
    /// The tenons by which it goes on, by their index in the plan.
    pub by: Vec<usize>,
}

/// Why parts do not go together, told of the part that is nearest to going on.
#[derive(Debug, Clone, PartialEq)]
pub struct Bind {
    /// Which of the closing's parts.
    pub part: usize,
    /// All parts of which none goes on.
    pub among: Vec<usize>,
    /// The two of its tenons whose directions differ most, by their index in the plan.
    pub between: [usize; 2],
    /// The angle between those, radians.
    pub angle: f64,
    /// How far the second runs into its cheeks where the part goes on along the first, mm; `None` where it does not go on so.
    pub bind: Option<f64>,
    /// How much more play each way, mm, every tenon would need; `None` where none is enough.
    pub looser: Option<f64>,
}

impl Plan {
    /// What does not go together.
    pub fn binds(&self) -> impl Iterator<Item = (&Closing, &Bind)> {
        self.stages.iter().flat_map(|stage| &stage.closings).filter_map(|closing| match &closing.core {
            Core::Stuck(bind) => Some((closing, bind)),
            Core::One(_) | Core::Together(_) => None,
        })
    }
}

/// How a piece is glued: in the usual order of its kind or, where that binds, in the first other that does not. Of parts that may go on
/// as the last of their stage those with these boards do.
pub(super) fn planned(piece: &Piece, last: &[Member]) -> Plan {
    let links = links(piece);
    let usual: Vec<usize> = links.iter().map(|link| usual_stage(piece, link)).collect();
    of_links(links, usual, last)
}

/// As [`planned`], of tenons whose usual stages are known, by number.
fn of_links(links: Vec<Link>, usual: Vec<usize>, last: &[Member]) -> Plan {
    let first = stages(&links, &usual, last);
    let goes = |stages: &[Stage]| {
        let cores = stages.iter().flat_map(|stage| &stage.closings).map(|closing| &closing.core);
        !cores.into_iter().any(|core| matches!(core, Core::Stuck(_)))
    };
    if goes(&first) {
        return Plan { links, stages: first, is_usual: true };
    }
    let other =
        other_orders(&links, &usual).into_iter().map(|order| stages(&links, &order, last)).find(|made| goes(made));
    match other {
        Some(stages) => Plan { links, stages, is_usual: false },
        None => Plan { links, stages: first, is_usual: true },
    }
}

/// Frames or ends first, then what joins them, then the top.
fn usual_stage(piece: &Piece, link: &Link) -> usize {
    let of = |member: Member| match piece.boards.get(member.0).map(|board| board.role) {
        Some(PartRole::Top) => 2,
        Some(role) if (role.is_apron() || role.is_stretcher()) && !role.is_at_end() => 1,
        _ => 0,
    };
    of(link.stands_on).max(of(link.goes_into))
}

/// Tenons of one direction in a stage, the directions in every order; then all at once.
fn other_orders(links: &[Link], usual: &[usize]) -> Vec<Vec<usize>> {
    let mut kinds: Vec<Vec3> = Vec::new();
    let mut kind = Vec::new();
    for link in links {
        let known = kinds.iter().position(|known| known.dot(link.axis).abs() > ALONGSIDE);
        kind.push(known.unwrap_or(kinds.len()));
        if known.is_none() {
            kinds.push(link.axis);
        }
    }
    let orders = if kinds.len() > KINDS { Vec::new() } else { orders(kinds.len()) };
    let by_kind = orders.into_iter().map(|order| kind.iter().map(|kind| order[*kind]).collect::<Vec<usize>>());
    let all = by_kind.chain([vec![0; links.len()]]);
    all.filter(|order| order != usual).collect()
}

/// Every order of so many things.
fn orders(count: usize) -> Vec<Vec<usize>> {
    let Some(last) = count.checked_sub(1) else { return vec![Vec::new()] };
    let shorter = orders(last).into_iter();
    let with_last = |order: Vec<usize>| {
        (0..count).map(move |place| {
            let moved = order.iter().map(|k| if *k >= place { k + 1 } else { *k });
            moved.chain([place]).collect()
        })
    };
    shorter.flat_map(with_last).collect()
}

/// Closes the parts stage by stage.
fn stages(links: &[Link], stage_of: &[usize], last: &[Member]) -> Vec<Stage> {
    let mut parts: Vec<Vec<Member>> = Vec::new();
    for member in links.iter().flat_map(|link| [link.stands_on, link.goes_into]) {
        if !parts.iter().any(|part| part.contains(&member)) {
            parts.push(vec![member]);
        }
    }
    parts.sort();
    let mut numbers = stage_of.to_vec();
    numbers.sort_unstable();
    numbers.dedup();
    let mut made = Vec::new();
    for number in numbers {
        let of_stage = links.iter().zip(stage_of).filter(|(_, stage)| **stage == number).map(|(link, _)| link);
        let mut closings = Vec::new();
        for together in connected(&parts, of_stage) {
            if together.len() > 1 {
                closings.push(closing(together.iter().map(|part| parts[*part].clone()).collect(), links, last));
            }
        }
        for closing in &closings {
            parts.retain(|part| !closing.parts.contains(part));
            parts.push(closing.parts.concat());
        }
        if !closings.is_empty() {
            made.push(Stage { number, closings });
        }
    }
    made
}

/// The parts that tenons make one, by their index.
fn connected<'a>(parts: &[Vec<Member>], links: impl Iterator<Item = &'a Link>) -> Vec<Vec<usize>> {
    let mut sets: Vec<Vec<usize>> = (0..parts.len()).map(|part| vec![part]).collect();
    for link in links {
        let [one, other] = [link.stands_on, link.goes_into].map(|member| {
            let part = parts.iter().position(|part| part.contains(&member));
            sets.iter().position(|set| part.is_some_and(|part| set.contains(&part)))
        });
        if let (Some(one), Some(other)) = (one, other)
            && one != other
        {
            let moved = sets.remove(one.max(other));
            sets[one.min(other)].extend(moved);
        }
    }
    sets
}

/// How parts become one, found by taking them apart: what can leave while more is there can leave when less is, so that whatever
/// leaves first may be taken.
fn closing(parts: Vec<Vec<Member>>, links: &[Link], last: &[Member]) -> Closing {
    let part_of = |member: Member| parts.iter().position(|part| part.contains(&member));
    let open = links.iter().enumerate().filter_map(|(index, link)| {
        let (on, into) = (part_of(link.stands_on)?, part_of(link.goes_into)?);
        (on != into).then_some((index, Pull { on, into, link }))
    });
    let open: Vec<(usize, Pull)> = open.collect();
    let mut left: Vec<usize> = (0..parts.len()).collect();
    let mut puts = Vec::new();
    while left.len() > 1 {
        let Some(put) = leaves(&left, &open, |part| standing(&parts[part], part, &open, last)) else { break };
        left.retain(|part| *part != put.part);
        puts.push(put);
    }
    puts.reverse();
    let core = match left.as_slice() {
        [one] => Core::One(*one),
        all => together(all, &open),
    };
    Closing { parts, core, puts }
}

/// The tenons within some parts, numbered by their places among them.
fn within<'a>(among: &[usize], open: &[(usize, Pull<'a>)]) -> Vec<Pull<'a>> {
    let place = |part: usize| among.iter().position(|known| *known == part);
    open.iter().filter_map(|(_, pull)| Some(Pull { on: place(pull.on)?, into: place(pull.into)?, ..*pull })).collect()
}

/// The tenons between one part and others that stay: those are the first part, it is the second.
fn between<'a>(part: usize, left: &[usize], open: &[(usize, Pull<'a>)]) -> Vec<(usize, Pull<'a>)> {
    let of = open.iter().filter_map(|(index, pull)| {
        let stays = |other: usize| other != part && left.contains(&other);
        match (pull.on == part, pull.into == part) {
            (true, false) if stays(pull.into) => Some((*index, Pull { on: 1, into: 0, ..*pull })),
            (false, true) if stays(pull.on) => Some((*index, Pull { on: 0, into: 1, ..*pull })),
            _ => None,
        }
    });
    of.collect()
}

/// Whether what is left without a part still hangs together.
fn hangs_together(part: usize, left: &[usize], open: &[(usize, Pull)]) -> bool {
    let Some(first) = left.iter().find(|other| **other != part) else { return true };
    let mut reached = vec![*first];
    let mut next = 0;
    while let Some(at) = reached.get(next).copied() {
        next += 1;
        for (_, pull) in open {
            let other = if pull.on == at { pull.into } else { pull.on };
            let touches = pull.on == at || pull.into == at;
            if touches && other != part && left.contains(&other) && !reached.contains(&other) {
                reached.push(other);
            }
        }
    }
    reached.len() + 1 == left.len()
}

/// How much speaks for it that others go onto a part: whether it is not to go on last, how many tenons it has in all, and of how many
/// boards it is.
fn standing(part: &[Member], index: usize, open: &[(usize, Pull)], last: &[Member]) -> (bool, usize, usize) {
    let tenons = open.iter().filter(|(_, pull)| pull.on == index || pull.into == index).count();
    (!part.iter().any(|member| last.contains(member)), tenons, part.len())
}

/// A part that can leave what is left alone: one that is to go on last, else of several the one with the most tenons there; of those one
/// onto which others go least, and then the last.
fn leaves(left: &[usize], open: &[(usize, Pull)], standing: impl Fn(usize) -> (bool, usize, usize)) -> Option<Put> {
    let mut tried: Vec<(usize, Vec<(usize, Pull)>)> =
        left.iter().rev().map(|part| (*part, between(*part, left, open))).collect();
    tried.sort_by_key(|(part, by)| {
        let (is_early, tenons, boards) = standing(*part);
        (is_early, std::cmp::Reverse(by.len()), tenons, boards)
    });
    tried.into_iter().filter(|(part, _)| hangs_together(*part, left, open)).find_map(|(part, by)| {
        let pulls: Vec<Pull> = by.iter().map(|(_, pull)| *pull).collect();
        let way = -apart(2, &pulls, 0.0)?.get(1)?.unit()?;
        Some(Put { part, way, by: by.into_iter().map(|(index, _)| index).collect() })
    })
}

/// Parts of which none leaves alone: drawn up all at once, or stuck.
fn together(among: &[usize], open: &[(usize, Pull)]) -> Core {
    let pulls = within(among, open);
    let Some(travels) = apart(among.len(), &pulls, 0.0) else { return stuck(among, open) };
    let middle = travels.iter().fold(Vec3::default(), |sum, travel| sum + *travel) * (1.0 / travels.len() as f64);
    Core::Together(among.iter().copied().zip(travels.iter().map(|travel| middle + -*travel)).collect())
}

/// Why parts do not go together: told of the part that lacks least.
fn stuck(among: &[usize], open: &[(usize, Pull)]) -> Core {
    let lacks = |part: &usize| {
        let pulls: Vec<Pull> = between(*part, among, open).iter().map(|(_, pull)| *pull).collect();
        least_play(2, &pulls)
    };
    let far = |looser: &Option<f64>| looser.unwrap_or(f64::MAX);
    let all = among.iter().filter(|part| hangs_together(**part, among, open)).map(|part| (*part, lacks(part)));
    let nearest = all.min_by(|a, b| far(&a.1).total_cmp(&far(&b.1)));
    let (part, alone) = nearest.unwrap_or((among.first().copied().unwrap_or_default(), None));
    let at_once = least_play(among.len(), &within(among, open));
    let looser = [alone, at_once].into_iter().flatten().reduce(f64::min);
    let by = between(part, among, open);
    // Both axes away from what stays.
    let leaving = |pull: &Pull| if pull.into == 1 { pull.link.axis } else { -pull.link.axis };
    let angle = |a: &Pull, b: &Pull| {
        let (a, b) = (leaving(a), leaving(b));
        a.cross(b).length().atan2(a.dot(b))
    };
    let pairs = by.iter().enumerate().flat_map(|(k, one)| by.iter().skip(k + 1).map(move |other| (one, other)));
    let widest = pairs.map(|(a, b)| (angle(&a.1, &b.1), a, b)).max_by(|a, b| a.0.total_cmp(&b.0));
    let (angle, between, bind) = match widest {
        Some((angle, one, other)) if leaving(&one.1).dot(leaving(&other.1)) > 0.0 => {
            (angle, [one.0, other.0], other.1.link.bind_along(one.1.link.axis))
        }
        Some((angle, one, other)) => (angle, [one.0, other.0], None),
        None => (0.0, [0, 0], None),
    };
    Core::Stuck(Bind { part, among: among.to_vec(), between, angle, bind, looser })
}
