//! Words broken into lines that fit a width.

use crate::geometry::Point;
use crate::page::{Item, Role, Shape, Text, kept_together};

/// Base line to base line, in capital heights.
pub const LEADING: f64 = 1.65;

/// Breaks words at blanks so that no line is wider than `width` mm at capitals of `height` mm, and no size is broken. A single
/// word that is wider stands alone.
pub fn wrap(words: &str, height: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in kept_together(words) {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match longer {
            Some(longer) if Text::new(Point::ORIGIN, height, longer.as_str()).width() <= width => {
                if let Some(line) = lines.last_mut() {
                    *line = longer;
                }
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// Words in one line at the largest of some heights of capitals, mm, at which they are no wider than `width` mm; else in lines at the
/// smallest, `most` at most: what the last cannot hold is left away, but never a part of a size.
pub fn fitted(words: &str, heights: &[f64], width: f64, most: usize) -> (f64, Vec<String>) {
    let in_one = |height: &&f64| Text::new(Point::ORIGIN, **height, words).width() <= width;
    if let Some(height) = heights.iter().find(in_one) {
        return (*height, vec![words.to_owned()]);
    }
    let height = heights.iter().copied().fold(f64::INFINITY, f64::min);
    let mut lines = wrap(words, height, width);
    let rest = lines.split_off(most.saturating_sub(1).min(lines.len()));
    if !rest.is_empty() {
        lines.push(shorten(&rest.join(" "), height, width));
    }
    (height, lines)
}

/// Shortens words with an ellipsis until they are no wider than `width` mm at capitals of `height` mm. They are cut between words, and a
/// size is left away whole; a single word that is wider is cut between its letters, unless it holds a figure.
pub fn shorten(words: &str, height: f64, width: f64) -> String {
    let fits = |text: &str| Text::new(Point::ORIGIN, height, text).width() <= width;
    if fits(words) {
        return words.to_owned();
    }
    let kept = kept_together(words);
    let short = |count: usize| format!("{}…", kept[..count].join(" "));
    if let Some(count) = (1..kept.len()).rev().find(|count| fits(&short(*count))) {
        return short(count);
    }
    // What holds a figure is left away whole.
    let first = kept.first().filter(|word| !word.contains(|c: char| c.is_ascii_digit()));
    let letters: Vec<char> = first.map(|word| word.chars().collect()).unwrap_or_default();
    let cuts = (0..letters.len()).rev().map(|keep| format!("{}…", letters[..keep].iter().collect::<String>()));
    cuts.into_iter().find(|cut| fits(cut)).unwrap_or_else(|| "…".to_owned())
}

/// Words of a role as an item that belongs to no pattern.
pub fn item(role: Role, text: Text) -> Item {
    Item { role, part: None, clip: None, shape: Shape::Text(text) }
}

#[cfg(test)]
mod tests {
    use super::{fitted, shorten, wrap};
    use crate::geometry::Point;
    use crate::page::Text;

    #[test]
    fn lines_keep_to_the_width_and_lose_no_word() {
        let words = "lay a steel rule on both bars before you trust the sheet";
        let lines = wrap(words, 3.5, 60.0);
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|l| Text::new(Point::ORIGIN, 3.5, l.as_str()).width() <= 60.0));
        assert_eq!(lines.join(" "), words);
    }

    #[test]
    fn a_size_is_never_broken() {
        for (words, whole) in [
            ("apron tenon 1 to 2: 10 x 44, 29 mm deep", ["10 x 44,", "29 mm"]),
            ("end stretcher of 1 5/8\" x 1 1/4\" at 3 in over it", ["1 5/8\" x 1 1/4\"", "3 in"]),
            ("turned ⌀ 38, foot ⌀ 24 in all", ["⌀ 38,", "⌀ 24"]),
            ("off square (1 7/16\" to 4\"), -2 3/8 in over it", ["(1 7/16\"", "-2 3/8 in"]),
        ] {
            for width in 10..90 {
                let lines = wrap(words, 3.5, f64::from(width));
                assert_eq!(lines.join(" "), words);
                for size in whole {
                    assert!(lines.iter().any(|line| line.contains(size)), "{size} is broken in {lines:?}");
                }
            }
        }
    }

    #[test]
    fn a_long_name_is_shortened_to_its_room() {
        let name = "left frame, front leg, seen from the outside";
        let short = shorten(name, 3.5, 40.0);
        assert!(short.ends_with('…') && Text::new(Point::ORIGIN, 3.5, short.as_str()).width() <= 40.0);
        assert_eq!(shorten("leg", 3.5, 40.0), "leg");
    }

    #[test]
    fn no_number_is_cut_short() {
        for words in ["panel of 380 x 100 mm", "2103.5 mm in all", "shelf 1 5/8\" thick, 24\" long"] {
            for width in 2..60 {
                let short = shorten(words, 3.5, f64::from(width));
                let kept = short.trim_end_matches('…');
                let rest = words.strip_prefix(kept).expect("a beginning of the words");
                let runs_on = |c: char| c.is_ascii_digit() || c == '.';
                assert!(!(kept.ends_with(runs_on) && rest.starts_with(runs_on)), "{short}");
                assert!(!kept.ends_with(" x") && !kept.ends_with("380"), "{short}");
            }
        }
    }

    #[test]
    fn words_take_smaller_letters_then_lines() {
        let words = "left frame, front leg, 41 mm";
        let (height, lines) = fitted(words, &[3.5, 2.5], 100.0, 2);
        assert_eq!((height, lines.as_slice()), (3.5, &[words.to_owned()][..]));
        let (height, lines) = fitted(words, &[3.5, 2.5], 40.0, 2);
        assert!(height == 2.5 && lines.len() == 2 && lines.join(" ") == words, "{lines:?}");
        assert_eq!(fitted(words, &[2.5], 20.0, 2).1.len(), 2);
    }
}
