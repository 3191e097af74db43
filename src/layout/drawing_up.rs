//! How the parts of each stage of gluing are drawn up, in words, with the arrows that the picture shows.

use crate::assembly::{Closing, Core, Goes, Member, Plan, Put, Stage, bare, plan};
use crate::geometry::{Point3, Vec3};
use crate::piece::Piece;
use crate::tolerance::{NO_LEAN, SHOWN_SQUARE};
use crate::units::{Angle, Notation};

/// A part that is drawn up with others and travels less than this share of what the farthest does only gives way.
const GIVES_WAY: f64 = 0.2;

/// A part whose tenons point away from each other by more than this, as a cosine, is pulled between two others.
const BETWEEN: f64 = -0.5;

/// An arrow of the picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrow {
    /// Its number on the sheet, from 1.
    pub number: usize,
    /// Where it points: the middle of the tenons by which the part goes on.
    pub at: Point3,
    /// The way in which the part travels, of length 1.
    pub way: Vec3,
    /// The boards that travel.
    pub part: Vec<Member>,
}

/// How a piece is drawn up.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct DrawnUp {
    /// What is told of each stage, beside its number.
    pub stages: Vec<(usize, String)>,
    /// Whether the order is the usual one of its kind.
    pub is_usual: bool,
    /// The arrows, in the order of the words.
    pub arrows: Vec<Arrow>,
}

impl DrawnUp {
    /// How a piece is drawn up: in its usual order, or in the first that was found where that one binds.
    pub(super) fn of(piece: &Piece) -> DrawnUp {
        let plan = plan(piece);
        let mut teller = Teller { piece, plan: &plan, arrows: Vec::new(), told: Vec::new() };
        let early = teller.early();
        let stages = plan.stages.iter().map(|stage| {
            let first = early.iter().filter(|(number, _)| *number == stage.number).map(|(_, words)| words.clone());
            (stage.number, std::iter::once(teller.stage(stage)).chain(first).collect::<Vec<String>>().join("; "))
        });
        let stages = stages.collect();
        DrawnUp { stages, is_usual: plan.is_usual, arrows: teller.arrows }
    }

    /// What is told of the usual stage with a number.
    pub(super) fn usual(&self, number: usize) -> Option<&str> {
        let found = self.stages.iter().find(|(known, _)| self.is_usual && *known == number);
        found.map(|(_, words)| words.as_str())
    }
}

struct Teller<'a> {
    piece: &'a Piece,
    plan: &'a Plan,
    arrows: Vec<Arrow>,
    /// What each arrow stands for: parts that are alike have one.
    told: Vec<(String, String)>,
}

