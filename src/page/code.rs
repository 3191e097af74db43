//! Short codes of patterns, by which sheets that lie on the floor are told apart.
//!
//! A code is made of a pattern's own name: the first letter of each of its words (`left leg` is `LL`), numbers whole (`shelf 2` is
//! `S2`). Of patterns with the same letters the first keeps them; each other takes more letters of its last word (`ledge` is `LE`
//! beside a leg), or a number. So a code changes only with the name, or where a pattern comes before it that takes the same letters.

use super::font::has_glyph;
use std::collections::{HashMap, HashSet};

/// How many words of a name give a letter.
const WORDS: usize = 4;

/// How many letters of its last word a code takes at most.
const LETTERS: usize = 3;

/// How many digits a code takes of a number.
const DIGITS: usize = 3;

/// The code of a name without a letter or digit that the embedded face has.
const NAMELESS: &str = "X";

/// The code that a name has for itself: capitals and digits, at least one.
pub fn code_of(name: &str) -> String {
    Wish::of(name).code(1)
}

/// Codes for patterns of these names, each another, in their order: what stands later takes nothing away. None of them is one of a
/// numbered series of the name `reserved`, nor would be written like one.
pub fn told_apart<'a>(names: impl Iterator<Item = &'a str>, reserved: &str) -> Vec<String> {
    let series = code_of(reserved);
    let in_series =
        |code: &str| code.strip_prefix(&series).is_some_and(|rest| rest.chars().all(|c| c.is_ascii_digit()));
    let (mut taken, mut known) = (HashSet::new(), HashSet::new());
    let mut numbers: HashMap<String, usize> = HashMap::new();
    let mut free = |code: &String| !in_series(code) && taken.insert(code.clone());
    let one = |name: &'a str| {
        let wish = Wish::of(name);
        // One of two with the same name is told by a number alone.
        let longest = if known.insert(name) { LETTERS } else { 1 };
        let found = (1..=longest).map(|letters| wish.code(letters)).find(&mut free);
        found.unwrap_or_else(|| {
            let plain = (1..=LETTERS).map(|letters| wish.code(letters)).find(|code| !in_series(code));
            let plain = plain.unwrap_or_else(|| format!("{}{NAMELESS}", wish.code(1)));
            let next = numbers.entry(plain.clone()).or_insert(2);
            let joint = if plain.ends_with(|c: char| c.is_numeric()) { NAMELESS } else { "" };
            loop {
                let code = format!("{plain}{joint}{next}");
                *next += 1;
                if free(&code) {
                    return code;
                }
            }
        })
    };
    names.map(one).collect()
}

/// What a code is made of: the first words of a name, in capitals.
struct Wish(Vec<String>);

impl Wish {
    fn of(name: &str) -> Wish {
        let mut words: Vec<String> = Vec::new();
        let mut before = None;
        for c in name.chars() {
            let kind = c.is_alphanumeric().then(|| c.is_numeric());
            if let Some(is_number) = kind {
                let capital = c.to_uppercase().next().filter(|c| has_glyph(*c));
                if before != Some(is_number) {
                    words.push(String::new());
                }
                words.last_mut().into_iter().zip(capital).for_each(|(word, capital)| word.push(capital));
            }
            before = kind;
        }
        words.retain(|word| !word.is_empty());
        words.truncate(WORDS);
        Wish(words)
    }

    /// The code that takes so many letters of the last word of letters, and one of each other.
    fn code(&self, letters: usize) -> String {
        let is_number = |word: &String| word.chars().all(char::is_numeric);
        let last = self.0.iter().rposition(|word| !is_number(word));
        let taken = self.0.iter().enumerate().map(|(index, word)| {
            let count = match () {
                () if is_number(word) => DIGITS,
                () if Some(index) == last => letters,
                () => 1,
            };
            word.chars().take(count).collect::<String>()
        });
        let code: String = taken.collect();
        if code.is_empty() { NAMELESS.to_owned() } else { code }
    }
}

#[cfg(test)]
mod tests {
    use super::{code_of, told_apart};

    fn codes(names: &[&str]) -> Vec<String> {
        told_apart(names.iter().copied(), "small patterns")
    }

    #[test]
    fn a_code_is_made_of_the_first_letters_of_words() {
        for (name, code) in [
            ("leg", "L"),
            ("left leg", "LL"),
            ("apron end template", "AET"),
            ("shelf 2", "S2"),
            ("leg2", "L2"),
            ("leg, inside edge laid flat", "LIEL"),
            ("été", "É"),
            ("椅", "X"),
            ("--", "X"),
        ] {
            assert_eq!(code_of(name), code, "{name}");
        }
    }

    #[test]
    fn the_first_keeps_its_code_and_the_others_take_more_letters() {
        assert_eq!(codes(&["leg", "ledge", "lid", "lintel", "liner"]), ["L", "LE", "LI", "LIN", "L2"]);
        assert_eq!(codes(&["leg", "leg", "leg 2", "ledge 2"]), ["L", "L2", "LE2", "LED2"]);
        assert_eq!(codes(&["椅", "脚", "x"]), ["X", "X2", "X3"]);
    }

    #[test]
    fn what_is_added_later_takes_no_code_away() {
        let names = ["leg", "ledge", "left end", "side panel 1", "leg", "7", "7", "椅", "lower edge"];
        for count in 1..names.len() {
            assert_eq!(codes(&names)[..count], codes(&names[..count])[..]);
        }
    }

    #[test]
    fn every_code_is_another_and_none_is_of_the_reserved_series() {
        let names: Vec<String> =
            (0..400).map(|k| ["side panel", "leg", "7", "椅"][k % 4].to_owned() + &" 1".repeat(k % 3)).collect();
        let mut all = told_apart(names.iter().map(String::as_str), "small patterns");
        assert!(all.iter().all(|code| code.trim_end_matches(|c: char| c.is_ascii_digit()) != "SP"), "{all:?}");
        let count = all.len();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), count);
    }
}
