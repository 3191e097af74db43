//! The search: what is asked of the linear programs, in which order, and what of it is solved for true.

use super::elsewhere::{Elsewhere, elsewhere};
use super::lines::{Group, Of, Stand, Task, asked_of};
use super::program::{Answer, Priced, Side, Unknown, solved};
use crate::board::Source;
use crate::change::kept::Kept;
use crate::change::place::Place;
use crate::change::problem::Step;
use crate::change::snapshot::{Given, Snapshot};
use crate::change::verdict::{Outcome, PARED, SHORT, Verdict, Verdicts};
use crate::change::wood::Wood;
use crate::finding::{Finding, Place as At, Severity};
use crate::job::Job;
use crate::model::{Kind, Number, Project};
use crate::project::edit::{GivenAs, given_as};
use crate::tolerance::{ANGLE_NUDGE, BELOW_A_RULE, JUST, LENGTH_NUDGE, NO_EFFECT};
use crate::units::Units;
use std::cell::Cell;

/// The most offers that are made, of these those that keep all but one end, and the most ways of either kind that are solved for true.
const MOST_OFFERS: usize = 3;
const MOST_EXACT: usize = 2;
const MOST_SOLVED: usize = 4;

/// So many times a way is solved and asked anew.
const ROUNDS: usize = 5;

/// By how much a number is changed at most, mm or degrees.
const REACH: (f64, f64) = (60.0, 5.0);

/// Prices: of a mm of a number and of a degree; of a mm that is missing, of one sawn off an end and of one planed off an edge; of a mm by which
/// something worked stands farther off than is pared; and of a mm of what is to be kept.
const PER_MM: f64 = 1.0;
const PER_DEGREE: f64 = 10.0;
const MISSING: f64 = 300.0;
const SAWN: f64 = 0.04;
const PLANED: f64 = 5.0;
const FILLED: f64 = 30.0;
const TO_KEEP: f64 = 300.0;

/// What is not asked costs nothing.
const FREE: Side = Side { allowed: 0.0, cost: 0.0 };

/// What costs so many times what the cheapest does is no offer: it does what is wanted, and no one would want it.
const FAR_DEARER: f64 = 3.0;

/// Each number that is changed is dearer by so much, mm.
const ONE_MORE: f64 = 2.0;

/// Of what may be off, so much is left to what is not linear and to rounding, and so much when all that is done.
const SHARE: f64 = 0.4;
const WHOLE: f64 = 0.95;

/// A program whose answer misses by no more than this, mm, is solved for true: what is not linear comes out of that.
const MAY_MISS: f64 = 1.0;

/// Steps to which numbers are rounded, the coarsest first: mm or inches, and degrees.
const STEPS_MM: [(f64, f64); 4] = [(1.0, 0.5), (0.5, 0.1), (0.1, 0.02), (0.01, 0.002)];
const STEPS_INCH: [(f64, f64); 4] =
    [(25.4 / 16.0, 0.5), (25.4 / 32.0, 0.1), (25.4 / 64.0, 0.02), (25.4 / 2000.0, 0.002)];

/// A number of an offer.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// It as it is.
    pub number: Number,
    /// What it is to be: mm or degrees.
    pub to: f64,
}

/// Other numbers, under which every part that exists stays good or is trimmed.
#[derive(Debug, Clone)]
pub struct Offer {
    /// The numbers.
    pub changes: Vec<Change>,
    /// What becomes of the parts that exist.
    pub verdicts: Verdicts,
    /// What it changes that nobody asked for.
    pub elsewhere: Vec<Elsewhere>,
    /// Warnings that the piece has with it and does not have without.
    pub brings: Vec<Finding>,
}

/// What was found, and how often the piece was solved for it.
#[derive(Debug, Clone, Default)]
pub struct Offers {
    /// What becomes of the parts that exist as the numbers are.
    pub now: Verdicts,
    /// The offers: those that keep all but what is lost first, then the smallest changes.
    pub all: Vec<Offer>,
    /// How often the piece was solved.
    pub solutions: usize,
}

/// What the search asks of whoever wants it.
#[derive(Clone, Copy)]
pub struct Ask<'a> {
    /// Whether a number may be changed.
    pub is_free: &'a dyn Fn(&Number) -> bool,
    /// The project as it is read with numbers set in its file; `None` where the file does not take them.
    pub as_set: &'a dyn Fn(&[Change]) -> Option<Project>,
    /// Is told how often the piece was solved.
    pub tick: &'a dyn Fn(usize),
}

