//! The piece as seen.

use super::{Job, Refusal};
use crate::layout::elevation::{Content, Drawing, Named, Options, Side, draw, named};
use crate::layout::{Setup, Tiling, pinch_rod::pinch_rod_strips, plot, rod::rod};
use crate::model::{Paper, Shop};
use crate::page::Document;
use crate::pattern::Pattern;
use crate::units::Units;
use crate::view::{Model, Subject};

/// The views of a picture.
const PICTURED: [Content; 4] = [Content::Front, Content::Side, Content::Above, Content::Isometric];

impl Job {
    /// The piece with its boards in space: `None` where the file has neither base nor top.
    ///
    /// # Errors
    /// Where a finding of the piece stops the work.
    pub fn subject(&self) -> Result<Option<Subject<'_>>, Refusal> {
        let model = |piece| self.in_space.get_or_init(|| Model::of(piece));
        Ok(self.piece()?.map(|piece| Subject { piece, model: model(piece) }))
    }

    /// The piece with its boards in space, where there must be one.
    ///
    /// # Errors
    /// As [`Job::subject`]; and where the file has neither base nor top.
    pub fn needed_subject(&self) -> Result<Subject<'_>, Refusal> {
        self.subject()?.ok_or(Refusal::NoPiece)
    }

    /// The views, sections and steps of assembly asked for, on sheets.
    ///
    /// # Errors
    /// Where there is no piece, where a finding of it stops the work or, without [`Job::allow_stops`], any does, where nothing of
    /// what is asked for is to be seen, and where it takes more sheets than [`Job::limit_sheets`] allows.
    pub fn drawing(&self, options: &Options) -> Result<Drawing, Refusal> {
        self.cleared()?;
        let options = Options { most_sheets: options.most_sheets.or(self.most_sheets), ..options.clone() };
        let drawing = draw(self.needed_subject()?, &self.setup(), &options)?;
        if drawing.document.pages.is_empty() { Err(Refusal::NothingToSee) } else { Ok(drawing) }
    }

    /// The rod: heights, widths and lengths on strips at full size, on sheets, or `whole`, one strip below the other.
    ///
    /// # Errors
    /// Where there is no piece, where a finding stops the work as for [`Job::drawing`], and where there are more sheets than
    /// [`Job::limit_sheets`] allows.
    pub fn rod(&self, whole: bool) -> Result<Document, Refusal> {
        self.cleared()?;
        let strips = rod(self.needed_piece()?, &self.project.notation, self.revision()?);
        Ok(match whole {
            true => plot(&strips, None, &self.heading).0,
            false => Tiling::of(&strips, &self.setup()).within(self.most_sheets)?.draw().0,
        })
    }

    /// The strips of pinch rods that take the lengths of its stretchers off the work, as patterns.
    ///
    /// # Errors
    /// Where there is no piece, and where a finding stops the work as for [`Job::drawing`].
    pub fn pinch_rods(&self) -> Result<Vec<Pattern>, Refusal> {
        self.cleared()?;
        Ok(pinch_rod_strips(self.needed_piece()?, &self.project.notation, self.revision()?))
    }

    /// The views on one sheet as a picture.
    ///
    /// # Errors
    /// As [`Job::drawing`].
    pub fn picture(&self) -> Result<Drawing, Refusal> {
        self.pictured(&Options { only: PICTURED.to_vec(), ..Options::default() })
    }

    /// The views on one sheet as a picture of named numbers, each at the line that shows it; and the names of those that none shows.
    /// `moved` is a job on the same piece with every one of the numbers moved a little.
    ///
    /// # Errors
    /// As [`Job::drawing`], of either job.
    pub fn picture_naming(&self, moved: &Job, numbers: &[Named]) -> Result<(Drawing, Vec<String>), Refusal> {
        self.cleared()?;
        let (subject, other) = (self.needed_subject()?, moved.needed_subject()?);
        let from_left = self.project.notation.units == Units::Mm;
        let sides = [Side::Front, if from_left { Side::Left } else { Side::Right }, Side::Above];
        let (shown, left) = named(subject, other, &self.project.notation, (&sides, numbers));
        let options = Options { only: PICTURED.to_vec(), shown, ..Options::default() };
        Ok((self.pictured(&options)?, left))
    }

    /// A drawing on the smaller of two sheets that does not part it.
    fn pictured(&self, options: &Options) -> Result<Drawing, Refusal> {
        self.cleared()?;
        let subject = self.needed_subject()?;
        let names = if self.project.notation.units == Units::Inch { ["tabloid", "ansi d"] } else { ["a3", "a1"] };
        // The larger one where the smaller would part the views.
        let papers = names.iter().filter_map(|name| Paper::read(name, self.project.notation.units).ok());
        let pages = |drawing: &Drawing| drawing.document.pages.len();
        let mut best: Option<Drawing> = None;
        for paper in papers {
            let shop = Shop { paper, ..self.project.shop.clone() };
            let drawn = draw(subject, &Setup { shop: &shop, ..self.setup() }, options)?;
            if best.as_ref().is_none_or(|best| pages(&drawn) < pages(best)) {
                best = Some(drawn);
            }
            // Fewer pages than one are none.
            if best.as_ref().is_some_and(|best| pages(best) <= 1) {
                break;
            }
        }
        best.filter(|best| pages(best) > 0).ok_or(Refusal::NothingToSee)
    }
}
