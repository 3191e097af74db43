//! Patterns laid on sheets, and side by side for a plotter.

use super::{Job, Refusal};
use crate::finding::Finding;
use crate::geometry::Affine;
use crate::layout::elevation::stamp;
use crate::layout::{Bed, Manifest, Setup, Tiling, plot, shared, sharing, sheet_pages, sheet_window, tell_on_first};
use crate::page::{Document, Page, Part};
use crate::pattern::Pattern;
use std::borrow::Cow;

/// Patterns on sheets that tape up true.
#[derive(Debug, Clone)]
pub struct Sheets<'job> {
    /// What was laid, in its order: patterns that share a sheet are one.
    pub patterns: Vec<Pattern>,
    /// For each of them what it shows: itself, or those that share it.
    pub shows: Vec<Vec<Part>>,
    /// Where everything went.
    pub manifest: Manifest,
    /// The pages before the sheets.
    pub maps: Vec<Page>,
    /// Whether a map page shows the piece, where there is one.
    pub pictured: bool,
    setup: Setup<'job>,
}

impl Sheets<'_> {
    /// What stands on every sheet.
    pub fn title(&self) -> &str {
        self.setup.title
    }

    /// Says on the first page of what the print is, where it is not of the whole piece.
    pub fn tell_on_first(&mut self, words: &str) {
        let shop = self.setup.shop;
        self.maps.iter_mut().take(1).for_each(|page| tell_on_first(page, shop, words));
    }

    /// Every page in order, the sheets drawn as they are asked for: there may be thousands.
    pub fn pages(&self) -> impl Iterator<Item = Cow<'_, Page>> {
        let sheets = sheet_pages(&self.patterns, &self.manifest, &self.setup);
        self.maps.iter().map(Cow::Borrowed).chain(sheets.map(Cow::Owned))
    }

    /// How much of them there is to print and to tape.
    pub fn counts(&self) -> PaperCount {
        let mut counts = PaperCount::default();
        for (pattern, plan) in self.patterns.iter().zip(&self.manifest.patterns) {
            let Some(plan) = plan else { continue };
            let prints = pattern.prints as usize;
            counts.sheets += plan.sheets.len();
            counts.printed += prints * plan.sheets.len();
            counts.seams += prints * plan.seams.len();
        }
        counts
    }

    /// All pages together.
    pub fn document(&self) -> Document {
        let parts = self.patterns.iter().map(|pattern| pattern.part.clone()).collect();
        Document { title: self.title().to_owned(), parts, pages: self.pages().map(Cow::into_owned).collect() }
    }
}

/// How many sheets of patterns there are to print, and seams to tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PaperCount {
    /// Sheets, each once.
    pub sheets: usize,
    /// Sheets as they come out of the printer: those of which several prints are wanted so many times.
    pub printed: usize,
    /// Seams on all of these.
    pub seams: usize,
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
        Setup {
            shop: &self.project.shop,
            notation: self.project.notation.clone(),
            title: &self.heading,
            readings_from: self.project.readings_from.as_ref(),
        }
    }

    /// Lays patterns on the shop's paper, behind pages that say how to tape them up, with a picture of the piece.
    ///
    /// # Errors
    /// Where the paper leaves no room for a pattern, and where there are more sheets than [`Job::limit_sheets`] allows.
    pub fn sheets(&self, patterns: Vec<Pattern>) -> Result<Sheets<'_>, Refusal> {
        self.some_sheets(patterns, &|_| true)
    }

    /// As [`Job::sheets`], of what is laid only that of which what it shows is wanted: small patterns share sheets as they do where
    /// all are printed, so that a sheet keeps its code.
    ///
    /// # Errors
    /// As [`Job::sheets`].
    pub fn some_sheets(
        &self,
        patterns: Vec<Pattern>,
        is_wanted: &dyn Fn(&[Part]) -> bool,
    ) -> Result<Sheets<'_>, Refusal> {
        let shop = &self.project.shop;
        let laid = sharing(patterns, sheet_window(shop)).into_iter().filter(|laid| is_wanted(&laid.shows));
        let (patterns, shows): (Vec<Pattern>, Vec<Vec<Part>>) = laid.map(|laid| (laid.pattern, laid.shows)).unzip();
        let setup = self.setup();
        let (mut maps, manifest) = Tiling::of(&patterns, &setup).within(self.most_sheets)?.laid();
        if manifest.patterns.iter().any(Option::is_none) {
            return Err(Refusal::no_room(shop));
        }
        let mut pictured = true;
        // What the patterns are for, on the first map page that has room for it.
        if let Ok(Some(subject)) = self.subject() {
            pictured = stamp(&mut maps, subject.model, shop.margin.mm());
        }
        Ok(Sheets { patterns, shows, manifest, maps, pictured, setup })
    }

    /// Where [`Job::sheets`] lays patterns: for each that is laid, those that share a sheet being one, the maps to its pages, mm to mm. To
    /// count sheets costs a tenth of laying words on them.
    ///
    /// # Errors
    /// As [`Job::sheets`].
    pub fn to_pages(&self, patterns: Vec<Pattern>) -> Result<Vec<Vec<Affine>>, Refusal> {
        let shop = &self.project.shop;
        let patterns = shared(patterns, sheet_window(shop));
        let setup = self.setup();
        let tiling = Tiling::of(&patterns, &setup).within(self.most_sheets)?;
        tiling.to_pages().collect::<Option<_>>().ok_or_else(|| Refusal::no_room(shop))
    }

    /// What [`Job::some_sheets`] lays: of each what it shows, and how many sheets of it come out of the printer. Nothing is lettered.
    ///
    /// # Errors
    /// As [`Job::sheets`].
    pub fn some_pages(
        &self,
        patterns: Vec<Pattern>,
        is_wanted: &dyn Fn(&[Part]) -> bool,
    ) -> Result<Vec<(Vec<Part>, usize)>, Refusal> {
        let shop = &self.project.shop;
        let laid = sharing(patterns, sheet_window(shop)).into_iter().filter(|laid| is_wanted(&laid.shows));
        let (patterns, shows): (Vec<Pattern>, Vec<Vec<Part>>) = laid.map(|laid| (laid.pattern, laid.shows)).unzip();
        let setup = self.setup();
        let tiling = Tiling::of(&patterns, &setup).within(self.most_sheets)?;
        let pages: Option<Vec<Vec<Affine>>> = tiling.to_pages().collect();
        let prints = patterns.iter().map(|pattern| pattern.prints as usize);
        let counts = pages.ok_or_else(|| Refusal::no_room(shop))?.into_iter().zip(prints);
        Ok(shows.into_iter().zip(counts.map(|(pages, prints)| prints * pages.len())).collect())
    }

    /// Lays patterns side by side on one page; what does not fit the shop's plotter is told beside it.
    pub fn plotted(&self, patterns: &[Pattern]) -> Plotted {
        let bed = self.project.shop.plotter.bed.map(|[width, height]| Bed { width, height });
        let (document, findings) = plot(patterns, bed, &self.project.title);
        Plotted { document, findings }
    }
}