impl Teller<'_> {
    /// Boards without tenons that go in before something else goes on: the number of the stage, and the words.
    fn early(&self) -> Vec<(usize, String)> {
        let said = bare(self.piece, self.plan).into_iter().filter_map(|one| match one.goes {
            Goes::Before(by, stage) => {
                let (board, by) = (self.labels(std::iter::once(one.member)), self.labels(by.into_iter()));
                Some((stage, format!("the {board} goes in before the {by}, which would shut it out")))
            }
            Goes::Last | Goes::Never(_) => None,
        });
        let mut all: Vec<(usize, String)> = said.collect();
        all.dedup();
        all
    }

    fn stage(&mut self, stage: &Stage) -> String {
        let mut said: Vec<String> = Vec::new();
        for closing in &stage.closings {
            let words = self.closing(closing);
            // Both frames of a table are told once.
            if !said.contains(&words) {
                said.push(words);
            }
        }
        said.join("; ")
    }

    fn closing(&mut self, closing: &Closing) -> String {
        let mut said = Vec::new();
        let mut closed: Vec<Member> = Vec::new();
        match &closing.core {
            Core::One(part) => closed.extend(&closing.parts[*part]),
            Core::Together(travels) => {
                said.push(self.together(closing, travels));
                closed.extend(travels.iter().flat_map(|(part, _)| &closing.parts[*part]));
            }
            Core::Stuck(bind) => {
                let of = |part: &usize| closing.parts[*part].clone();
                closed.extend(bind.among.iter().flat_map(of));
                let among = self.names(closing, closed.iter().copied());
                said.push(format!("the tenons of {among} bind each other: see what check tells of it"));
            }
        }
        let mut puts = closing.puts.as_slice();
        while let [put, rest @ ..] = puts {
            let alike =
                1 + rest.iter().take_while(|_| self.is_plain(put)).take_while(|put| self.is_plain(put)).count();
            let name = |put: &Put| self.part(&closing.parts[put.part]);
            let all_alike =
                puts.len() > 1 && puts.iter().all(|other| self.is_plain(other) && name(other) == name(put));
            let run = match rest {
                _ if all_alike => puts.len(),
                [] => 1,
                _ => alike.min(puts.len() - 1),
            };
            said.push(match run > 1 || !rest.is_empty() && self.is_plain(put) {
                true if all_alike => format!("{}; a clamp pulls in line with each", self.run(closing, puts, &closed)),
                true => self.run(closing, &puts[..run], &closed),
                false => self.put(closing, put, &closed),
            });
            closed.extend(puts[..run].iter().flat_map(|put| &closing.parts[put.part]));
            puts = &puts[run..];
        }
        said.join("; then ")
    }

    /// Parts that each go on along tenons of one direction.
    fn run(&self, closing: &Closing, puts: &[Put], closed: &[Member]) -> String {
        let parts = puts.iter().flat_map(|put| closing.parts[put.part].iter().copied());
        let onto = self.other_ends(puts.iter().flat_map(|put| &put.by), closed);
        let [parts, onto] = self.apart(closing, [parts.collect(), onto]);
        format!("{parts} onto the {onto}, each along its own tenons")
    }

    /// A part that goes on last, or over tenons that differ.
    fn put(&mut self, closing: &Closing, put: &Put, closed: &[Member]) -> String {
        let way = heading(put.way);
        let arrow = self.arrow(&closing.parts[put.part], put.way, &put.by);
        let onto = self.other_ends(put.by.iter(), closed);
        let own = &closing.parts[put.part];
        let [part, onto] = self.apart(closing, [own.clone(), onto]);
        // The last of several that are alike is told which it is.
        let is_alike = closing.parts.iter().filter(|other| self.part(other) == self.part(own)).count() > 1;
        let part = if is_alike { self.which(own) } else { part };
        format!("the {part} onto the {onto}, {way} (arrow {arrow}); clamps pull that way, in line with the {onto}")
    }

    fn together(&mut self, closing: &Closing, travels: &[(usize, Vec3)]) -> String {
        let members = travels.iter().flat_map(|(part, _)| closing.parts[*part].iter().copied());
        let mut said = format!(
            "start every tenon of {} before any is home, then draw all up evenly: alone the last would bind",
            self.names(closing, members)
        );
        let farthest = travels.iter().map(|(_, travel)| travel.length()).fold(0.0, f64::max);
        let mut ways: Vec<String> = Vec::new();
        let far = travels.iter().filter(|(_, travel)| travel.length() > GIVES_WAY * farthest);
        let far: Vec<(&[Member], Vec3)> = far
            .filter_map(|(part, travel)| {
                let members = closing.parts[*part].as_slice();
                // As a maker sees it who holds still what it goes onto, and not the middle of all.
                let onto = self.held_still(closing, members, travels);
                Some((members, (*travel - onto).unit()?))
            })
            .collect();
        for (members, way) in &far {
            let by: Vec<usize> = self.tenons_of(members);
            let arrow = self.arrow(members, *way, &by);
            let name = self.part(members);
            // Parts that are alike and travel each its own way are told one by one.
            let is_alike =
                |(other, its): &(&[Member], Vec3)| self.part(other) == name && heading(*its) != heading(*way);
            let name = if far.iter().any(is_alike) { self.which(members) } else { name };
            let onto = self.other_ends(by.iter(), &self.others(closing, members));
            let onto = self.names(closing, onto.into_iter());
            let words = format!("with the {onto} held still the {name} goes on {} (arrow {arrow})", heading(*way));
            if !ways.contains(&words) {
                ways.push(words);
            }
        }
        if !ways.is_empty() {
            said = format!("{said}; {}", ways.join(", "));
        }
        let pulled = travels.iter().filter(|(part, _)| self.is_between(&closing.parts[*part]));
        let pulled: Vec<Member> = pulled.flat_map(|(part, _)| closing.parts[*part].iter().copied()).collect();
        match pulled.is_empty() {
            true => format!("{said}; a band round them pulls all"),
            false => {
                format!("{said}; a clamp pulls in line with each of {}", self.names(closing, pulled.into_iter()))
            }
        }
    }

    /// The boards of a closing that are none of a part's.
    fn others(&self, closing: &Closing, part: &[Member]) -> Vec<Member> {
        closing.parts.iter().flatten().copied().filter(|member| !part.contains(member)).collect()
    }

    /// How far what a part is joined to travels, in the middle of all that it is joined to.
    fn held_still(&self, closing: &Closing, part: &[Member], travels: &[(usize, Vec3)]) -> Vec3 {
        let joined = self.other_ends(self.tenons_of(part).iter(), &self.others(closing, part));
        let is_joined = |index: &usize| closing.parts[*index].iter().any(|member| joined.contains(member));
        let own: Vec<Vec3> =
            travels.iter().filter(|(index, _)| is_joined(index)).map(|(_, travel)| *travel).collect();
        own.iter().fold(Vec3::default(), |sum, travel| sum + *travel) * (1.0 / own.len().max(1) as f64)
    }

    /// Whether a part goes on along tenons of one direction.
    fn is_plain(&self, put: &Put) -> bool {
        let axes: Vec<Vec3> = put.by.iter().filter_map(|index| Some(self.plan.links.get(*index)?.axis)).collect();
        axes.iter().all(|axis| axis.cross(put.way).length() < NO_LEAN)
    }

    /// Whether a part has tenons that point away from each other.
    fn is_between(&self, part: &[Member]) -> bool {
        let out = self.tenons_of(part).into_iter().filter_map(|index| {
            let link = self.plan.links.get(index)?;
            Some(if part.contains(&link.stands_on) { link.axis } else { -link.axis })
        });
        let out: Vec<Vec3> = out.collect();
        out.iter().any(|one| out.iter().any(|other| one.dot(*other) < BETWEEN))
    }

    /// The tenons by which a part is joined to others.
    fn tenons_of(&self, part: &[Member]) -> Vec<usize> {
        let is_of = |index: &usize| {
            let ends = self.plan.links.get(*index).map(|link| [link.stands_on, link.goes_into]);
            ends.is_some_and(|[one, other]| part.contains(&one) != part.contains(&other))
        };
        (0..self.plan.links.len()).filter(is_of).collect()
    }

    /// The boards that tenons join to a part, of those that are closed already.
    fn other_ends<'b>(&self, by: impl Iterator<Item = &'b usize>, closed: &[Member]) -> Vec<Member> {
        let links = by.filter_map(|index| self.plan.links.get(*index));
        let mut found = Vec::new();
        for member in links.flat_map(|link| [link.stands_on, link.goes_into]).filter(|member| closed.contains(member))
        {
            if !found.contains(&member) {
                found.push(member);
            }
        }
        found
    }

    /// The number of the arrow for a part that travels a way; parts that read alike have one.
    fn arrow(&mut self, part: &[Member], way: Vec3, by: &[usize]) -> usize {
        let key = (self.part(part), heading(way));
        if let Some(known) = self.told.iter().position(|told| *told == key) {
            return known + 1;
        }
        self.told.push(key);
        let places: Vec<Vec3> =
            by.iter().filter_map(|index| Some(self.plan.links.get(*index)?.at.to_vec())).collect();
        let middle = places.iter().fold(Vec3::default(), |sum, at| sum + *at) * (1.0 / places.len().max(1) as f64);
        let number = self.told.len();
        self.arrows.push(Arrow { number, at: Point3::ORIGIN + middle, way, part: part.to_vec() });
        number
    }

    /// What a part is called: what was glued before is a frame, an end, or what it is made of.
    fn part(&self, part: &[Member]) -> String {
        let boards = || part.iter().filter_map(|(board, _)| self.piece.boards.get(*board));
        match part.len() > 1 {
            true if boards().any(|board| board.role.is_rail()) => "frame".to_owned(),
            true if boards().any(|board| board.role.is_at_end()) => "end".to_owned(),
            true => format!("glued {}", self.labels(part.iter().copied())),
            false => self.labels(part.iter().copied()),
        }
    }

    /// What the parts of a closing are called to which boards belong, each once: what was glued before goes by one name.
    fn names(&self, closing: &Closing, members: impl Iterator<Item = Member>) -> String {
        let mut found: Vec<String> = Vec::new();
        for name in members.filter_map(|member| closing.parts.iter().find(|part| part.contains(&member))) {
            let name = self.part(name);
            if !found.contains(&name) {
                found.push(name);
            }
        }
        found.join(", ")
    }

    /// Parts that go onto others, and those, by names that tell the two apart: where alike ones meet each by its own.
    fn apart(&self, closing: &Closing, sides: [Vec<Member>; 2]) -> [String; 2] {
        let of = |side: &Vec<Member>, name: &dyn Fn(&[Member]) -> String| {
            let parts = side.iter().filter_map(|member| closing.parts.iter().find(|part| part.contains(member)));
            let mut found: Vec<String> = Vec::new();
            for name in parts.map(|part| name(part)) {
                if !found.contains(&name) {
                    found.push(name);
                }
            }
            found
        };
        let [first, other] = [0, 1].map(|side| of(&sides[side], &|part| self.part(part)));
        let names = match first.iter().any(|name| other.contains(name)) {
            true => [0, 1].map(|side| of(&sides[side], &|part| self.which(part))),
            false => [first, other],
        };
        names.map(|names| names.join(", "))
    }

    /// What one of several parts that are alike is called: a board as its own sheet calls that copy, a frame or an end by its side.
    fn which(&self, part: &[Member]) -> String {
        let copies = || {
            part.iter().filter_map(|(board, copy)| {
                let board = self.piece.boards.get(*board)?;
                Some((board, board.copies.get(*copy)?))
            })
        };
        if part.len() > 1 && copies().any(|(board, _)| board.role.is_rail() || board.role.is_at_end()) {
            let along: f64 = copies().map(|(board, copy)| copy.placement.to_world(board.solid.centroid).x).sum();
            return format!("{} {}", if along < 0.0 { "left" } else { "right" }, self.part(part));
        }
        let labels: Vec<&str> = copies().map(|(_, copy)| copy.label.as_str()).collect();
        let glued = if part.len() > 1 { "glued " } else { "" };
        format!("{glued}{}", labels.join(", "))
    }

    /// The labels of boards, each once.
    fn labels(&self, members: impl Iterator<Item = Member>) -> String {
        let mut found: Vec<&str> = Vec::new();
        for label in members.filter_map(|(board, _)| self.piece.boards.get(board)).map(|board| board.label.as_str()) {
            if !found.contains(&label) {
                found.push(label);
            }
        }
        found.join(", ")
    }
}

