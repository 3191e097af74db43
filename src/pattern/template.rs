//! Templates for the router as patterns of their own.

use super::hatch::shortfalls;
use super::lines::{CUT_WIDTH, MARK_WIDTH, cross, stroke, words, wrapped};
use super::{Pattern, revision, title};
use crate::geometry::{Affine, Path, Point, Rect, Vec2};
use crate::page::{Anchor, Item, Part, Pen, Role, Text, readable};
use crate::project::{CollarTool, CutterTool, DrawnPattern, TemplateKind, Work};
use crate::router::{Blank, CollarTemplate, InlayPair, RoutedTemplate, TemplateShape};
use crate::units::{Length, Notation};

/// Dashes of the finished line on a template, mm.
const FINISHED: [f64; 2] = [4.0, 2.0];
/// Dots of a second line that is only looked at, mm.
const DOTTED: [f64; 2] = [1.0, 1.5];
/// Reach of the cross at a screw, mm.
const SCREW_CROSS: f64 = 4.0;
/// Height of the capitals of cautions, and from one base line to the next, mm.
const CAUTION: (f64, f64) = (2.5, 4.25);

/// A template of a part at full size, its cautions beneath.
pub fn template(drawn: &DrawnPattern, routed: &RoutedTemplate, project: &str, say: &Notation) -> Pattern {
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
    let part = Part { name: name.clone(), revision: revision::code(&items, thickness.map_or(0.0, Length::mm)) };
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let length = |mm: f64| Length::from_mm(mm);
    let sizes = format!("{} x {}", say.bare_length(length(bounds.width())), say.length(length(bounds.height())));
    let make = match thickness {
        Some(thickness) => format!("make 1 · {} thick", say.exact(thickness)),
        None => "make 1".to_owned(),
    };
    block.insert(0, make.clone());
    block.push(sizes.clone());
    block.push(format!("{project} · rev {}", part.revision));
    title::write(&mut items, &ring, &name, &block, None);
    let around = |items: &[Item]| items.iter().filter_map(Item::bounding_box).fold(bounds, |all, one| all.union(one));
    let drawn_so_far = around(&items);
    items.extend(cautions(routed, drawn_so_far));
    let bounds = around(&items).inflate(title::CLEAR, title::CLEAR);
    Pattern { part, make, sizes, items, bounds, small: false }
}

