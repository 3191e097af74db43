//! Single-stroke lettering for pens and cutters.

use super::outlines::{advance_of, rings};
use super::shown;
use super::signs::{ACCENTS, ALIASES, Accent, FRACTIONS, SIGNS, STRUCK, Stroke};
use crate::geometry::Path;
use crate::page::Text;
use kurbo::{Affine, Point};
use std::sync::OnceLock;

/// A. V. Hershey's simplex roman in J. Hurt's format: one line a character from the space on.
const FILE: &str = include_str!("rowmans.jhf");

/// Height of a capital letter in the file's units.
const CAPITAL: f64 = 21.0;

/// Size of a fraction's figures against full ones, and the room its slanted line takes.
const FRACTION_SCALE: f64 = 0.6;
const FRACTION_SLASH: f64 = 8.0;

/// One character's pen strokes; the pen begins at the origin of the base line.
#[derive(Debug, Clone, Default)]
struct Letter {
    advance: f64,
    strokes: Vec<Path>,
}

/// The pen strokes of the words, mm.
///
/// Capitals are [`Text::height`] tall. Where the strokes would run wider than the words measure in the embedded face
/// they are squeezed to that width, since that is the room the layout gave them. A character that has no single-stroke
/// form is drawn as the outline of the embedded face's glyph; words that are set in another font are outlines all.
pub fn strokes(text: &Text) -> Vec<Path> {
    if let Some(rings) = &text.set_in {
        return rings.to_vec();
    }
    let letters: Vec<Letter> = shown(&text.content).map(letter).collect();
    let scale = text.height / CAPITAL;
    let natural: f64 = letters.iter().map(|letter| letter.advance).sum::<f64>() * scale;
    let squeeze = if natural > text.width() { text.width() / natural } else { 1.0 };
    let to_page = text.placed_by_width(natural * squeeze) * Affine::scale_non_uniform(scale * squeeze, scale);
    let mut pen = 0.0;
    let mut paths = Vec::new();
    for letter in letters {
        let place = to_page * Affine::translate((pen, 0.0));
        paths.extend(letter.strokes.iter().map(|stroke| stroke.transformed(place)));
        pen += letter.advance;
    }
    paths
}

/// The strokes of any character.
fn letter(character: char) -> Letter {
    plain(character)
        .or_else(|| sign(character))
        .or_else(|| struck(character))
        .or_else(|| accented(character))
        .or_else(|| fraction(character))
        .unwrap_or_else(|| outlined(character))
}

/// A character that the file has.
fn plain(character: char) -> Option<Letter> {
    let character = ALIASES.iter().find(|(alias, _)| *alias == character).map_or(character, |(_, plain)| *plain);
    let index = match character {
        ' '..='~' => character as usize - 32,
        '°' => 95,
        _ => return None,
    };
    roman().get(index).cloned()
}

fn sign(character: char) -> Option<Letter> {
    let (_, advance, strokes) = SIGNS.iter().find(|(sign, ..)| *sign == character)?;
    let strokes = strokes.iter().map(|stroke| drawn(stroke, Affine::IDENTITY)).collect();
    Some(Letter { advance: f64::from(*advance), strokes })
}

fn struck(character: char) -> Option<Letter> {
    let (_, base, stroke) = STRUCK.iter().find(|(struck, ..)| *struck == character)?;
    let mut letter = plain(*base)?;
    letter.strokes.push(drawn(stroke, Affine::IDENTITY));
    Some(letter)
}

fn accented(character: char) -> Option<Letter> {
    let (accent, base) = ACCENTS.iter().find_map(|accent| Some((accent, without(accent, character)?)))?;
    let mut letter = plain(base)?;
    if base == 'i' && accent.above {
        // The accent stands in the place of the dot, which the file draws first.
        letter.strokes.remove(0);
    }
    let bounds = letter.strokes.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b))?;
    let top = if accent.above { bounds.y1 } else { 0.0 };
    let place = Affine::translate((bounds.center().x, top));
    letter.strokes.extend(accent.strokes.iter().map(|stroke| drawn(stroke, place)));
    Some(letter)
}

/// The letter that carries the accent to make up the character.
fn without(accent: &Accent, character: char) -> Option<char> {
    let mut letters = accent.letters.chars();
    while let (Some(with), Some(without)) = (letters.next(), letters.next()) {
        if with == character {
            return Some(without);
        }
    }
    None
}

