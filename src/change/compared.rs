//! Two pieces held against each other, part by part.

use super::differs::Differences;
use super::snapshot::{Given, Snapshot};
use super::wood::{Kind, Wood};
use crate::tolerance::BELOW_A_RULE;

/// Two pieces held against each other.
#[derive(Debug, Clone)]
pub struct Compared<'a> {
    /// As it was.
    pub old: &'a Snapshot,
    /// As it is.
    pub new: &'a Snapshot,
    /// Each part of either: those that are there in their order, then those that are gone.
    pub parts: Vec<Met<'a>>,
}

/// A part as it was and as it is.
#[derive(Debug, Clone)]
pub struct Met<'a> {
    /// As it was; `None` of a new one.
    pub old: Option<&'a Wood>,
    /// As it is; `None` of one that is gone.
    pub new: Option<&'a Wood>,
    /// What became of it.
    pub fate: Fate,
}

/// What became of a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Fate {
    /// No tool would do anything else to it.
    Same,
    /// Its code is another, though nothing of it moves by as much as a maker notices.
    AsGood,
    /// It is another.
    Changed(Box<Differences>),
    /// It was not there.
    New,
    /// It is no more.
    Gone,
}

impl<'a> Compared<'a> {
    /// Holds a piece as it is against what it was.
    ///
    /// Parts are met by what they are: those of one key and kind; then those of one kind and one code, of which only the name is
    /// another; then boards of one role of which a copy is called alike, so that legs which were one pattern are held against it
    /// where left and right have come to differ.
    pub fn of(old: &'a Snapshot, new: &'a Snapshot) -> Compared<'a> {
        let parts = met(&old.parts, &new.parts);
        let parts = parts.into_iter().map(|(old, new)| Met { old, new, fate: fate(old, new) }).collect();
        Compared { old, new, parts }
    }

    /// The parts with a certain fate.
    pub fn of_fate(&self, is: impl Fn(&Fate) -> bool) -> impl Iterator<Item = &Met<'a>> {
        self.parts.iter().filter(move |met| is(&met.fate))
    }

    /// Whether nothing of wood differs, and none is new or gone.
    pub fn is_same(&self) -> bool {
        let same = |met: &Met| matches!(met.fate, Fate::Same | Fate::AsGood);
        self.parts.iter().all(same)
    }

    /// The numbers of the file that differ, as they were and as they are: `None` where one of the files has none such.
    pub fn numbers(&self) -> Vec<[Option<&'a Given>; 2]> {
        let of = |all: &'a [Given], one: &Given| all.iter().find(|other| other.pointer == one.pointer);
        let was = self.old.numbers.iter().map(|was| [Some(was), of(&self.new.numbers, was)]);
        let is = self.new.numbers.iter().filter(|is| of(&self.old.numbers, is).is_none()).map(|is| [None, Some(is)]);
        let all = was.chain(is).filter(|both| match both {
            [Some(was), Some(is)] => (was.value - is.value).abs() > BELOW_A_RULE || was.measures != is.measures,
            _ => true,
        });
        all.collect()
    }
}

impl Met<'_> {
    /// The part as it is, or as it was where it is no more.
    pub fn wood(&self) -> Option<&Wood> {
        self.new.or(self.old)
    }
}

fn fate(old: Option<&Wood>, new: Option<&Wood>) -> Fate {
    let (Some(old), Some(new)) = (old, new) else {
        return if old.is_some() { Fate::Gone } else { Fate::New };
    };
    if old.revision == new.revision && old.make == new.make {
        return Fate::Same;
    }
    let differences = Differences::between(old, new);
    match differences.is_none_of_wood() && differences.make.is_none() {
        true => Fate::AsGood,
        false => Fate::Changed(Box::new(differences)),
    }
}

/// A part as it was beside as it is.
type Both<'a> = (Option<&'a Wood>, Option<&'a Wood>);

fn met<'a>(old: &'a [Wood], new: &'a [Wood]) -> Vec<Both<'a>> {
    let mut found: Vec<Both<'a>> = new.iter().map(|new| (None, Some(new))).collect();
    let by_key = |old: &Wood, new: &Wood| old.kind == new.kind && old.id == new.id;
    let by_code = |old: &Wood, new: &Wood| old.kind == new.kind && old.revision == new.revision;
    for rule in [&by_key as &dyn Fn(&Wood, &Wood) -> bool, &by_code] {
        let mut left: Vec<&Wood> = alone(old, &found);
        for (was, is) in found.iter_mut().filter(|(was, _)| was.is_none()) {
            let index = is.and_then(|is| left.iter().position(|old| rule(old, is)));
            *was = index.map(|index| left.remove(index));
        }
    }
    let shares = |old: &Wood, new: &Wood| {
        matches!(old.kind, Kind::Board(_))
            && old.kind == new.kind
            && old.copies.iter().any(|c| new.copies.contains(c))
    };
    for (was, is) in found.iter_mut().filter(|(was, _)| was.is_none()) {
        *was = is.and_then(|is| old.iter().find(|old| shares(old, is)));
    }
    let gone = alone(old, &found).into_iter().map(|gone| (Some(gone), new.iter().find(|new| shares(gone, new))));
    let gone: Vec<Both<'a>> = gone.collect();
    found.extend(gone);
    found
}

/// Those of the old parts that are held against none yet.
fn alone<'a>(old: &'a [Wood], found: &[Both<'a>]) -> Vec<&'a Wood> {
    let is_met = |wood: &&Wood| found.iter().any(|(was, _)| was.is_some_and(|was| std::ptr::eq(was, *wood)));
    old.iter().filter(|wood| !is_met(wood)).collect()
}
