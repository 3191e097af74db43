//! Patterns laid on sheets, and side by side for a plotter.

use super::{Job, Refusal};
use crate::finding::Finding;
use crate::layout::elevation::stamp;
use crate::layout::{Bed, Manifest, Setup, Tiling, plot, shared, sheet_window};
use crate::page::Document;
use crate::pattern::Pattern;

/// Patterns on sheets that tape up true.
#[derive(Debug, Clone)]
pub struct Sheets {
    /// What was laid, in its order: patterns that share a sheet are one.
    pub patterns: Vec<Pattern>,
    /// Where everything went.
    pub manifest: Manifest,
    /// The pages.
    pub document: Document,
    /// Whether a map page shows the piece, where there is one.
    pub pictured: bool,
}

/// Patterns side by side on one page.
#[derive(Debug, Clone)]
pub struct Plotted {
    /// The page.
    pub document: Document,
    /// What does not fit the plotter's bed.
    pub findings: Vec<Finding>,
}

impl Job {
    /// How sheets are laid for this job.
    pub fn setup(&self) -> Setup<'_> {
        Setup { shop: &self.project.shop, notation: self.project.notation, title: &self.heading }
    }

    /// Lays patterns on the shop's paper, behind pages that say how to tape them up, with a picture of the piece.
    ///
    /// # Errors
    /// Where the paper leaves no room for a pattern, and where there are more sheets than [`Job::limit_sheets`] allows.
    pub fn sheets(&self, patterns: Vec<Pattern>) -> Result<Sheets, Refusal> {
        let shop = &self.project.shop;
        let patterns = shared(patterns, sheet_window(shop));
        let (mut document, manifest) = Tiling::of(&patterns, &self.setup()).within(self.most_sheets)?.draw();
        if manifest.patterns.iter().any(Option::is_none) {
            return Err(Refusal::no_room(shop));
        }
        let mut pictured = true;
        // What the patterns are for, on the first map page that has room for it.
        if let (Ok(Some(piece)), Some(maps)) = (self.piece(), document.pages.get_mut(..manifest.map_pages)) {
            pictured = stamp(maps, piece, shop.margin.mm());
        }
        Ok(Sheets { patterns, manifest, document, pictured })
    }

    /// Lays patterns side by side on one page; what does not fit the shop's plotter is told beside it.
    pub fn plotted(&self, patterns: &[Pattern]) -> Plotted {
        let bed = self.project.shop.plotter.bed.map(|(width, height)| Bed { width, height });
        let (document, findings) = plot(patterns, bed, &self.project.title);
        Plotted { document, findings }
    }
}