/// The cautions in lines below what is drawn.
fn cautions(routed: &RoutedTemplate, drawn: Rect) -> Vec<Item> {
    let (height, lead) = CAUTION;
    let mut at = Point::new(drawn.x0, drawn.y0 - 2.0 * lead);
    let mut items = Vec::new();
    for said in routed.cautions.iter().map(|caution| caution.words()) {
        for line in wrapped(said) {
            items.push(words(Role::Text, Text::new(at, height, line)));
            at.y -= lead;
        }
        at.y -= lead / 2.0;
    }
    items
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
        self.say.exact(Length::from_mm(mm))
    }

    /// The template's own rings, the largest first.
    fn rings(&mut self, role: Role, rings: &[Path]) {
        let mut rings: Vec<&Path> = rings.iter().collect();
        rings.sort_by(|a, b| b.signed_area().abs().total_cmp(&a.signed_area().abs()));
        self.items.extend(rings.into_iter().map(|ring| stroke(role, ring.clone(), Pen::solid(CUT_WIDTH))));
    }

    /// Lines to look at, the first of them named where it begins.
    fn looked_at(&mut self, rings: &[Path], dashes: &[f64], name: &str) {
        // As open lines: the name of the template may stand inside them.
        let open = rings.iter().map(|ring| Path::open(ring.segments().to_vec()));
        self.items.extend(open.map(|line| stroke(Role::Mark, line, Pen::dashed(MARK_WIDTH, dashes))));
        let at = rings.first().and_then(|ring| ring.point_at(ring.place_at_length(ring.length() / 8.0)?));
        self.items.extend(at.map(|at| words(Role::Text, Text::new(at + Vec2::new(1.0, 1.0), 2.5, name))));
    }

    fn finished_line(&mut self) {
        self.looked_at(&self.drawn.rings(), &FINISHED, "finished line");
    }

    fn tools(&self, collars: &[&CollarTool], cutter: &CutterTool) -> String {
        let collars = collars.iter().map(|c| format!("collar {} {}", c.name, self.say.exact(c.collar.diameter)));
        let cutter = format!("cutter {} {}", cutter.name, self.say.exact(cutter.cutter.diameter));
        collars.chain([cutter]).collect::<Vec<_>>().join(", ")
    }

    fn collar(&mut self, template: &CollarTemplate) {
        let TemplateKind::Collar { work, collar, cutter } = &self.routed.asked.kind else { return };
        let (role, cut, side) = match work {
            Work::Outside => (Role::Outline, "cut the template to this line, run the collar round it", "inside"),
            Work::Inside => (Role::Opening, "cut this opening in the template, run the collar in it", "outside"),
        };
        self.rings(role, &template.rings);
        self.finished_line();
        let part = self.drawn;
        let (gone, left): (Vec<_>, Vec<_>) = template.left.iter().cloned().partition(|s| s.is_cut_away(part, *work));
        self.items.extend(shortfalls(&gone, "rounded off by", self.say));
        self.items.extend(shortfalls(&left, "pare", self.say));
        self.block.push(self.tools(&[collar], cutter));
        self.block.push(cut.to_owned());
        self.block.push(format!("{} {side} the finished line", self.length(template.offset)));
    }

    fn inlay(&mut self, pair: &InlayPair) {
        let TemplateKind::Inlay { large, small, cutter } = &self.routed.asked.kind else { return };
        self.rings(Role::Opening, &pair.template);
        self.looked_at(&pair.recess, &FINISHED, "recess");
        // Drawn over the recess, an exact plug would not be seen.
        if pair.gap.abs() > crate::router::NOTICEABLE {
            self.looked_at(&pair.plug, &DOTTED, "plug");
        }
        self.items.extend(shortfalls(&pair.lost, "lost", self.say));
        self.items.extend(shortfalls(&pair.to_ease, "ease plug", self.say));
        self.block.push(self.tools(&[large, small], cutter));
        self.block.push("one opening: recess with the large collar, plug with the small one".to_owned());
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
        self.finished_line();
        self.block.push(format!("saw along this line, {} outside the finished line", self.say.exact(distance)));
    }

    fn blank(&mut self, blank: &Blank) {
        let TemplateKind::Blank(wanted) = &self.routed.asked.kind else { return };
        self.rings(Role::Outline, std::slice::from_ref(&blank.outline));
        for (end, long) in blank.ends.iter().zip(blank.leave_long) {
            self.items.push(stroke(Role::Mark, end.clone(), Pen::dashed(MARK_WIDTH, &FINISHED)));
            let said = if long { "end of part: leave it long, saw it after routing" } else { "end of part" };
            self.along(end, said);
        }
        for screw in &blank.screws {
            self.items.extend(cross(Role::Drill, screw.at, SCREW_CROSS));
            let below = screw.at - Vec2::new(0.0, SCREW_CROSS + 3.5);
            let text = Text::new(below, 2.5, "screw").anchored(Anchor::Middle);
            self.items.push(words(Role::Text, text));
        }
        let arrow = blank.feed.arrow.iter();
        self.items.extend(arrow.map(|part| stroke(Role::Mark, part.clone(), Pen::solid(MARK_WIDTH))));
        if let Some(arrow) = blank.feed.arrow.first() {
            let words_at = blank.feed.words_at;
            let by = words_at - arrow.start().zip(arrow.end()).map_or(words_at, |(from, to)| from.midpoint(to));
            let beside = arrow.transformed(Affine::translate(by));
            self.along(&beside, "bearing and cutter on this side; a router in the hand is fed this way");
        }
        let nearest = blank.screws.iter().map(|screw| screw.clear).fold(f64::INFINITY, f64::min);
        if nearest.is_finite() {
            let clear = self.say.at_most(Length::from_mm(nearest));
            self.block.push(format!("screws only where marked, {clear} or more clear of the edge"));
        }
        let edge = self.drawn.routing.edges.get(wanted.edge);
        let which = edge.map(|edge| edge.name.clone().unwrap_or_else(|| format!("to corner {}", edge.corner + 1)));
        self.block.extend(which.map(|which| format!("for the edge {which}")));
        self.block.extend(wanted.cutter.as_ref().map(|cutter| self.tools(&[], cutter)));
    }

    /// Words along a straight line, read from below or from the right.
    fn along(&mut self, path: &Path, said: &str) {
        let Some((from, to)) = path.start().zip(path.end()) else { return };
        let angle = readable((to - from).atan2());
        let up = Vec2::from_angle(angle).turn_90();
        let text = Text::new(from.midpoint(to) + up * 1.2, 2.5, said).anchored(Anchor::Middle).turned(angle);
        self.items.push(words(Role::Text, text));
    }
}
