//! The texts that were read, so that a finding can be shown where it belongs.

use super::json::Node;
use crate::finding::{Beside, Finding, Place, Severity, Span};
use crate::units::{Notation, Sum};

/// One text and its name.
#[derive(Debug, Clone)]
pub struct Source {
    /// The file's name as it was given.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// The texts read, and the tree that was read from them.
#[derive(Debug, Clone, Default)]
pub struct Sources {
    pub(super) files: Vec<Source>,
    pub(super) root: Option<Node>,
    pub(super) notation: Notation,
    pub(super) uses_own_shop: bool,
}

impl Sources {
    /// The texts: the project file first, then the shop file that was named, then the person's own.
    pub fn files(&self) -> &[Source] {
        &self.files
    }

    /// The texts without their names.
    pub(super) fn texts(&self) -> Vec<&str> {
        self.files.iter().map(|source| source.text.as_str()).collect()
    }

    /// Whether anything comes from the person's own shop file: all of it may be overridden.
    pub fn uses_own_shop(&self) -> bool {
        self.uses_own_shop
    }

    /// How the file writes numbers, as far as it could be read.
    pub fn notation(&self) -> Notation {
        self.notation.clone()
    }

    /// The bytes to mark for a place: its own, or those of the value that its pointer names in the project as merged.
    pub fn span(&self, place: &Place) -> Option<Span> {
        place.span.or_else(|| self.root.as_ref().map(|root| root.locate(&place.pointer)))
    }

    /// The finding with all its places marked.
    pub fn marked(&self, mut finding: Finding) -> Finding {
        finding.place.span = self.span(&finding.place);
        if finding.severity == Severity::Stop && !finding.place.span.is_some_and(|span| self.is_among_sizes(span)) {
            let told = |place: &Place| finding.related.iter().any(|(known, _)| known.pointer == place.pointer);
            let sizes: Vec<(Place, Beside)> =
                self.sizes(&finding).into_iter().filter(|(place, _)| !told(place)).collect();
            finding.related.extend(sizes);
        }
        for (place, _) in &mut finding.related {
            place.span = self.span(place);
        }
        finding
    }

    /// Whether something stands among the named sizes.
    fn is_among_sizes(&self, span: Span) -> bool {
        let sizes = self.root.as_ref().and_then(Node::object).and_then(|root| root.get("sizes"));
        // A variant's sizes stand elsewhere in the text.
        let sizes = sizes
            .into_iter()
            .flat_map(|sizes| sizes.node.object().into_iter().flat_map(|all| &all.members).chain([sizes]));
        let holds = |all: Span| all.source == span.source && (all.start..all.end).contains(&span.start);
        sizes.into_iter().any(|size| holds(size.name_span) || holds(size.node.span))
    }

    /// The named sizes from which the value that a finding names is worked out, each with a word.
    fn sizes(&self, finding: &Finding) -> Vec<(Place, Beside)> {
        let root = self.root.as_ref().and_then(Node::object);
        let sizes = root.and_then(|root| root.get("sizes")).and_then(|member| member.node.object());
        let text = finding.place.span.and_then(|span| {
            self.files.get(usize::from(span.source))?.text.get(span.start as usize..span.end as usize)
        });
        let quoted = text.and_then(|text| text.strip_prefix('"')?.strip_suffix('"'));
        let (Some(sizes), Some(Ok(sum))) = (sizes, quoted.map(Sum::read)) else { return Vec::new() };
        let mut names: Vec<&str> =
            sum.names().map(|(name, _)| name).filter(|name| sizes.get(name).is_some()).collect();
        names.sort_unstable();
        names.dedup();
        let place = |name: &str| Place::pointer("/sizes").child(name);
        names.into_iter().map(|name| (place(name), Beside::ComesFrom(place(name)))).collect()
    }

    /// Line and column of the first byte, both from 1; the column in characters, a byte order mark not counted.
    pub fn line_and_column(&self, span: Span) -> Option<(usize, usize)> {
        let text = &self.files.get(usize::from(span.source))?.text;
        let before = text.get(..character_start(text, span.start as usize))?;
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let column = before.get(line_start..)?.trim_start_matches('\u{feff}').chars().count() + 1;
        Some((before.matches('\n').count() + 1, column))
    }
}

/// The start of the character that holds a byte.
pub(crate) fn character_start(text: &str, byte: usize) -> usize {
    (0..=byte.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
}
