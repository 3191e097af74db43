//! An order of work in a maker's words.

use super::plan::{Part, Plan, State};
use super::step::{Missed, Need, Reference, Side, Step, Use, Why, Work};
use super::wedge::{ThickAt, Wedge, Wedged};
use crate::board::Source;
use crate::finding::{and, capital, quoted};
use crate::piece::{Piece, SolvedBoard};
use crate::units::{Angle, Notation};

/// What a plan is told of.
#[derive(Clone, Copy)]
pub(super) struct Told<'a> {
    pub(super) plan: &'a Plan,
    pub(super) piece: Option<&'a Piece>,
    pub(super) say: &'a Notation,
}

/// The order of work: each step under its part, with what it stands after and before.
pub fn words(plan: &Plan, piece: Option<&Piece>, heading: &str, say: &Notation) -> String {
    let told = Told { plan, piece, say };
    let mut out = format!(
        "{heading}: the order of work. A step stands after those that make the lines and sides that it is set out from, and before \
         those that take them away; parts on which others hang come first, those that hang on most come last.\n"
    );
    let mut at_hand = None;
    for (index, step) in plan.steps.iter().enumerate() {
        if at_hand != Some(step.part) {
            at_hand = Some(step.part);
            let part = step.part.and_then(|part| plan.parts.get(part));
            let name = part.map_or("the piece", |part| part.label.as_str());
            out.push_str(&format!("\n{name}{}\n", part.map(exists).unwrap_or_default()));
        }
        out.push_str(&format!("{:4}. {}\n", index + 1, told.step(step)));
        for reason in told.reasons(index) {
            out.push_str(&format!("      {reason}\n"));
        }
    }
    out.push_str(&told.rest());
    out
}

/// That a part exists, or which copies of it are to be made, behind its name.
fn exists(part: &Part) -> String {
    match (&part.some_made, &part.state) {
        (Some(some), _) => format!(": {}", some.words()),
        (None, State::ToTrim | State::ToWork) => ", made already".to_owned(),
        (None, State::ToMake | State::Exists | State::Held) => String::new(),
    }
}

