//! Templates for the router as patterns of their own.

use super::caution::caution_lines;
use super::clear::Clear;
use super::hatch::{beside_left, depth_words, hatched, left_words};
use super::lines::{CUT_WIDTH, MARK_WIDTH, cross, stroke};
use super::on_part::{end_ticks, minded, words_of};
use super::{Pattern, SolidLine, title};
use crate::geometry::{Flat, Path, Rect, Region, Vec2, nesting};
use crate::model::{
    BearingAt, BlankTemplate, CollarTool, CutterTool, DrawnPattern, EdgeChoice, LiesOn, TemplateKind, Work,
};
use crate::page::{Anchor, Item, Label, Part, Pen, Role, Text, readable};
use crate::router::{
    Beyond, Blank, BlankSettings, CollarTemplate, Feed, GrainRun, GrainWay, HELD_AT_TWO_PLACES, Held, InlayPair,
    Passes, RoutedTemplate, Screw, Shortfall, TemplateSetting, TemplateShape, end_edge,
};
use crate::tolerance::{NOTICEABLE, SAME_POINT};
use crate::units::{Length, Notation};

/// Dashes of the finished line on a template, mm.
const FINISHED: [f64; 2] = [4.0, 2.0];
/// Dashes of the feed with the template turned over, mm.
const TURNED: [f64; 2] = [5.0, 2.0];
/// Dots of a second line that is only looked at, mm.
const DOTTED: [f64; 2] = [1.0, 1.5];
/// Reach of the cross at a screw, mm.
const SCREW_CROSS: f64 = 4.0;
/// What is written beside the arrow of a feed.
const FEED: &str = "bearing and cutter on this side; feed the router this way, on a table the work the other way";
/// What is written in a tongue where no screw has room, the fullest first.
const NO_SCREW: [&str; 3] =
    ["no room for a screw here: hold by tape or toggle clamp", "no screw: tape or toggle clamp", "no screw"];
/// What is written at the end of an edge past which the part goes on, the fullest first: nothing is sawn there.
const EDGE_ENDS: [&str; 2] = ["end of the edge; the part goes on: saw nothing here", "end of the edge"];
/// The same where what is run on passes into the part.
const STOP_HERE: [&str; 2] =
    ["end of the edge; the part goes on: stop the cutter here, saw nothing", "end of the edge: stop the cutter here"];

/// A template of a part at full size, with its revision code, its cautions beneath.
pub fn template(drawn: &DrawnPattern, routed: &RoutedTemplate, code: &str, project: &str, say: &Notation) -> Pattern {
    let name = format!("{}, {}", drawn.name, routed.name);
    let mut draft = Draft { drawn, routed, say, items: Vec::new(), block: Vec::new() };
    match &routed.shape {
        TemplateShape::Collar(template) => draft.collar(template),
        TemplateShape::Inlay(pair) => draft.inlay(pair),
        TemplateShape::SawLine(rings) => draft.saw_line(rings),
        TemplateShape::Blank(blank) => draft.blank(blank),
    }
    let Draft { mut items, mut block, .. } = draft;
    let ring = items.first().map(title::obstacle).unwrap_or_else(|| Path::open(Vec::new()));
    let thickness = routed.asked.thickness;
    let part = Part::new(name.as_str(), code);
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let length = |mm: f64| Length::from_mm(mm);
    let sizes = format!("{} x {}", say.bare_length(length(bounds.width())), say.length(length(bounds.height())));
    let make = match thickness {
        Some(thickness) => format!("make 1 · {} thick", say.length(thickness)),
        None => "make 1".to_owned(),
    };
    let setting = TemplateSetting::new(drawn, routed);
    block.extend(depth_lines(&setting, say));
    block.insert(0, make.clone());
    block.push(sizes.clone());
    block.push(format!("{project} · rev {}", part.revision));
    title::write(&mut items, &ring, &name, (&block, &[0]), None);
    let around = |items: &[Item]| items.iter().filter_map(Item::bounding_box).fold(bounds, |all, one| all.union(one));
    let drawn_so_far = around(&items);
    items.extend(caution_lines(&routed.cautions, drawn_so_far, say));
    let bounds = around(&items).inflate(title::CLEAR, title::CLEAR);
    let solid = match routed.asked.kind {
        TemplateKind::SawLine { distance } => SolidLine::SawLine(distance),
        _ => SolidLine::TemplateEdge,
    };
    Pattern { solid, ..Pattern::new(part, (make, sizes), Flat::from_outside(items).paper(), bounds) }
}

