//! Changes as they come from a command line, where a person puts blanks as in writing: `height = 29 1/2`.

/// The changes that words make: what stands round a `=` belongs to it, and a word that begins no change goes on with the value
/// before it.
pub fn changes(words: &[String]) -> Vec<String> {
    let mut changes: Vec<String> = Vec::new();
    // Words of a name whose `=` is still to come.
    let mut name: Vec<&str> = Vec::new();
    for word in words {
        match (word.find('='), changes.last_mut().filter(|_| name.is_empty())) {
            // The value of a change that ends with its `=`.
            (None, Some(change)) if change.ends_with('=') || goes_on(word) => {
                change.push(' ');
                change.push_str(word);
            }
            (None, _) => name.push(word),
            (Some(_), _) => {
                name.push(word);
                changes.push(name.join(" "));
                name.clear();
            }
        }
    }
    if !name.is_empty() {
        changes.push(name.join(" "));
    }
    changes
}

/// Whether a word goes on with a number: `1/2`, `in`, `+ 3`.
fn goes_on(word: &str) -> bool {
    word.starts_with(|c: char| !c.is_alphabetic() && c != '"' && c != '_')
        || ["in", "mm", "cm", "deg"].contains(&word)
}

#[cfg(test)]
mod tests {
    use super::changes;

    #[test]
    fn blanks_are_put_as_in_writing() {
        let cases: [(&[&str], &[&str]); 9] = [
            (&["a=1", "b=2"], &["a=1", "b=2"]),
            (&["splay", "=", "8"], &["splay = 8"]),
            (&["splay=", "8", "lean", "=5"], &["splay= 8", "lean =5"]),
            (&["height", "=", "29", "1/2", "in"], &["height = 29 1/2 in"]),
            (&["top", "rail", "thickness=22"], &["top rail thickness=22"]),
            (&["height=29", "1/2", "top", "rail", "depth", "=", "80"], &["height=29 1/2", "top rail depth = 80"]),
            (&["rise=-8"], &["rise=-8"]),
            (&["rise", "=", "-8"], &["rise = -8"]),
            (&["height"], &["height"]),
        ];
        for (words, wanted) in cases {
            let words: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
            assert_eq!(changes(&words), wanted, "{words:?}");
        }
    }
}
