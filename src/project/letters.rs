//! Letters of a file that cannot be printed.

use super::Reading;
use super::drawing_problem::LetterProblem;
use super::json::{Node, Value};
use crate::finding::{Beside, Finding, Place};
use crate::page::{Lettering, has_glyph, shown};

/// The most letters that are told.
const MOST_LETTERS: usize = 16;
/// The most further places that are told.
const MOST_PLACES: usize = 4;

/// Members whose words are printed nowhere: remarks, names of files and ids in them, sizes, which are asked for by name, and
/// variants, which are read where they are used.
const NOT_PRINTED: [&str; 6] = ["note", "$schema", "svg", "id", "sizes", "variants"];

impl Reading {
    /// Adds a warning where words of the file have letters that neither the embedded face nor the fonts that are given can show.
    pub fn tell_letters(&mut self, variant: Option<&str>, lettering: Option<&Lettering>) {
        let mut found = Found { lettering, letters: Vec::new(), places: Vec::new() };
        if let Some(variant) = variant {
            found.words(variant, &Place::pointer("/variants").child(variant));
        }
        if let Some(root) = &self.sources.root {
            found.inside(root, &Place::default());
        }
        let Some(first) = found.places.first().cloned() else { return };
        let others = found.places.len() - 1;
        let beside = found.places.iter().skip(1).take(MOST_PLACES);
        let letters: String = found.letters.iter().take(MOST_LETTERS).collect();
        let more = found.letters.len().saturating_sub(MOST_LETTERS);
        let problem = LetterProblem::Lacking { letters, more, others, fonts: lettering.map_or(0, Lettering::fonts) };
        let finding = beside
            .fold(Finding::of(problem, first), |finding, place| finding.related(place.clone(), Beside::TheseToo));
        let finding = self.sources.marked(finding);
        self.findings.push(finding);
    }
}

/// What was found in the words of a file.
struct Found<'a> {
    lettering: Option<&'a Lettering>,
    /// The letters, each once, in the order of the file.
    letters: Vec<char>,
    /// Where they stand.
    places: Vec<Place>,
}

impl Found<'_> {
    fn inside(&mut self, node: &Node, place: &Place) {
        match &node.value {
            Value::Text(text) => self.words(text, place),
            Value::List(all) => {
                all.iter().enumerate().for_each(|(index, one)| self.inside(one, &place.child(index)));
            }
            Value::Object(object) => {
                for member in object.members.iter().filter(|member| !NOT_PRINTED.contains(&member.name.as_str())) {
                    let place = place.child(&member.name);
                    self.words(&member.name, &place);
                    self.inside(&member.node, &place);
                }
            }
            _ => {}
        }
    }

    fn words(&mut self, words: &str, place: &Place) {
        let shows = |c: char| has_glyph(c) || self.lettering.is_some_and(|lettering| lettering.has(c));
        let lacking: Vec<char> = shown(words).filter(|c| !shows(*c)).collect();
        if !lacking.is_empty() && self.places.last() != Some(place) {
            self.places.push(place.clone());
        }
        for letter in lacking {
            if !self.letters.contains(&letter) {
                self.letters.push(letter);
            }
        }
    }
}
