//! Sheets of parts that a file draws itself, laid on what the file says: its corners, curves, holes, slots and lines, worked out here
//! once more from its numbers, and its templates beside them.

use super::super::made::Made;
use super::super::router;
use super::as_they_are::listed;
use super::lay::{TRUE, laying, strokes};
use fullsize::geometry::{Path, Point, Segment};
use fullsize::page::Role;
use fullsize::pattern::Pattern;
use serde_json::Value as Json;

/// Every part that is drawn directly; how many sheets.
pub fn lay(made: &Made) -> usize {
    let parts = made.file["patterns"].as_object().into_iter().flatten();
    parts.map(|(name, asked)| Part { made, name, asked }.lay()).sum()
}

struct Part<'a> {
    made: &'a Made,
    name: &'a str,
    asked: &'a Json,
}

impl Part<'_> {
    fn lay(&self) -> usize {
        let sheet = self.sheet("");
        let ring = strokes(&sheet.items, Role::Outline)[0].0;
        self.rim(ring);
        self.cut(sheet);
        1 + self.templates(ring)
    }

    /// The sheet of what is made of the part.
    fn sheet(&self, what: &str) -> &Pattern {
        let name = format!("{}{what}", self.name);
        laying(&name);
        self.made.sheets.iter().find(|sheet| sheet.part.name == name).expect("a sheet")
    }

    /// A length of the file, mm: a number, a size's name, or two of them with a sign between.
    fn number(&self, json: &Json) -> f64 {
        let Some(words) = json.as_str() else { return json.as_f64().expect("a number") };
        let two = [" - ", " + ", " / ", " * "].iter().find_map(|sign| Some((sign, words.split_once(sign)?)));
        let of = |words: &str| words.parse().unwrap_or_else(|_| self.number(&self.made.file["sizes"][words]));
        match two {
            Some((&" - ", (a, b))) => of(a) - of(b),
            Some((&" + ", (a, b))) => of(a) + of(b),
            Some((&" / ", (a, b))) => of(a) / of(b),
            Some((_, (a, b))) => of(a) * of(b),
            None => of(words),
        }
    }

    fn point(&self, json: &Json) -> Point {
        Point::new(self.number(&json[0]), self.number(&json[1]))
    }

    /// Each corner with the one before it.
    fn edges(&self) -> Vec<(Point, Point, &Json)> {
        let corners = self.asked["outline"].as_array().expect("an outline of corners");
        let before = corners.iter().cycle().skip(corners.len() - 1);
        before.zip(corners).map(|(from, to)| (self.point(&from["to"]), self.point(&to["to"]), to)).collect()
    }

    /// Sharp corners, the middles of bows and the points of battens lie on the edge of the paper; a rounded corner lies off it by what
    /// its radius takes.
    fn rim(&self, ring: &Path) {
        let off = |p: Point| ring.nearest(p).expect("a rim").0;
        for (from, to, corner) in self.edges() {
            match &corner["corner_radius"] {
                Json::Null => assert!(off(to) < TRUE, "no corner at {to:?}"),
                radius => {
                    let radius = self.number(radius);
                    assert!((0.05 * radius..radius).contains(&off(to)), "{to:?} is not rounded by {radius}");
                }
            }
            let edge = &corner["edge"];
            if !edge["rise"].is_null() {
                // Outside lies to the right of the way round; a bow of positive rise bulges out of the part.
                let out = -(to - from).normalize().turn_90();
                let middle = from.midpoint(to) + out * self.number(&edge["rise"]);
                assert!(off(middle) < TRUE, "the bow lies {} off {middle:?}", off(middle));
            }
            for p in edge["batten"].as_array().into_iter().flatten().map(|p| self.point(p)) {
                assert!(off(p) < TRUE, "the batten lies {} off {p:?}", off(p));
            }
        }
    }

    /// Holes, slots and lines.
    fn cut(&self, sheet: &Pattern) {
        let listed = |what: &str| self.asked[what].as_array().cloned().unwrap_or_default();
        let of = |role: Role| strokes(&sheet.items, role).into_iter().filter_map(|(path, _)| path.bounding_box());
        let round: Vec<_> = of(Role::Drill).collect();
        for hole in listed("holes") {
            let (at, wide) = (self.point(&hole["at"]), self.number(&hole["diameter"]));
            let is_it = |b: &fullsize::geometry::Rect| {
                b.center().distance(at) < TRUE && (b.width() - wide).abs() < TRUE && (b.height() - wide).abs() < TRUE
            };
            assert!(round.iter().any(is_it), "no hole of {wide} at {at:?}");
        }
        let slots: Vec<_> = of(Role::Opening).collect();
        for slot in listed("slots") {
            let ([a, b], wide) = (["from", "to"].map(|end| self.point(&slot[end])), self.number(&slot["width"]));
            let wanted = fullsize::geometry::Rect::from_points(a, b).inflate(wide / 2.0, wide / 2.0);
            let corners = |r: &fullsize::geometry::Rect| [Point::new(r.x0, r.y0), Point::new(r.x1, r.y1)];
            let is_it = |b: &fullsize::geometry::Rect| {
                corners(b).iter().zip(corners(&wanted)).all(|(p, q)| p.distance(q) < TRUE)
            };
            assert!(slots.iter().any(is_it), "no slot from {a:?} to {b:?}");
        }
        for line in listed("marks").iter().filter_map(|mark| mark["line"].as_array()) {
            let [a, b] = [0, 1].map(|end| self.point(&line[end]));
            let lies = |path: &Path| {
                let ends = [path.start(), path.end()].map(|p| p.expect("a line"));
                ends[0].distance(a).max(ends[1].distance(b)) < TRUE
            };
            assert!(strokes(&sheet.items, Role::Mark).iter().any(|(path, _)| lies(path)), "no line {a:?} {b:?}");
        }
    }

    /// The templates of the part, laid on its edge.
    fn templates(&self, ring: &Path) -> usize {
        let all = listed(&self.asked["template"]);
        for wanted in &all {
            let width = |kind: &str, key: &str| {
                self.number(&self.made.file["shop"][kind][wanted[key].as_str().expect("a name")]["diameter"])
            };
            match wanted["kind"].as_str().expect("a kind") {
                "blank" => {
                    let named = |name: &str| -> Vec<Segment> {
                        let own = self.edges().into_iter().filter(|(_, _, corner)| corner["name"] == name);
                        own.map(|(from, to, _)| Segment::line(from, to)).collect()
                    };
                    assert!(router::blank(&named, self.sheet(", template blank"), wanted) > 0);
                }
                "collar" => {
                    let off = (width("collars", "collar") - width("cutters", "cutter")) / 2.0;
                    Self::beside(ring, self.sheet(", collar template"), off, false);
                }
                "inlay" => {
                    let off = (width("collars", "large") - width("cutters", "cutter")) / 2.0;
                    Self::beside(ring, self.sheet(", inlay template"), off, true);
                }
                other => panic!("no model of a template of kind {other}"),
            }
        }
        all.len()
    }

    /// The edge of a template on which a collar runs lies so far off the part's: outside or inside it.
    fn beside(ring: &Path, sheet: &Pattern, off: f64, outside: bool) {
        let role = if outside { Role::Opening } else { Role::Outline };
        let own = strokes(&sheet.items, role)[0].0;
        for segment in own.segments() {
            for p in [0.0, 0.25, 0.5, 0.75].map(|t| segment.eval(t)) {
                let found = ring.nearest(p).expect("a rim").0;
                assert!(
                    (found - off).abs() < TRUE && ring.encloses(p) != outside,
                    "{p:?} lies {found} off, not {off}"
                );
            }
        }
    }
}