/// Which surfaces may be cut for nothing but their price.
#[derive(Debug, Clone, PartialEq)]
enum Sought {
    /// All.
    Trims,
    /// These alone, by part and surface: all else is to be kept as it is.
    But(Vec<(String, Source)>),
}

/// What a linear program found: which of the free numbers, for what, and what it costs.
#[derive(Debug, Clone)]
struct Way {
    numbers: Vec<usize>,
    sought: Sought,
    cost: f64,
}

/// A number that is wanted as it is now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    /// Where it stands, as a JSON pointer.
    pub pointer: String,
    /// How it is given there.
    pub given: GivenAs,
}

/// The numbers of a piece that are not what they were when one of its made parts was drawn, which is what is wanted now: without those
/// that only followed, worked out of a size that is another now and is wanted where it is given itself. `text` is the piece's file.
pub fn wanted(project: &Project, now: &[Given], kept: &Kept, text: &str) -> Vec<Wanted> {
    let drawn: Vec<&[Given]> = project
        .made
        .iter()
        .filter_map(|made| kept.part(&made.part, &made.code).map(|kept| kept.numbers.as_slice()))
        .collect();
    let differs = |given: &&Given| {
        // A number that was not given then is new; of what was kept without numbers nothing is known.
        let is_another = |all: &&[Given]| match all.iter().find(|was| was.pointer == given.pointer) {
            Some(was) => (was.value - given.value).abs() > BELOW_A_RULE,
            None => !all.is_empty(),
        };
        drawn.iter().any(is_another)
    };
    let as_written = |given: &Given| {
        let steps: Vec<String> = At::pointer(&given.pointer).steps().collect();
        Wanted { pointer: given.pointer.clone(), given: given_as(text, &steps) }
    };
    let mut all: Vec<Wanted> = now.iter().filter(differs).map(as_written).collect();
    let sizes: Vec<String> = all.iter().filter_map(|one| one.given.size()).map(str::to_owned).collect();
    all.retain(|one| match &one.given {
        GivenAs::WorkedOut(names) => !names.iter().any(|name| sizes.contains(name)),
        GivenAs::Itself | GivenAs::Size(_) => true,
    });
    all
}

/// Searches other numbers for a piece of which parts exist; `now` is what it is.
pub fn offers(job: &Job, (kept, now): (&Kept, &Snapshot), ask: Ask) -> Offers {
    let project = job.project();
    let verdicts = Verdicts::of(&project.made, kept, now, &project.notation);
    let solutions = Cell::new(1);
    let search = Search::of(job, (kept, now), ask, &verdicts, &solutions);
    let all = search.map(|search| search.run(&verdicts)).unwrap_or_default();
    Offers { now: verdicts, all, solutions: solutions.get() }
}

struct Search<'a> {
    job: &'a Job,
    /// The same with numbers spelt out that are worked out of others.
    spelt: Job,
    kept: &'a Kept,
    now: &'a Snapshot,
    ask: Ask<'a>,
    /// What becomes of the worst of the parts that are asked, as the numbers are.
    worst: Outcome,
    solutions: &'a Cell<usize>,
    tasks: Vec<Task>,
    /// The free numbers that move something of what is made.
    free: Vec<Number>,
    places: Vec<Place>,
    /// What is asked from the numbers as they are.
    groups: Vec<Group>,
    start: Stand,
}

fn nudge(number: &Number) -> f64 {
    if number.kind == Kind::Angle { ANGLE_NUDGE } else { LENGTH_NUDGE }
}