/// How deep the cutter cuts, how far it stands out for that, and in which steps.
fn depth_lines(setting: &TemplateSetting, say: &Notation) -> Vec<String> {
    let Some(cut) = setting.must_cut.filter(|_| setting.cutter.is_some()) else { return Vec::new() };
    let reach = setting.must_reach.map_or_else(String::new, |reach| format!("; stand out {}", say.at_least(reach)));
    let steps = |passes: Option<Passes>| passes.and_then(|passes| passes.words(say));
    let mut lines = match setting.recess {
        Some(recess) => {
            let step = |passes| steps(passes).map_or_else(String::new, |words| format!(", {words}"));
            vec![
                format!(
                    "recess {} deep{}: the inlay stands a little proud",
                    say.length(recess),
                    step(setting.recess_passes)
                ),
                format!("plug cut {} deep, through{}{reach}", say.at_least(cut), step(setting.passes)),
            ]
        }
        None => [format!("cut {} deep{reach}", say.at_least(cut))].into_iter().chain(steps(setting.passes)).collect(),
    };
    lines.extend(too_short(setting, say));
    lines
}

/// That the shop's cutter does not do for it: its shank would rub in the cut, or the router's base stop it.
fn too_short(setting: &TemplateSetting, say: &Notation) -> Vec<String> {
    let name = setting.cutter.as_ref().map_or("", |tool| tool.name.as_str());
    let cuts = setting.cuts_only();
    let cuts = cuts.map(|(has, _)| format!("NOT with {name}: it cuts only {}", say.length(has)));
    let out = setting.stands_out_only();
    let out = out.map(|(has, _)| format!("NOT with {name}: it stands out only {}", say.length(has)));
    cuts.into_iter().chain(out).collect()
}

/// An edge in words: its name as it was given.
pub fn edge_words(edge: &EdgeChoice) -> String {
    match edge {
        EdgeChoice::Name(name) => name.clone(),
        EdgeChoice::Corner(number) => corner_words(*number as usize),
    }
}

/// An edge without a name, by the number of the corner at which it arrives, from 1.
pub fn corner_words(number: usize) -> String {
    format!("edge to corner {number}")
}

/// What becomes of a stretch that a tool does not follow.
#[derive(Debug, Clone, Copy)]
enum Done {
    /// This, by its depth.
    Taken(&'static str),
    /// It is pared or drilled.
    Left,
}

/// A template being drawn.
struct Draft<'a> {
    drawn: &'a DrawnPattern,
    routed: &'a RoutedTemplate,
    say: &'a Notation,
    /// What is drawn; first the ring in which the name stands.
    items: Vec<Item>,
    block: Vec<String>,
}

