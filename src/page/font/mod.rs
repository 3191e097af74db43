//! The lettering: one embedded face for print and screen, single-stroke letters for pens and cutters.
//!
//! The face is a subset of DejaVu Sans, the single-stroke letters are A. V. Hershey's simplex roman; both files lie here
//! with their licences. Nothing is kerned, so that widths measured here hold in every writer.

mod lettering;
mod outlines;
mod signs;
mod strokes;

pub use lettering::{Lettering, NoFont};
pub use outlines::outlines;
pub use strokes::strokes;

use kurbo::{Rect, Vec2};
use std::sync::OnceLock;
use ttf_parser::{Face, GlyphId};
use unicode_width::UnicodeWidthChar;

/// The embedded face, a TrueType font.
pub const FILE: &[u8] = include_bytes!("DejaVuSans-subset.ttf");

/// Name of the embedded face's family, for writers that only name it.
pub const FAMILY: &str = "DejaVu Sans";

/// Height of a capital letter in the embedded face, in ems (the top of its flat capital H).
pub const CAPITAL: f64 = 1493.0 / 2048.0;

/// The embedded face, read once.
fn face() -> &'static Face<'static> {
    static FACE: OnceLock<Face<'static>> = OnceLock::new();
    FACE.get_or_init(|| Face::parse(FILE, 0).expect("the embedded face is whole"))
}

/// Whether the embedded face can show the character; a writer shows an empty box for one that it cannot.
pub fn has_glyph(character: char) -> bool {
    face().glyph_index(character).is_some()
}

/// The characters of `words` that are shown: tabs and line ends become spaces; control characters and invisible marks
/// (direction, joining, byte order) are left out.
pub fn shown(words: &str) -> impl Iterator<Item = char> {
    words.chars().filter_map(|character| match character {
        '\t' | '\n' | '\r' => Some(' '),
        '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' => None,
        '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{fffe}' | '\u{ffff}' => None,
        character if character.is_control() => None,
        character => Some(character),
    })
}

/// How far each glyph of the embedded face moves the pen on, in ems, by glyph number.
pub fn advances() -> impl Iterator<Item = f64> {
    (0..face().number_of_glyphs()).map(|number| advance(GlyphId(number)))
}

/// How far the words move the pen on, in ems.
pub(super) fn width(words: &str) -> f64 {
    shown(words).map(advance_of).sum()
}

/// How far the words move the pen on, and the smallest upright rectangle around their ink where they begin at the origin, level, in
/// ems; no rectangle without ink.
pub(super) fn measured(words: &str) -> (f64, Option<Rect>) {
    let mut pen = 0.0;
    let mut ink: Option<Rect> = None;
    for character in shown(words) {
        if let Some(own) = ink_of(glyph(character)) {
            let own = own + Vec2::new(pen, 0.0);
            ink = Some(ink.map_or(own, |ink| ink.union(own)));
        }
        pen += advance_of(character);
    }
    (pen, ink)
}

/// The rectangle around one glyph's ink, in ems. The face finds it by drawing the glyph: that is done once a glyph.
fn ink_of(glyph: GlyphId) -> Option<Rect> {
    static KNOWN: OnceLock<Vec<OnceLock<Option<Rect>>>> = OnceLock::new();
    let known = KNOWN.get_or_init(|| (0..face().number_of_glyphs()).map(|_| OnceLock::new()).collect());
    let drawn = || {
        let bounds = face().glyph_bounding_box(glyph)?;
        let side = |units: i16| f64::from(units) / em();
        Some(Rect::new(side(bounds.x_min), side(bounds.y_min), side(bounds.x_max), side(bounds.y_max)))
    };
    known.get(usize::from(glyph.0)).and_then(|known| *known.get_or_init(drawn))
}

/// The glyph that shows a character; the empty box where there is none. Words are measured over and over while a place is
/// sought for them: the letters of European names are looked up once.
fn glyph(character: char) -> GlyphId {
    const LAST_LATIN: u32 = 0x24f;
    static KNOWN: OnceLock<Vec<GlyphId>> = OnceLock::new();
    let seek = |character| face().glyph_index(character).unwrap_or(GlyphId(0));
    let known = KNOWN.get_or_init(|| (0..=LAST_LATIN).filter_map(char::from_u32).map(seek).collect());
    known.get(character as usize).copied().unwrap_or_else(|| seek(character))
}

/// How far a character moves the pen on, in ems. One that the face lacks is given the room that fonts of its script give it: a whole
/// em where it is wide, none where it stands over another.
fn advance_of(character: char) -> f64 {
    match glyph(character) {
        GlyphId(0) => match character.width() {
            Some(0) => 0.0,
            Some(2) => 1.0,
            _ => advance(GlyphId(0)),
        },
        glyph => advance(glyph),
    }
}

fn advance(glyph: GlyphId) -> f64 {
    static KNOWN: OnceLock<Vec<f64>> = OnceLock::new();
    let units = |number| face().glyph_hor_advance(GlyphId(number)).unwrap_or(0);
    let known =
        KNOWN.get_or_init(|| (0..face().number_of_glyphs()).map(|number| f64::from(units(number)) / em()).collect());
    known.get(usize::from(glyph.0)).copied().unwrap_or(0.0)
}

/// Font units in one em.
fn em() -> f64 {
    f64::from(face().units_per_em())
}

#[cfg(test)]
mod tests {
    use super::{CAPITAL, has_glyph, measured, shown, width};

    #[test]
    fn every_sign_a_maker_uses_is_in_the_face() {
        let signs = "0123456789 ½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ ⅓ ⅔ ′ ″ ⌀ Ø ° ± − × ÷ ≤ ≥ ≈ ← ↑ → ↓ ↔ ↻ ↺ ✓ – — ‘ ’ “ ” … ÄÖÜäöüß éèêç ąęłńśźż ČŠŽ Ωλ Жя";
        let missing: Vec<char> = signs.chars().filter(|&c| !has_glyph(c)).collect();
        assert!(missing.is_empty(), "{missing:?}");
        assert!(!has_glyph('木'));
    }

    #[test]
    fn capitals_are_as_tall_as_the_constant_says() {
        let capital = measured("H").1.expect("H has ink");
        assert_eq!((capital.y0, capital.y1), (0.0, CAPITAL));
    }

    #[test]
    fn invisible_characters_are_neither_shown_nor_measured() {
        let hostile = "a\u{7}\u{202e}b\u{200d}\tc\u{feff}";
        assert_eq!(shown(hostile).collect::<String>(), "ab c");
        assert_eq!(width(hostile), width("ab c"));
        assert_eq!(measured(" "), (width(" "), None));
    }
}
