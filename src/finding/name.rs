//! Somebody's words repeated in a message, and the name that was meant.

/// The most characters of somebody's text that a message repeats.
const REPEATED: usize = 60;

/// The text as JSON writes it, cut short where it is long.
pub fn quoted(text: &str) -> String {
    serde_json::Value::from(shortened(text)).to_string()
}

/// The beginning of a text, for a message.
pub fn shortened(text: &str) -> String {
    match text.char_indices().nth(REPEATED) {
        Some((end, _)) => format!("{}…", text.get(..end).unwrap_or("")),
        None => text.to_owned(),
    }
}

/// One after the other, with `and` before the last.
pub fn and(names: &[String]) -> String {
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// Words with a capital before them.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The nearest of the names, where one is near: one letter in four may differ, and one more, but less than half of them.
pub fn nearest<'n>(written: &str, names: impl Iterator<Item = &'n str>) -> Option<&'n str> {
    // Names longer than this are not compared: the work grows with the square of their length.
    const LONGEST: usize = 60;
    if written.chars().count() > LONGEST {
        return None;
    }
    let lower = written.to_lowercase();
    let length = lower.chars().count();
    let allowed = 1 + length / 4;
    names
        .map(|name| (strsim::damerau_levenshtein(&lower, &name.to_lowercase()), name))
        .min_by_key(|(distance, _)| *distance)
        .filter(|(distance, name)| *distance <= allowed && 2 * *distance < length.max(name.chars().count()))
        .map(|(_, name)| name)
}