impl<'a> Search<'a> {
    fn of(
        job: &'a Job,
        (kept, now): (&'a Kept, &'a Snapshot),
        ask: Ask<'a>,
        verdicts: &Verdicts,
        solutions: &'a Cell<usize>,
    ) -> Option<Search<'a>> {
        let tasks = Task::all(&job.project().made, kept, &now.parts);
        let asked = verdicts.all.iter().filter(|verdict| tasks.iter().any(|task| task.is_of(verdict)));
        let worst = asked.map(spared).max().filter(|worst| *worst > Outcome::Keep)?;
        let start = Stand::of(&now.parts, &tasks)?;
        let places = start.places(&tasks);
        let is_measure = |number: &Number| matches!(number.kind, Kind::Length | Kind::Angle);
        let spelt = Job::new(job.project().spelt_out());
        let free =
            spelt.project().numbers().into_iter().filter(|one| is_measure(one) && (ask.is_free)(one)).collect();
        let mut search =
            Search { job, spelt, kept, now, ask, worst, solutions, tasks, free, places, groups: Vec::new(), start };
        let all: Vec<usize> = (0..search.free.len()).collect();
        let nudged: Vec<Option<Stand>> =
            all.iter().map(|index| search.nudged(&all, &vec![0.0; all.len()], *index, &search.start)).collect();
        let moved: Vec<(f64, &Stand)> = nudged
            .iter()
            .zip(&search.free)
            .filter_map(|(stand, number)| Some((nudge(number), stand.as_ref()?)))
            .collect();
        let groups = asked_of(&search.tasks, &search.start, &moved, &search.places);
        let moves = |column: usize| {
            let lines = groups.iter().flat_map(|group| &group.lines);
            lines.into_iter().any(|line| line.by.get(column).is_some_and(|by| by.abs() > NO_EFFECT))
        };
        let known: Vec<usize> =
            all.iter().copied().filter(|index| nudged.get(*index).is_some_and(Option::is_some)).collect();
        let columns: Vec<usize> = (0..known.len()).filter(|column| moves(*column)).collect();
        search.free = columns.iter().filter_map(|column| search.free.get(*known.get(*column)?).cloned()).collect();
        search.groups = groups.into_iter().map(|group| group.of_columns(&columns)).collect();
        Some(search)
    }

    /// The parts that are wanted where some of the free numbers are changed by some amounts.
    fn solved(&self, numbers: &[usize], totals: &[f64]) -> Option<Stand> {
        let values = numbers.iter().zip(totals).filter_map(|(index, by)| {
            let number = self.free.get(*index)?;
            (by.abs() > JUST / 10.0).then_some((&number.place, number.value + by))
        });
        let values: Vec<(&At, f64)> = values.collect();
        self.solutions.set(self.solutions.get() + 1);
        (self.ask.tick)(self.solutions.get());
        let job = self.spelt.with_numbers(&values)?;
        let is_wanted = |id: &str| self.tasks.iter().any(|task| task.part == id);
        Stand::of(&Snapshot::woods(&job, &is_wanted).ok()?, &self.tasks)
    }

    /// As [`Search::solved`], with one of them moved a little more; `None` where that makes another piece of it.
    fn nudged(&self, numbers: &[usize], totals: &[f64], moved: usize, at: &Stand) -> Option<Stand> {
        let mut totals = totals.to_vec();
        let column = numbers.iter().position(|index| *index == moved)?;
        *totals.get_mut(column)? += nudge(self.free.get(moved)?);
        self.solved(numbers, &totals).filter(|other| at.is_like(other))
    }

    fn run(&self, verdicts: &Verdicts) -> Vec<Offer> {
        let mut offers: Vec<Offer> = Vec::new();
        for (ways, most) in [(self.exact(verdicts), MOST_EXACT), (self.trims(), MOST_OFFERS)] {
            for way in ways.into_iter().take(MOST_SOLVED) {
                if offers.len() >= most {
                    break;
                }
                let Some(offer) =
                    self.settled(&way).and_then(|(totals, places)| self.rounded(&way, &totals, &places))
                else {
                    continue;
                };
                if !offers.iter().any(|other| sets(other) == sets(&offer)) {
                    offers.push(offer);
                }
            }
        }
        offers
    }

    /// The ways along which nothing that is made moves but what is left out: nothing, one end, or all that is missing now.
    fn exact(&self, verdicts: &Verdicts) -> Vec<Way> {
        let mut left_out: Vec<Vec<(String, Source)>> = vec![Vec::new(), self.missing(verdicts)];
        left_out.extend(self.start.ends(&self.tasks).into_iter().map(|end| vec![end]));
        let all: Vec<usize> = (0..self.free.len()).collect();
        // Where all can be trimmed as it is, one number may be worth setting, and no more.
        let sets: Vec<Vec<usize>> = match self.worst > Outcome::Trim {
            true => vec![all],
            false => all.into_iter().map(|index| vec![index]).collect(),
        };
        let asked = left_out.iter().flat_map(|left_out| sets.iter().map(move |numbers| (numbers, left_out)));
        worth_it(asked.filter_map(|(numbers, left_out)| self.found(numbers, Sought::But(left_out.clone()))).collect())
    }

    /// The surfaces at which wood is missing as the numbers are.
    fn missing(&self, verdicts: &Verdicts) -> Vec<(String, Source)> {
        let mut all = Vec::new();
        for verdict in verdicts.all.iter().filter(|verdict| verdict.outcome() == Outcome::Again) {
            let Some(index) = self.tasks.iter().position(|task| task.is_of(verdict)) else { continue };
            let lacks = verdict.fit.iter().flat_map(|fit| &fit.lacks);
            for (source, _) in lacks.filter(|(_, by)| *by > self.tasks[index].may_lack) {
                let surface = self.start.as_wanted(index, &self.tasks, *source);
                all.extend(surface.filter(|surface| !all.contains(surface)));
            }
        }
        all
    }

    /// The ways on which made parts are trimmed: each number alone; where none does, pairs of those that all together use; where none of
    /// these does, as few of them as do.
    fn trims(&self) -> Vec<Way> {
        if self.worst <= Outcome::Trim {
            return Vec::new();
        }
        let all: Vec<usize> = (0..self.free.len()).collect();
        let ask = |numbers: &[usize]| self.found(numbers, Sought::Trims);
        let mut ways: Vec<Way> = all.iter().filter_map(|index| ask(&[*index])).collect();
        if let Some(whole) = ask(&all).filter(|_| ways.is_empty()) {
            let used = &whole.numbers;
            let pairs = used.iter().enumerate().flat_map(|(i, a)| used[i + 1..].iter().map(move |b| [*a, *b]));
            ways.extend(pairs.filter_map(|pair| ask(&pair)));
            if ways.is_empty() {
                ways.push(fewest(whole, &ask));
            }
        }
        worth_it(ways)
    }

    /// What the linear program of the numbers as they are finds of some of them; `None` where it misses, and where it changes none.
    fn found(&self, numbers: &[usize], sought: Sought) -> Option<Way> {
        let nothing = vec![0.0; numbers.len()];
        let answer = self.answer(&self.groups, (numbers, numbers), &nothing, &sought, SHARE)?;
        let used = numbers.iter().zip(&answer.totals).filter(|(_, by)| by.abs() > BELOW_A_RULE);
        let used: Vec<usize> = used.map(|(index, _)| *index).collect();
        let cost = answer.cost + ONE_MORE * used.len() as f64;
        let misses = self.misses(&self.groups, &answer, &sought);
        (!used.is_empty() && misses <= MAY_MISS).then_some(Way { numbers: used, sought, cost })
    }

    /// What a program comes to with some numbers, each changed so far by a total; `columns` are theirs in the lines of the groups.
    fn answer(
        &self,
        groups: &[Group],
        (numbers, columns): (&[usize], &[usize]),
        totals: &[f64],
        sought: &Sought,
        share: f64,
    ) -> Option<Answer> {
        let priced: Vec<Priced> =
            groups.iter().map(|group| Priced { group, sides: self.sides(group, sought, share) }).collect();
        let unknown = |(index, now): (&usize, &f64)| {
            let number = self.free.get(*index)?;
            let (price, reach) = if number.kind == Kind::Angle { (PER_DEGREE, REACH.1) } else { (PER_MM, REACH.0) };
            let [least, most] = [number.range.0, number.range.1].map(|end| (end - number.value).clamp(-reach, reach));
            Some(Unknown { price, now: *now, least, most })
        };
        let unknowns: Vec<Unknown> = numbers.iter().zip(totals).filter_map(unknown).collect();
        solved(&unknowns, columns, &priced, self.tasks.len())
    }

    /// What a group costs outside and inside what is there; `share` is how much of what may be off is given away.
    fn sides(&self, group: &Group, sought: &Sought, share: f64) -> [Side; 2] {
        let Some(task) = self.tasks.get(group.task) else { return [FREE; 2] };
        let is_left_out = |source: Source| match sought {
            Sought::Trims => true,
            Sought::But(left_out) => left_out.iter().any(|(part, other)| *part == task.part && *other == source),
        };
        // What is to be kept is to come out as near as it can, and is then asked with what may be off.
        let kept = |may: f64| if share < WHOLE { 0.0 } else { may * share };
        match group.of {
            Of::Surface { source, is_end } if is_left_out(source) => {
                let taken = if is_end { SAWN } else { PLANED };
                [Side { allowed: share * task.may_lack, cost: MISSING }, Side { allowed: 0.0, cost: taken }]
            }
            Of::Surface { .. } => [Side { allowed: kept(task.may_lack), cost: TO_KEEP }; 2],
            Of::Worked { on } if on.is_some_and(is_left_out) || *sought == Sought::Trims => {
                [Side { allowed: share * PARED, cost: FILLED }; 2]
            }
            Of::Worked { .. } => [Side { allowed: kept(SHORT), cost: TO_KEEP }; 2],
        }
    }

    /// By how much an answer misses what has to be: wood that is missing, what is kept that moves, what is worked where it cannot be pared.
    fn misses(&self, groups: &[Group], answer: &Answer, sought: &Sought) -> f64 {
        let of = |(group, over): (&Group, &[f64; 2])| {
            let [out, inside] = self.sides(group, sought, SHARE).map(|side| side.cost);
            let counts = |cost: f64, over: f64| if cost >= FILLED { over } else { 0.0 };
            counts(out, over[0]).max(counts(inside, over[1]))
        };
        groups.iter().zip(&answer.over).map(of).sum()
    }

    /// By how much numbers and places come out changed when a way is solved for true; `None` where it does not hold.
    fn settled(&self, way: &Way) -> Option<(Vec<f64>, Vec<Place>)> {
        let (mut totals, mut places) = (vec![0.0; way.numbers.len()], self.places.clone());
        let own: Vec<usize> = (0..way.numbers.len()).collect();
        let mut anew: Option<Vec<Group>> = None;
        for _ in 0..ROUNDS {
            let (groups, columns) = match &anew {
                Some(groups) => (groups, &own),
                None => (&self.groups, &way.numbers),
            };
            let answer = self.answer(groups, (&way.numbers, columns), &totals, &way.sought, SHARE)?;
            totals.clone_from(&answer.totals);
            moved(&mut places, &answer);
            let stand = self.solved(&way.numbers, &totals)?;
            if let Some(places) = self.holds(&stand, &places, way) {
                return Some((totals, places));
            }
            let nudged = way.numbers.iter().map(|index| self.nudged(&way.numbers, &totals, *index, &stand));
            let nudged: Vec<Stand> = nudged.collect::<Option<_>>()?;
            let steps = way.numbers.iter().filter_map(|index| self.free.get(*index)).map(nudge);
            let nudged: Vec<(f64, &Stand)> = steps.zip(&nudged).collect();
            anew = Some(asked_of(&self.tasks, &stand, &nudged, &places));
        }
        None
    }

    /// The places of parts with which a piece does what a way seeks, within all that may be off; `None` where there are none.
    fn holds(&self, stand: &Stand, places: &[Place], way: &Way) -> Option<Vec<Place>> {
        let mut places = places.to_vec();
        // Turns and curves: a second look from where the first one led.
        for _ in 0..2 {
            let groups = asked_of(&self.tasks, stand, &[], &places);
            let answer = self.answer(&groups, (&[], &[]), &[], &way.sought, WHOLE)?;
            moved(&mut places, &answer);
            if self.misses(&groups, &answer, &way.sought) < BELOW_A_RULE
                && answer.places.iter().flatten().all(|by| by.abs() < SHORT)
            {
                return Some(places);
            }
        }
        None
    }

    /// The offer at the coarsest steps with which a way does what it seeks.
    fn rounded(&self, way: &Way, totals: &[f64], places: &[Place]) -> Option<Offer> {
        let steps = if self.job.project().notation.units == Units::Inch { STEPS_INCH } else { STEPS_MM };
        steps.iter().find_map(|step| {
            let rounded = way.numbers.iter().zip(totals).filter_map(|(index, by)| {
                let number = self.free.get(*index)?;
                let step = if number.kind == Kind::Angle { step.1 } else { step.0 };
                // A number that comes out as it was is as it was written.
                let to =
                    if by.abs() < step / 2.0 { number.value } else { ((number.value + by) / step).round() * step };
                Some(to.clamp(number.range.0, number.range.1) - number.value)
            });
            let rounded: Vec<f64> = rounded.collect();
            let stand = self.solved(&way.numbers, &rounded)?;
            self.holds(&stand, places, way)?;
            self.verified(way, &rounded)
        })
    }

    /// What is offered, once the file with it was read, solved and asked; `None` where that does not say what the search says.
    fn verified(&self, way: &Way, totals: &[f64]) -> Option<Offer> {
        let change = |(index, by): (&usize, &f64)| {
            let number = self.free.get(*index).filter(|_| by.abs() > JUST)?;
            Some(Change { number: number.clone(), to: number.value + by })
        };
        let changes: Vec<Change> = way.numbers.iter().zip(totals).filter_map(change).collect();
        if changes.is_empty() {
            return None;
        }
        self.solutions.set(self.solutions.get() + 1);
        let job = Job::new((self.ask.as_set)(&changes)?);
        let then = Snapshot::of(&job).ok().filter(|_| !job.stops())?;
        let project = job.project();
        let verdicts = Verdicts::of(&project.made, self.kept, &then, &project.notation);
        let does = |verdict: &Verdict| match &way.sought {
            Sought::But(left_out) if !left_out.iter().any(|(part, _)| verdict.part.as_ref() == Some(part)) => {
                spared(verdict) == Outcome::Keep
            }
            Sought::But(_) => {
                verdict.outcome() <= Outcome::Trim
                    && verdict.steps.iter().all(|step| {
                        matches!(
                            step,
                            Step::Saw { .. }
                                | Step::Deepen { .. }
                                | Step::Cut(_)
                                | Step::Idle(_)
                                | Step::MarkThrough(_)
                        )
                    })
            }
            Sought::Trims => verdict.outcome() <= Outcome::Trim,
        };
        // What other numbers do nothing to is no hindrance: parts that the piece no longer has, or that the file draws directly.
        let asked = || verdicts.all.iter().filter(|verdict| self.tasks.iter().any(|task| task.is_of(verdict)));
        let worst = asked().map(spared).max()?;
        if worst >= self.worst || asked().count() < self.tasks.len() || !asked().all(does) {
            return None;
        }
        let is_made = |wood: &Wood| self.tasks.iter().any(|task| task.part == wood.id);
        let pieces = [self.job.piece().ok().flatten(), job.piece().ok().flatten()];
        let elsewhere = elsewhere(pieces, [self.now, &then], &is_made);
        let brings = brought(self.job, &job);
        Some(Offer { changes, verdicts, elsewhere, brings })
    }
}

