//! Letters that the embedded face lacks, set from font files of the shop's.

use super::{FILE, has_glyph, outlines::rings_of, shown, width};
use crate::geometry::Path;
use crate::page::{Document, Item, Page, Shape, Text};
use harfrust::{Direction, FontRef, ShapeOptions, ShaperData, UnicodeBuffer};
use kurbo::Affine;
use std::ops::Range;
use std::sync::Arc;
use ttf_parser::{Face, GlyphId, OutlineBuilder};
use unicode_bidi::{BidiInfo, Level};

/// Font files from which letters are set: each letter from the first that has it.
#[derive(Debug, Clone)]
pub struct Lettering(Vec<Vec<u8>>);

/// A file that is no font, or one of pictures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoFont;

impl Lettering {
    /// The first font of a TrueType or OpenType file or collection.
    ///
    /// # Errors
    /// Where there is none, or none whose letters are outlines.
    pub fn read(bytes: Vec<u8>) -> Result<Lettering, NoFont> {
        let face = Face::parse(&bytes, 0).map_err(|_| NoFont)?;
        let has_outlines =
            face.tables().glyf.is_some() || face.tables().cff.is_some() || face.tables().cff2.is_some();
        if !has_outlines || FontRef::from_index(&bytes, 0).is_err() {
            return Err(NoFont);
        }
        Ok(Lettering(vec![bytes]))
    }

    /// The same with further fonts, from which the letters are set that these lack.
    pub fn and(mut self, further: Lettering) -> Lettering {
        self.0.extend(further.0);
        self
    }

    /// How many fonts there are.
    pub fn fonts(&self) -> usize {
        self.0.len()
    }

    /// Whether a font can show a character: it has a glyph, and one with an outline unless the character is a space.
    pub fn has(&self, character: char) -> bool {
        self.font_of(character).is_some()
    }

    /// The first font that can show a character, by its place.
    fn font_of(&self, character: char) -> Option<usize> {
        self.0.iter().position(|font| {
            let Ok(face) = Face::parse(font, 0) else { return false };
            let draws =
                |glyph: GlyphId| character.is_whitespace() || face.outline_glyph(glyph, &mut Nothing).is_some();
            face.glyph_index(character).is_some_and(draws)
        })
    }

    /// The document with all words that the embedded face cannot show set as outlines: its own letters from the embedded face,
    /// the others from these fonts, in the order in which they are read.
    pub fn set(&self, document: &Document) -> Document {
        let mut set = document.clone();
        set.pages.iter_mut().for_each(|page| self.set_page(page));
        set
    }

    /// The same of one page.
    pub fn set_page(&self, page: &mut Page) {
        for item in &mut page.items {
            if let Item { shape: Shape::Text(text), .. } = item {
                text.set_in = self.rings(text).map(Arc::new);
            }
        }
    }

    /// The outlines of words, mm, on the page; `None` where the embedded face shows them all, or nothing more is to be had here.
    fn rings(&self, text: &Text) -> Option<Vec<Path>> {
        let words: String = shown(&text.content).collect();
        if !words.chars().any(|c| !has_glyph(c) && self.has(c)) {
            return None;
        }
        let own = Font::read(FILE)?;
        let others: Vec<Font> = self.0.iter().map(|font| Font::read(font)).collect::<Option<_>>()?;
        let (mut pen, mut rings) = (0.0, Vec::new());
        for (run, rightwards) in visual_runs(&words) {
            let mut pieces = self.pieces(words.get(run)?);
            if !rightwards {
                pieces.reverse();
            }
            for (piece, font) in pieces {
                let font = font.map_or(Some(&own), |font| others.get(font))?;
                font.write(piece, rightwards, &mut pen, &mut rings)?;
            }
        }
        // What runs wider than the layout gave room is squeezed into it, as single strokes are.
        let room = width(&words);
        let squeeze = if pen > room { room / pen } else { 1.0 };
        let em = text.em();
        let to_page = text.placed_by_width(pen * squeeze * em) * Affine::scale_non_uniform(squeeze * em, em);
        Some(rings.iter().map(|ring| ring.transformed(to_page)).collect())
    }

    /// Words in pieces of one font each, and which of the fonts that is; `None` for the embedded face.
    fn pieces<'w>(&self, words: &'w str) -> Vec<(&'w str, Option<usize>)> {
        let mut starts: Vec<(usize, Option<usize>)> = Vec::new();
        for (at, c) in words.char_indices() {
            let font = if has_glyph(c) { None } else { self.font_of(c) };
            if starts.last().is_none_or(|(_, before)| *before != font) {
                starts.push((at, font));
            }
        }
        let ends = starts.iter().skip(1).map(|(at, _)| *at).chain([words.len()]);
        starts.iter().zip(ends).filter_map(|((at, font), end)| Some((words.get(*at..end)?, *font))).collect()
    }
}

/// The runs of one line from left to right, and whether each is read to the right.
fn visual_runs(words: &str) -> Vec<(Range<usize>, bool)> {
    let bidi = BidiInfo::new(words, Some(Level::ltr()));
    let Some(line) = bidi.paragraphs.first() else { return Vec::new() };
    let (levels, runs) = bidi.visual_runs(line, line.range.clone());
    let reads = |run: &Range<usize>| levels.get(run.start).is_none_or(Level::is_ltr);
    runs.into_iter().map(|run| (run.clone(), reads(&run))).collect()
}

/// A font that is read to write with.
struct Font<'a> {
    face: Face<'a>,
    file: FontRef<'a>,
    em: f64,
}

impl<'a> Font<'a> {
    fn read(bytes: &'a [u8]) -> Option<Self> {
        let face = Face::parse(bytes, 0).ok()?;
        let em = f64::from(face.units_per_em());
        Some(Font { face, file: FontRef::from_index(bytes, 0).ok()?, em })
    }

    /// Writes one piece at the pen, which moves on; all in ems.
    fn write(&self, piece: &str, rightwards: bool, pen: &mut f64, rings: &mut Vec<Path>) -> Option<()> {
        let data = ShaperData::new(&self.file);
        let shaper = data.shaper(&self.file).build();
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(piece);
        buffer.set_direction(if rightwards { Direction::LeftToRight } else { Direction::RightToLeft });
        buffer.guess_segment_properties();
        let set = shaper.shape(buffer, ShapeOptions::new());
        for (glyph, place) in set.glyph_infos().iter().zip(set.glyph_positions()) {
            let off = (f64::from(place.x_offset) / self.em + *pen, f64::from(place.y_offset) / self.em);
            let id = GlyphId(u16::try_from(glyph.glyph_id).ok()?);
            rings.extend(rings_of(&self.face, id).iter().map(|ring| ring.transformed(Affine::translate(off))));
            *pen += f64::from(place.x_advance) / self.em;
        }
        Some(())
    }
}

/// Takes an outline and keeps nothing of it.
struct Nothing;

impl OutlineBuilder for Nothing {
    fn move_to(&mut self, _: f32, _: f32) {}
    fn line_to(&mut self, _: f32, _: f32) {}
    fn quad_to(&mut self, _: f32, _: f32, _: f32, _: f32) {}
    fn curve_to(&mut self, _: f32, _: f32, _: f32, _: f32, _: f32, _: f32) {}
    fn close(&mut self) {}
}