/// A way in words as it is set at the bench: along or across the piece, and how far off that and off level, with what it comes to on
/// 100.
fn heading(way: Vec3) -> String {
    // An angle reads alike in every notation.
    let say = |degrees: f64| Notation::default().angle_and_slope(Angle::from_degrees(degrees));
    let off_level = way.z.abs().atan2(way.x.hypot(way.y)).to_degrees();
    let [down, falls] = if way.z < 0.0 { ["down", "falling"] } else { ["up", "rising"] };
    if off_level > 90.0 - SHOWN_SQUARE {
        return format!("straight {down}");
    }
    let in_plan = way.y.abs().atan2(way.x.abs()).to_degrees();
    let (along, off) =
        if in_plan > 45.0 { ("across the piece", 90.0 - in_plan) } else { ("along the piece", in_plan) };
    let aside = if off < SHOWN_SQUARE { String::new() } else { format!(" but {} aside", say(off)) };
    if off_level > 45.0 {
        return format!("straight {down} but {} off plumb, {along}{aside}", say(90.0 - off_level));
    }
    match off_level < SHOWN_SQUARE {
        true => format!("{along}{aside}, level"),
        false => format!("{along}{aside}, {falls} by {}", say(off_level)),
    }
}

#[cfg(test)]
mod tests {
    use super::heading;
    use crate::geometry::Vec3;

    /// As a gauge is set: 15 down on 100, tan 8.53 degrees, and 1.4 aside on 100 of what lies level.
    #[test]
    fn a_way_is_told_by_the_piece_and_by_what_it_falls_on_100() {
        let said = |x: f64, y: f64, z: f64| heading(Vec3::new(x, y, z).unit().expect("a way"));
        assert_eq!(said(0.0, -1.0, -0.15), "across the piece, falling by 8.5° (15 to 100)");
        assert_eq!(
            said(0.014, 1.0, -0.15),
            "across the piece but 0.8° (1.4 to 100) aside, falling by 8.5° (15 to 100)"
        );
        assert_eq!(said(-1.0, 0.0, 0.0), "along the piece, level");
        assert_eq!(said(1.0, 0.05, 0.1), "along the piece but 2.9° (5 to 100) aside, rising by 5.7° (10 to 100)");
        assert_eq!(said(0.0, 0.0, -1.0), "straight down");
        assert_eq!(said(0.1, 0.0, 1.0), "straight up but 5.7° (10 to 100) off plumb, along the piece");
    }
}