/// What becomes of the wood of a part: what was never worked in it and is to be cut still takes nothing from that.
fn spared(verdict: &Verdict) -> Outcome {
    let is_work = |step: &Step| matches!(step, Step::Cut(_) | Step::Idle(_) | Step::MarkThrough(_));
    if verdict.lacks.is_empty() && verdict.steps.iter().all(is_work) { Outcome::Keep } else { verdict.outcome() }
}

/// The places that an offer sets.
fn sets(offer: &Offer) -> Vec<&At> {
    offer.changes.iter().map(|change| &change.number.place).collect()
}

/// Ways from the cheapest on, as long as they are not far dearer.
fn worth_it(mut ways: Vec<Way>) -> Vec<Way> {
    ways.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let most = ways.first().map_or(0.0, |way| FAR_DEARER * way.cost);
    ways.retain(|way| way.cost <= most);
    ways
}

/// What warns of a piece and did not of another, by code and place.
fn brought(before: &Job, now: &Job) -> Vec<Finding> {
    let was: Vec<&Finding> = before.findings().collect();
    let is_new = |found: &&Finding| {
        found.severity == Severity::Warn
            && !was.iter().any(|other| other.code == found.code && other.place.pointer == found.place.pointer)
    };
    now.findings().filter(is_new).cloned().collect()
}

/// Leaves out of a way one number after another, the one without which it is cheapest, as long as it still does.
fn fewest(mut way: Way, ask: &dyn Fn(&[usize]) -> Option<Way>) -> Way {
    loop {
        let without = |index: usize| {
            let rest: Vec<usize> = way.numbers.iter().copied().filter(|other| *other != index).collect();
            ask(&rest)
        };
        let fewer = way.numbers.iter().filter_map(|index| without(*index)).min_by(|a, b| a.cost.total_cmp(&b.cost));
        match fewer {
            Some(fewer) => way = fewer,
            None => return way,
        }
    }
}

/// Moves parts on as an answer says.
fn moved(places: &mut [Place], answer: &Answer) {
    for (place, by) in places.iter_mut().zip(&answer.places) {
        *place = place.moved(*by);
    }
}
