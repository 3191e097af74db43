//! What became of printed patterns since.

use super::{LaidPattern, Record, both, without_paper};
use crate::page::Part;
use crate::tolerance::PRINTED_RIGHT;

/// What became of printed patterns since.
#[derive(Debug, Clone)]
pub struct Since<'a> {
    record: &'a Record,
    now: &'a [Part],
    off: Vec<(&'a Part, f64)>,
    taken_as_right: &'a [String],
}

impl<'a> Since<'a> {
    /// Of those of a record, with the patterns as they are now.
    pub fn of(record: &'a Record, now: &'a [Part]) -> Since<'a> {
        Since { record, now, off: Vec::new(), taken_as_right: &[] }
    }

    /// Whether a pattern was left out, and nobody wants it since.
    pub fn is_left_out(&self, part: &Part) -> bool {
        self.record.left_out.contains(&part.name)
    }

    /// Whether nothing new is to be printed of a pattern: it lies there as it is now, or is not wanted.
    pub fn is_done(&self, part: &Part) -> bool {
        self.is_printed(part) || self.is_taken_as_right(part) || self.is_left_out(part)
    }

    /// Whether a pattern of a name was printed, whether it is right or void.
    pub fn was_printed(&self, name: &str) -> bool {
        self.record.void.iter().any(|void| void == name)
            || self.record.laid.iter().flat_map(|laid| &laid.shows).any(|part| part.name == name)
    }

    /// With the sheets of patterns of some names taken as right, whatever printer they were made for.
    pub fn taking_as_right(self, names: &'a [String]) -> Since<'a> {
        Since { taken_as_right: names, ..self }
    }

    /// Whether a pattern is one of those.
    pub fn is_taken_as_right(&self, part: &Part) -> bool {
        self.taken_as_right.contains(&part.name)
    }

    /// With those counted as void that come out too long or too short on their sheets, if the printer draws as it is corrected for now,
    /// across and up. `size` is how wide and how high a pattern is, mm.
    pub fn printed_true(mut self, printer: [f64; 2], size: impl Fn(&Part) -> Option<(f64, f64)>) -> Since<'a> {
        let laid = self.record.laid.iter().flat_map(|laid| laid.shows.iter().map(move |part| (laid, part)));
        let off = laid.filter_map(|(laid, part)| {
            let too_long = laid.too_long(printer, size(part)?);
            let is_off = too_long.abs() > PRINTED_RIGHT && !self.is_taken_as_right(part);
            (is_off && self.is_now(part)).then_some((part, too_long))
        });
        self.off = off.collect();
        self
    }

    /// The printed patterns that are as they were and come out too long on their sheets, or too short where below 0: by how much, mm.
    pub fn off(&self) -> &[(&'a Part, f64)] {
        &self.off
    }

    /// The record of the print.
    pub fn record(&self) -> &'a Record {
        self.record
    }

    /// What lies on the bench once the sheets of a later print are laid to those that are still right; `digests` are those of the records of
    /// these.
    pub fn followed_by(&self, later: Record, digests: &[String]) -> Record {
        let again = |part: &Part| later.laid.iter().any(|laid| laid.shows.iter().any(|own| own.name == part.name));
        let good = self.record.laid.iter().filter_map(|laid| {
            let good = laid.shows.iter().filter(|part| self.stays(part) && !again(part));
            let shows: Vec<Part> = good.cloned().collect();
            let is_right = shows.iter().any(|part| self.is_taken_as_right(part));
            let correction = if is_right { later.correction } else { laid.correction };
            (!shows.is_empty()).then(|| LaidPattern { shows, correction, ..laid.clone() })
        });
        let laid: Vec<LaidPattern> = later.laid.iter().cloned().chain(good).collect();
        let follows = both(self.record.follows.clone(), digests.to_vec());
        let replaces = both(self.record.replaces.clone(), later.replaces);
        let left_out = without_paper(both(self.record.left_out.clone(), later.left_out), &laid);
        let is_wanted = |part: &&Part| !self.stays(part) && self.now.iter().any(|now| now.name == part.name);
        let printed = self.record.laid.iter().flat_map(|laid| &laid.shows);
        let void = printed.filter(is_wanted).map(|part| part.name.clone()).collect();
        let void = without_paper(both(self.record.void.clone(), void), &laid);
        Record { laid, follows, replaces, left_out, void, ..later }
    }

    /// Whether a printed pattern is still right: there is one of its name and revision code, and it came out as long as it is.
    pub fn stays(&self, printed: &Part) -> bool {
        self.is_now(printed) && !self.off.iter().any(|(off, _)| *off == printed)
    }

    fn is_now(&self, printed: &Part) -> bool {
        self.now.iter().any(|now| (&now.name, &now.revision) == (&printed.name, &printed.revision))
    }

    /// Whether a pattern lies on the bench as it is now.
    pub fn is_printed(&self, now: &Part) -> bool {
        let mut printed = self.record.laid.iter().flat_map(|laid| &laid.shows).filter(|printed| self.stays(printed));
        printed.any(|printed| (&now.name, &now.revision) == (&printed.name, &printed.revision))
    }

    /// What was printed and is void, with what of it is: all that it shows, or some of the patterns that share it.
    pub fn void(&self) -> impl Iterator<Item = (&'a LaidPattern, Vec<&'a Part>)> + '_ {
        self.record.laid.iter().filter_map(|laid| {
            let void: Vec<&Part> = laid.shows.iter().filter(|part| !self.stays(part)).collect();
            (!void.is_empty()).then_some((laid, void))
        })
    }

    /// The printed patterns that are still right.
    pub fn good(&self) -> impl Iterator<Item = &'a Part> + '_ {
        self.record.laid.iter().flat_map(|laid| &laid.shows).filter(|part| self.stays(part))
    }
}