impl Told<'_> {
    fn board(&self, part: usize) -> Option<&SolvedBoard> {
        self.piece?.boards.get(part)
    }

    fn label(&self, part: usize) -> &str {
        self.plan.parts.get(part).map_or("", |part| part.label.as_str())
    }

    /// A surface by the name that its sheet gives it.
    pub(super) fn surface(&self, part: usize, source: Source) -> String {
        match (self.board(part), source) {
            (Some(board), _) => board.board.name_of(source).into_owned(),
            (None, Source::Face) => "face side".to_owned(),
            (None, Source::Far) => "far side".to_owned(),
            (None, _) => "outline".to_owned(),
        }
    }

    /// The edge or the face that is a side of the blank.
    fn side(&self, part: usize, side: Side) -> String {
        let Some(board) = self.board(part) else { return format!("straight {} edge of the blank", side.key()) };
        match side {
            Side::Face => return format!("whole {}", board.board.sides[0]),
            Side::Far => return format!("whole {}", board.board.sides[1]),
            Side::Upper | Side::Lower => {}
        }
        let blank = board.solid.blank;
        let level = if side == Side::Upper { blank.y1 } else { blank.y0 };
        let rims = board.solid.face.pieces();
        let off = |y: f64| (y - level).abs();
        let near = rims.filter(|(piece, _)| piece.tangent(0.5).x.abs() > piece.tangent(0.5).y.abs());
        let near = near.min_by(|(a, _), (b, _)| off(a.eval(0.5).y).total_cmp(&off(b.eval(0.5).y)));
        match near {
            Some((_, source)) => format!("blank's straight side at the {}", board.board.name_of(source)),
            None => format!("blank's straight {} side", side.key()),
        }
    }

    pub(super) fn reference(&self, part: usize, on: Reference) -> String {
        match on {
            Reference::Surface(source) => self.surface(part, source),
            Reference::Side(side) => self.side(part, side),
            Reference::Beyond(source) => format!("wood beyond the {}", self.surface(part, source)),
        }
    }

    fn edges(&self, part: usize, edges: &[usize]) -> String {
        let mut names: Vec<String> = Vec::new();
        for index in edges {
            let name = self.surface(part, Source::Edge(*index));
            if !names.contains(&name) {
                names.push(name);
            }
        }
        and(&names)
    }

    pub(super) fn step(&self, step: &Step) -> String {
        let part = step.part.unwrap_or(usize::MAX);
        let surface = |source: &Source| self.surface(part, *source);
        match &step.work {
            Work::Trim { copies, what } if copies.is_empty() => capital(what),
            Work::Trim { copies, what } => format!("{}: {what}", capital(&copies.join(", "))),
            Work::GlueLines => "Cut the mortises of the glue lines, its boards still apart".to_owned(),
            Work::Dress { glued, edges } => {
                let glued = if *glued { "Glue its boards up, then plane" } else { "Plane" };
                let edges = match edges.as_slice() {
                    [] => "the blank square".to_owned(),
                    edges => format!("the blank square, the {} straight", self.edges(part, edges)),
                };
                match self.plan.parts.get(part).is_some() && self.board(part).is_some() {
                    true => format!("{glued} {edges}; leave it longer than drawn"),
                    false => format!("{glued} the blank square"),
                }
            }
            Work::Breadboard => "Cut the tongues and fit the breadboard ends".to_owned(),
            Work::SawEnd { end, tenons: false } => format!("Saw the {}", surface(end)),
            Work::SawEnd { end, tenons: true } => {
                format!(
                    "Saw the shoulders of the {} and cut its tenons; the wood beyond them goes last",
                    surface(end)
                )
            }
            Work::Rip { cut } => format!("Rip or plane the {} to its bevel", surface(&Source::Cut(*cut))),
            Work::Taper { cut } => format!("Plane the {} down to its taper", surface(&Source::Cut(*cut))),
            Work::Mortise { name, on, count, .. } => {
                let what = match count {
                    1 => "the mortise".to_owned(),
                    count => format!("the {count} mortises"),
                };
                format!("Cut {what} of {} in the {}", quoted(name), surface(on))
            }
            Work::Cutout { name, on } => format!("Cut what {} takes of the {}", quoted(name), surface(on)),
            Work::Turn => "Turn it between its centres".to_owned(),
            Work::Shape { edges, curved: true } => {
                format!("Saw the {} to the pattern and fair it", self.edges(part, edges))
            }
            Work::Shape { edges, curved: false } => {
                format!("Saw the {} to the line and plane it straight", self.edges(part, edges))
            }
            Work::Rout { edges, .. } => {
                format!("Saw the {} near the line and rout it along its template", self.edges(part, edges))
            }
            Work::Fastenings => "Bore and cut what holds the top".to_owned(),
            Work::Profile => "Work the profile along its edges".to_owned(),
            Work::Bore => "Bore its holes and slots".to_owned(),
            Work::Open => "Cut its openings".to_owned(),
            Work::Outline { routed: false } => "Saw the outline to the pattern".to_owned(),
            Work::Outline { routed: true } => {
                "Saw the outline near the line and rout it along its template".to_owned()
            }
            Work::Dry { .. } => {
                "Put the frames together dry, stand them up and measure them (as-built takes what was read)"
                    .to_owned()
            }
            Work::Glue { stage, parts } => {
                let all = self.plan.steps.iter().chain(&self.plan.waiting);
                let is_later =
                    all.into_iter().any(|own| matches!(&own.work, Work::Glue { stage: other, .. } if other < stage));
                self.glued(if is_later { "Then glue" } else { "Glue up" }, parts)
            }
        }
    }

    fn glued(&self, what: &str, parts: &[usize]) -> String {
        let names: Vec<String> = parts.iter().map(|part| self.label(*part).to_owned()).collect();
        format!("{what} {}, as the drawing of the assembly has it", and(&names))
    }

    /// Why a step stands where it does, a line each; what goes without saying is left out.
    fn reasons(&self, index: usize) -> Vec<String> {
        let plan = self.plan;
        let mut lines: Vec<String> = Vec::new();
        let mut push = |line: String| {
            if !lines.contains(&line) {
                lines.push(line);
            }
        };
        let is_dressing = |at: usize, part: usize| {
            plan.steps.get(at).is_some_and(|step| matches!(step.work, Work::Dress { .. }) && step.part == Some(part))
        };
        let own = plan.steps.get(index).and_then(|step| step.part);
        for link in &plan.links {
            match link.why {
                Why::Makes(need)
                    if link.after == index && !(is_dressing(link.before, need.part) && own == Some(need.part)) =>
                {
                    push(self.after(link.before, need, own));
                }
                Why::Keeps(need) if link.before == index => push(self.before(link.after, need)),
                Why::Measured if link.after == index => {
                    push(format!("after {}: its length is what is measured there", link.before + 1));
                }
                _ => {}
            }
        }
        let wedges = self.wedges(index);
        // What lies on wedges does not lie square, and its bed is told with them.
        let is_told = |missed: &&Missed| missed.need.used == Use::Bed && !wedges.is_empty();
        for missed in plan.missed.iter().filter(|missed| missed.step == index && !is_told(missed)) {
            push(self.missed(missed));
        }
        wedges.into_iter().for_each(&mut push);
        for pair in plan.mitred.iter().filter(|pair| pair.contains(&index)) {
            let other = if pair[0] == index { pair[1] } else { pair[0] };
            push(format!("at one setting with {}: the two are one mitre", other + 1));
        }
        lines
    }

    fn after(&self, step: usize, need: Need, own: Option<usize>) -> String {
        let on = self.reference(need.part, need.on);
        let of = if own == Some(need.part) { String::new() } else { format!("{}'s ", self.label(need.part)) };
        let number = step + 1;
        match need.used {
            Use::Mouth => format!("after {number}, which makes the {on} that it is cut in"),
            Use::Marked => format!("after {number}: it is marked from the {on}"),
            Use::Fence | Use::Guide => format!("after {number}: the {on} goes to the fence"),
            Use::Against => {
                let of = if of.is_empty() { "the ".to_owned() } else { of };
                format!("after {number}: it fits {of}{on}")
            }
            Use::Laid => format!("after {number}: what it is drawn by lies on the {on}"),
            Use::Room => format!("after {number}, which leaves the {on}"),
            Use::Followed => format!("after {number}: the cutter runs along the {on}"),
            Use::Bed => format!("after {number}: it lies on the {on}"),
        }
    }

    fn before(&self, step: usize, need: Need) -> String {
        let (on, number) = (self.reference(need.part, need.on), step + 1);
        match need.used {
            Use::Bed => format!("before {number}: it lies on the {on} while that is there"),
            Use::Guide => format!("before {number}: the {on} goes to the fence"),
            Use::Room => format!("before {number}: it needs the {on}, which is sawn off there"),
            Use::Mouth => format!("before {number}, which takes the arris of the {on}"),
            Use::Marked | Use::Fence | Use::Laid => format!("before {number}: the {on} is still there to work from"),
            Use::Against | Use::Followed => format!("before {number}: the {on} is still square there"),
        }
    }

    fn missed(&self, missed: &Missed) -> String {
        let on = self.reference(missed.need.part, missed.need.on);
        let work = self.plan.steps.get(missed.step).map(|step| &step.work);
        match (missed.need.used, work) {
            (Use::Guide, Some(Work::Rip { .. })) => format!(
                "the {on} is gone by then: plane it to the line, or saw it to the line by hand or on a band saw; never rip it freehand on a \
                 table saw, which throws back what has no straight side at its fence; what the saw's manual says comes first"
            ),
            (Use::Guide, Some(Work::Bore | Work::Open)) => {
                format!("the {on} is gone by then, and does not go to a fence: clamp the part down")
            }
            (Use::Guide, _) => format!(
                "the {on} is gone by then, and nothing straight goes to a fence: saw to the line by hand or on a band saw, or held fast on a \
                 sled; on a table saw what its manual says comes first"
            ),
            (Use::Marked, _) => self.unmarked(&missed.need, &on),
            _ => format!("{}, so that it lies square to the tool", self.bedded(missed.need.part, &on)),
        }
    }

    /// How a part is marked whose line for that went when it was shaped.
    fn unmarked(&self, need: &Need, on: &str) -> String {
        let offcut = match need.on {
            Reference::Side(_) => "hold the offcut back in its place, or ",
            Reference::Surface(_) | Reference::Beyond(_) => "",
        };
        format!(
            "the {on}, from which it would be marked, is gone: {offcut}prick the place through the pattern laid on the part"
        )
    }

    /// On what a part lies whose side for that is gone.
    fn bedded(&self, part: usize, on: &str) -> String {
        let is_there = self.plan.parts.get(part).is_some_and(|part| part.state == State::ToWork);
        let bed = if is_there { "on the offcut, or on a block that fits there" } else { "on what was sawn off" };
        format!("the {on} is gone by then: bed the part {bed}")
    }

    /// The wedges that bring a mortise upright that goes in off square to the side on which its part lies, a line for each that needs its own.
    fn wedges(&self, index: usize) -> Vec<String> {
        let Some(part) = self.plan.steps.get(index).and_then(|step| step.part) else { return Vec::new() };
        let is_gone = self.plan.missed.iter().any(|missed| missed.step == index && missed.need.used == Use::Bed);
        let line = |wedged: &Wedged| {
            let wedge = |wedge: &Wedge| {
                let angle = self.say.angle(Angle::from_degrees(wedge.degrees));
                format!("a wedge of {angle}, its thick end at the {}", self.thick_at(part, wedge.thick_at))
            };
            let wedges: Vec<String> = wedged.wedges.iter().map(wedge).collect();
            let on = self.side(part, wedged.lies_on);
            let lies = match is_gone {
                true => format!("{};", self.bedded(part, &on)),
                false => format!("lying on the {on},"),
            };
            let under = wedges.join(", and under that ");
            format!("{lies} it goes in off square to that: put {under}, under the part")
        };
        Wedged::at(self.plan, self.piece, index).iter().map(line).collect()
    }

    /// Where the thick end of a wedge is.
    pub(super) fn thick_at(&self, part: usize, at: ThickAt) -> String {
        match at {
            ThickAt::End(source) => self.surface(part, source),
            ThickAt::Side(side) => self.side(part, side),
            ThickAt::Drawn { is_right } => {
                format!("end on the {} as its sheet shows it", if is_right { "right" } else { "left" })
            }
        }
    }

    /// What is made already, what is held back, and what waits for that.
    fn rest(&self) -> String {
        let mut out = String::new();
        let exist = |part: &&Part| part.state == State::Exists && part.waits_for.is_empty();
        let exist: Vec<String> = self.plan.parts.iter().filter(exist).map(|part| part.label.clone()).collect();
        if !exist.is_empty() {
            out.push_str(&format!("\nMade already and good as they are, so not in the order: {}.\n", and(&exist)));
        }
        out.push_str(&self.undecided());
        let waiting = self.plan.waiting.iter().map(|step| {
            let part = step.part.map_or("the piece", |part| self.label(part));
            format!("  {part}: {}\n", self.step(step))
        });
        let waiting: String = waiting.collect();
        if !waiting.is_empty() {
            out.push_str(&format!("\nWaiting for what is held back:\n{waiting}"));
        }
        out
    }

    /// The parts that wait for numbers, those that wait for the same ones together.
    fn undecided(&self) -> String {
        let mut groups: Vec<(&[String], bool, Vec<String>)> = Vec::new();
        for part in self.plan.parts.iter().filter(|part| !part.waits_for.is_empty()) {
            let (numbers, exists) = (part.waits_for.as_slice(), part.state == State::Exists);
            match groups.iter_mut().find(|group| (group.0, group.1) == (numbers, exists)) {
                Some(group) => group.2.push(part.label.clone()),
                None => groups.push((numbers, exists, vec![part.label.clone()])),
            }
        }
        let line = |(numbers, exists, parts): &(&[String], bool, Vec<String>)| {
            let decided = if numbers.len() == 1 { "is decided" } else { "are decided" };
            let (numbers, parts) = (and(numbers), and(parts));
            match exists {
                true => format!(
                    "\nMade already, and good unless {numbers} {decided} otherwise, so glued to nothing before: {parts}.\n"
                ),
                false => format!("\nHeld back until {numbers} {decided}: {parts}.\n"),
            }
        };
        groups.iter().map(line).collect()
    }
}