fn fraction(character: char) -> Option<Letter> {
    let (_, over, under) = FRACTIONS.iter().find(|(fraction, ..)| *fraction == character)?;
    let (over, under) = (plain(*over)?, plain(*under)?);
    let raised = Affine::translate((0.0, CAPITAL * (1.0 - FRACTION_SCALE))) * Affine::scale(FRACTION_SCALE);
    let line = over.advance * FRACTION_SCALE;
    let lowered = Affine::translate((line + FRACTION_SLASH, 0.0)) * Affine::scale(FRACTION_SCALE);
    let mut strokes: Vec<Path> = over.strokes.iter().map(|stroke| stroke.transformed(raised)).collect();
    strokes.push(Path::line(Point::new(line - 1.0, -1.0), Point::new(line + FRACTION_SLASH + 1.0, CAPITAL + 1.0)));
    strokes.extend(under.strokes.iter().map(|stroke| stroke.transformed(lowered)));
    Some(Letter { advance: line + FRACTION_SLASH + under.advance * FRACTION_SCALE, strokes })
}

fn outlined(character: char) -> Letter {
    let strokes = rings(character).iter().map(|ring| ring.transformed(Affine::scale(CAPITAL))).collect();
    Letter { advance: advance_of(character) * CAPITAL, strokes }
}

fn drawn(stroke: Stroke, place: Affine) -> Path {
    let points: Vec<Point> = stroke.iter().map(|&(x, y)| place * Point::new(f64::from(x), f64::from(y))).collect();
    Path::polyline(&points, false)
}

/// The file's letters, read once.
fn roman() -> &'static [Letter] {
    static ROMAN: OnceLock<Vec<Letter>> = OnceLock::new();
    ROMAN.get_or_init(|| FILE.lines().map(|line| read(line.as_bytes())).collect())
}

/// Reads one line: five characters of number, three of count, then pairs of characters measured from `R`: the two
/// bearings first, then points with y down; the pair ` R` lifts the pen.
fn read(line: &[u8]) -> Letter {
    // The base line lies nine below the middle line from which the file measures.
    const BASE_LINE: f64 = 9.0;
    let from_r = |byte: u8| f64::from(byte) - f64::from(b'R');
    let mut pairs = line.get(8..).unwrap_or_default().chunks_exact(2);
    let Some(&[left, right]) = pairs.next() else { return Letter::default() };
    let mut strokes = vec![Vec::new()];
    for pair in pairs {
        match (pair, strokes.last_mut()) {
            (b" R", _) => strokes.push(Vec::new()),
            (&[x, y], Some(stroke)) => stroke.push(Point::new(from_r(x) - from_r(left), BASE_LINE - from_r(y))),
            _ => {}
        }
    }
    let strokes = strokes.iter().filter(|stroke| stroke.len() > 1).map(|points| Path::polyline(points, false));
    Letter { advance: from_r(right) - from_r(left), strokes: strokes.collect() }
}

#[cfg(test)]
mod tests {
    use super::{Path, Point, Text, letter, roman, strokes};
    use kurbo::Rect;

    fn bounds(paths: &[Path]) -> Rect {
        paths.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b)).expect("ink")
    }

    #[test]
    fn the_file_holds_the_printable_characters_and_the_degree_sign() {
        assert_eq!(roman().len(), 96);
        assert!(roman()[0].strokes.is_empty() && roman()[0].advance > 0.0);
        assert!(roman()[1..].iter().all(|letter| !letter.strokes.is_empty()));
    }

    #[test]
    fn capitals_are_as_tall_as_the_text_says() {
        for height in [2.5, 7.0] {
            let bounds = bounds(&strokes(&Text::new(Point::new(3.0, 4.0), height, "HEX")));
            assert!((bounds.y0 - 4.0).abs() < 1e-9 && (bounds.y1 - 4.0 - height).abs() < 1e-9, "{bounds:?}");
        }
    }

    #[test]
    fn strokes_keep_to_the_room_that_the_layout_measured() {
        for words in ["1 1/2\" ± 0.5 mm", "WWWWWW", "left apron, make 2", "29 ¼″ ⌀8 12° × 4 − 3", "Żółć ÄÖÜ Größe"]
        {
            let text = Text::new(Point::ORIGIN, 5.0, words);
            let bounds = bounds(&strokes(&text));
            assert!(bounds.x1 <= text.width() + 1e-9, "{words}: {bounds:?}");
        }
    }

    #[test]
    fn accents_stand_over_their_letters_and_replace_the_dot_of_an_i() {
        assert_eq!(letter('é').strokes.len(), letter('e').strokes.len() + 1);
        assert_eq!(letter('í').strokes.len(), letter('i').strokes.len());
        assert_eq!(letter('É').advance, letter('E').advance);
        let marked = bounds(&letter('É').strokes);
        assert!(marked.y1 > 23.0 && marked.y0 == 0.0);
    }

    #[test]
    fn signs_of_measure_are_single_strokes() {
        for sign in "°⌀×±−÷½¼¾⅛⅜⅝⅞′″–—≤≥≈←→✓".chars() {
            let letter = letter(sign);
            assert!(!letter.strokes.is_empty() && letter.strokes.iter().all(|s| !s.is_closed()), "{sign}");
        }
        assert!(letter('Ж').strokes.iter().all(Path::is_closed));
    }
}