impl Draft<'_> {
    fn length(&self, mm: f64) -> String {
        self.say.length(Length::from_mm(mm))
    }

    /// The template's own rings, the largest first. `outermost` is what those are that no other encloses; from there inwards
    /// edges of the board and of openings in it take turns.
    fn rings(&mut self, outermost: Role, rings: &[Path]) {
        let depths = nesting(rings);
        let mut rings: Vec<(&Path, usize)> = rings.iter().zip(depths).collect();
        rings.sort_by(|a, b| b.0.signed_area().abs().total_cmp(&a.0.signed_area().abs()));
        let within = if outermost == Role::Opening { Role::Outline } else { Role::Opening };
        let role = |depth: usize| if depth.is_multiple_of(2) { outermost } else { within };
        let items = rings.into_iter().map(|(ring, depth)| stroke(role(depth), ring.clone(), Pen::solid(CUT_WIDTH)));
        self.items.extend(items);
    }

    /// Lines to look at, the first of them named where it begins.
    fn looked_at(&mut self, rings: &[Path], dashes: &[f64], name: &str, work: Work) {
        // As open lines: the name of the template may stand inside them.
        let open = rings.iter().map(|ring| Path::open(ring.segments().to_vec()));
        self.items.extend(open.map(|line| stroke(Role::Mark, line, Pen::dashed(MARK_WIDTH, dashes))));
        // On the side away from the template's line, which is no farther off than the words are high: an outline has the part on
        // its left.
        let away = |ring: &Path| match work {
            Work::Outside => ring.reversed(),
            Work::Inside => ring.clone(),
        };
        let beside = rings.first().and_then(|ring| Clear::new(&self.items).beside(&away(ring), &[name], 2.5));
        self.items.extend(beside);
    }

    fn finished_line(&mut self, work: Work) {
        self.looked_at(&self.drawn.rings(), &FINISHED, "finished line", work);
    }

    /// What a tool leaves or takes, hatched and measured.
    fn shortfalls(&mut self, groups: &[(&[Shortfall], Done)]) {
        groups.iter().for_each(|(left, _)| self.items.extend(hatched(left)));
        let mut clear = Clear::new(&self.items);
        for (place, done) in groups.iter().flat_map(|(left, done)| left.iter().map(move |place| (place, done))) {
            let said = match done {
                Done::Taken(word) => depth_words(place, word, self.say),
                Done::Left => left_words(place, self.say),
            };
            self.items.extend(beside_left(place, said, None, &mut clear));
        }
    }

    fn tools(&self, collars: &[&CollarTool], cutter: &CutterTool) -> String {
        let collars = collars.iter().map(|c| format!("collar {} {}", c.name, self.say.measured(c.collar.diameter)));
        let cutter = format!("cutter {} {}", cutter.name, self.say.measured(cutter.cutter.diameter));
        collars.chain([cutter]).collect::<Vec<_>>().join(", ")
    }

    fn collar(&mut self, template: &CollarTemplate) {
        let TemplateKind::Collar { work, collar, cutter } = &self.routed.asked.kind else { return };
        let (role, cut, side) = match work {
            Work::Outside => (Role::Outline, "cut the template to the solid line, run the collar round it", "inside"),
            Work::Inside => (Role::Opening, "cut the solid line as an opening, run the collar in it", "outside"),
        };
        self.rings(role, &template.rings);
        self.finished_line(*work);
        let part = Region::of(&self.drawn.rings());
        let (gone, left): (Vec<_>, Vec<_>) = template.left.iter().cloned().partition(|s| s.is_cut_away(&part, *work));
        self.shortfalls(&[(&gone, Done::Taken("rounded off by")), (&left, Done::Left)]);
        self.edge_names();
        self.block.push(self.tools(&[collar], cutter));
        self.block.extend(self.lies(LiesOn::Face, ["", ""]));
        // What the line is stands with the sentence that tells to cut to it.
        self.block.push(cut.to_owned());
        self.block.push(format!("it lies {} {side} the finished line (dashed)", self.length(template.offset)));
        self.block.push(
            match work {
                Work::Outside => "feed the router anticlockwise round it, as you look down on it, on either side",
                Work::Inside => "feed the router clockwise in it, as you look down on it, on either side",
            }
            .to_owned(),
        );
        self.block.push(HELD_AT_TWO_PLACES.to_owned());
    }

    fn inlay(&mut self, pair: &InlayPair) {
        let TemplateKind::Inlay { large, small, cutter } = &self.routed.asked.kind else { return };
        self.rings(Role::Opening, &pair.template);
        self.looked_at(&pair.recess, &FINISHED, "recess", Work::Inside);
        // Drawn over the recess, an exact plug would not be seen.
        if pair.gap.abs() > NOTICEABLE {
            self.looked_at(&pair.plug, &DOTTED, "plug", Work::Inside);
        }
        self.shortfalls(&[(&pair.lost, Done::Taken("lost")), (&pair.to_ease, Done::Taken("ease plug"))]);
        self.block.push(self.tools(&[large, small], cutter));
        self.block.push("one opening: recess with the large collar, plug with the small one".to_owned());
        self.block.push("this side away from the wood for both: turned over for one, they do not fit".to_owned());
        self.block.push(HELD_AT_TWO_PLACES.to_owned());
        let radii = [pair.least_outside_radius, pair.least_inside_radius].map(|mm| self.length(mm));
        self.block.push(format!("least radius outside {}, inside {}", radii[0], radii[1]));
        if !pair.corners.is_empty() {
            let kept = |inside: bool| {
                let of: Vec<bool> =
                    pair.corners.iter().filter(|c| c.inside == inside).map(|c| c.survives()).collect();
                let side = if inside { "inside" } else { "outside" };
                (!of.is_empty()).then(|| {
                    format!("{} of {} sharp {side} corners kept", of.iter().filter(|k| **k).count(), of.len())
                })
            };
            self.block.push([kept(false), kept(true)].into_iter().flatten().collect::<Vec<_>>().join(", "));
        }
    }

    fn saw_line(&mut self, rings: &[Path]) {
        let TemplateKind::SawLine { distance } = self.routed.asked.kind else { return };
        self.rings(Role::Outline, rings);
        self.finished_line(Work::Inside);
        self.edge_names();
        self.block.extend(self.lies(LiesOn::Face, ["", ""]));
        let distance = self.say.measured(distance);
        self.block.push(match nesting(rings).iter().any(|depth| *depth > 0) {
            // In an opening the waste lies within the line.
            true => format!(
                "saw along the solid line, {distance} off the finished line (dashed) in the waste: outside the part, inside its openings"
            ),
            false => format!("saw along the solid line, {distance} outside the finished line (dashed)"),
        });
    }

    /// The names of the part's edges and ends, each at its own stretch of the finished line.
    fn edge_names(&mut self) {
        let mut clear = Clear::new(&self.items);
        for edge in &self.drawn.routing.edges {
            let name = edge.name.as_deref();
            self.items.extend(name.and_then(|name| clear.beside(&edge.path, &[name], 2.5)));
        }
    }

    fn blank(&mut self, blank: &Blank) {
        let TemplateKind::Blank(wanted) = &self.routed.asked.kind else { return };
        self.rings(Role::Outline, std::slice::from_ref(&blank.outline));
        for end in &blank.ends {
            self.items.push(stroke(Role::Mark, end.clone(), Pen::dashed(MARK_WIDTH, &FINISHED)));
        }
        blank.screws.iter().for_each(|screw| self.items.extend(cross(Role::Drill, screw.at, SCREW_CROSS)));
        let arrows = blank.feeds.iter().flat_map(|feed| &feed.arrow);
        self.items.extend(arrows.map(|part| stroke(Role::Mark, part.clone(), Pen::solid(MARK_WIDTH))));
        let over: Vec<Feed> =
            self.mirrored().map_or_else(Vec::new, |_| blank.feeds.iter().map(Feed::turned_over).collect());
        let arrows = over.iter().flat_map(|feed| &feed.arrow);
        self.items.extend(arrows.map(|part| stroke(Role::Mark, part.clone(), Pen::dashed(MARK_WIDTH, &TURNED))));
        self.items.extend(hatched(&blank.left));
        let minded: Vec<(Path, &GrainRun)> = minded(&blank.runs).collect();
        self.items.extend(minded.iter().flat_map(|(path, _)| end_ticks(path)));
        self.blank_words(blank, wanted, (&minded, &over));
        self.blank_block(blank, wanted);
    }

    /// What stands beside the lines of a blank, clear of them and of each other.
    fn blank_words(
        &mut self,
        blank: &Blank,
        wanted: &BlankTemplate,
        (minded, over): (&[(Path, &GrainRun)], &[Feed]),
    ) {
        let mut clear = Clear::new(&self.items);
        for place in &blank.left {
            self.items.extend(beside_left(place, left_words(place, self.say), None, &mut clear));
        }
        for (path, run) in minded {
            self.items.extend(clear.beside(path, words_of(run), 2.5));
        }
        for screw in &blank.screws {
            let below = screw.at - Vec2::new(0.0, SCREW_CROSS + 3.5);
            let above = screw.at + Vec2::new(0.0, SCREW_CROSS + 1.0);
            let text = |at| Text::new(at, 2.5, "screw").anchored(Anchor::Middle).about(Label::at(screw.at));
            let tried = [below, above].map(text);
            self.items.extend(clear.first(tried));
        }
        self.bare_tongues(blank, wanted, &mut clear);
        for ((end, long), beyond) in blank.ends.iter().zip(blank.leave_long).zip(blank.beyond) {
            if let Beyond::Part { deep } = beyond {
                self.items.extend(clear.beside(end, if deep > 0.0 { &STOP_HERE } else { &EDGE_ENDS }, 2.5));
                continue;
            }
            let name = end_edge(self.drawn, wanted, end)
                .and_then(|edge| edge.name.as_deref())
                .map_or_else(|| "end of part".to_owned(), |name| format!("{name} of part"));
            let said = match long {
                true => [
                    format!("{name}: leave it long, saw it after routing and before marking out from it"),
                    format!("{name}: leave it long, saw it after routing"),
                    format!("{name}: leave long, saw later"),
                    name,
                ],
                false => [name.clone(), name.clone(), name.clone(), name],
            };
            self.items.extend(clear.beside(end, &said.each_ref().map(String::as_str), 2.5));
        }
        for (path, edge) in blank.followed.iter().zip(&wanted.edges) {
            self.items.extend(clear.beside(path, &[&edge_words(edge)], 2.5));
        }
        let hands = match self.mirrored() {
            None => String::new(),
            Some((drawn, _)) => format!("{drawn} as drawn: "),
        };
        let first = |feed: &Feed| feed.arrow.first().map(Path::reversed);
        for arrow in blank.feeds.iter().filter_map(first) {
            // The waste lies on the right of the feed.
            self.items.extend(clear.beside(&arrow, &[&format!("{hands}{FEED}"), FEED], 2.5));
        }
        for (arrow, (_, mirrored)) in over.iter().filter_map(first).zip(self.mirrored().into_iter().cycle()) {
            let said = format!("{mirrored} mirrored, template turned over: feed the router this way");
            self.items.extend(clear.beside(&arrow, &[&said, "turned over: feed this way"], 2.5));
        }
    }

    /// In each tongue where no screw has room that it must be held all the same: along the tongue, beyond the part's end.
    fn bare_tongues(&mut self, blank: &Blank, wanted: &BlankTemplate, clear: &mut Clear) {
        let middle = |across: &Path| across.start().zip(across.end()).map(|(a, b)| a.midpoint(b));
        let half = wanted.run_on.unwrap_or(BlankSettings::default().run_on).mm() / 2.0;
        for (end, across) in blank.ends.iter().enumerate() {
            let other = blank.ends.get(1 - end).and_then(middle);
            let (Some(at), Some(other)) = (middle(across), other) else { continue };
            if blank.screws.iter().any(|screw| screw.beyond == Some(end)) || at.distance(other) < SAME_POINT {
                continue;
            }
            let out = (at - other).normalize();
            let angle = readable(out.atan2());
            let tried = NO_SCREW.iter().flat_map(|said| {
                [0.0, 5.0, -5.0, 10.0, -10.0].map(|aside| {
                    let at = at + out * half + Vec2::from_angle(angle).turn_90() * (aside - 1.25);
                    Text::new(at, 2.5, *said).anchored(Anchor::Middle).turned(angle).about(Label::at(at))
                })
            });
            self.items.extend(clear.first(tried));
        }
    }

    /// How many parts are made as drawn, and how many of the other hand, where there are such.
    fn mirrored(&self) -> Option<(u32, u32)> {
        let mirrored = self.drawn.board.map(|board| board.mirrored).filter(|mirrored| *mirrored > 0)?;
        Some((self.drawn.make.saturating_sub(mirrored), mirrored))
    }

    /// Which side of the template lies on which side of the part, for either hand; `arrows` say by which arrows each is fed.
    fn lies(&self, on: LiesOn, arrows: [&str; 2]) -> Vec<String> {
        let away = "this side away from the wood";
        let Some(board) = self.drawn.board else { return vec![away.to_owned()] };
        let side = match on {
            LiesOn::Face => format!("face side ({})", board.sides[0]),
            LiesOn::Far => format!("far side ({})", board.sides[1]),
        };
        match self.mirrored() {
            None => vec![format!("lies on the {side}, {away}")],
            Some((drawn, mirrored)) => vec![
                format!("{drawn} as drawn: on the {side}, {away}{}", arrows[0]),
                format!("{mirrored} mirrored: on the {side}, this side to the wood{}", arrows[1]),
            ],
        }
    }

    /// The same of a blank, and what turning it over does to the grain.
    fn lie_words(&mut self, wanted: &BlankTemplate, blank: &Blank) {
        self.block.extend(self.lies(wanted.lies_on, [", full arrows", ", dashed arrows"]));
        if self.mirrored().is_some() && !blank.runs.is_empty() {
            self.block
                .push("turned over, what was against the grain is cut with it, and the other way round".to_owned());
        }
    }

    /// What the title block says of a blank.
    fn blank_block(&mut self, blank: &Blank, wanted: &BlankTemplate) {
        if blank.runs.iter().any(|run| run.way == GrainWay::Against) {
            let other = match wanted.cutter.as_ref().and_then(|tool| tool.cutter.bearing_at) {
                Some(BearingAt::Tip) => "at the shank",
                Some(BearingAt::Shank) => "at the tip",
                None => "at its other end",
            };
            self.block.push(format!("against the grain: turn work and template over, bearing {other}"));
        }
        if blank.beyond.iter().any(|beyond| matches!(beyond, Beyond::Part { .. })) {
            self.block.push("past the edge the part goes on: nothing is sawn there".to_owned());
        }
        self.block.extend(Held::of(self.drawn, wanted, blank).words());
        let nearest = blank.screws.iter().map(|screw| screw.clear).fold(f64::INFINITY, f64::min);
        if nearest.is_finite() {
            let clear = self.say.at_most(Length::from_mm(nearest));
            self.block.push(format!("screws only where marked, {clear} or more clear of the edge"));
        }
        if blank.screws.iter().any(Screw::in_tongue) {
            self.block
                .push("screws beyond the part's ends hold in its rough blank: leave that as long as this".to_owned());
        }
        let names: Vec<String> = wanted.edges.iter().map(edge_words).collect();
        self.block.push(format!("for the {}", names.join(" and the ")));
        self.lie_words(wanted, blank);
        if wanted.lies_on == LiesOn::Far {
            self.block.push("lies on the far side: it is drawn as seen from there".to_owned());
        }
        let at = wanted.cutter.as_ref().and_then(|tool| tool.cutter.bearing_at).map(|at| match at {
            BearingAt::Tip => "bearing at the tip: the template lies on the side away from the router",
            BearingAt::Shank => "bearing at the shank: the template lies between router and work",
        });
        self.block.extend(wanted.cutter.as_ref().map(|cutter| self.tools(&[], cutter)));
        self.block.extend(at.map(str::to_owned));
    }
}
