//! Paths: the names down to what stands in a file, joined by dots, as a command line and the file itself write them.

use super::number::Number;
use serde_json::Value as Json;

/// Why a path cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BadPath {
    /// A quoted name is not closed.
    OpenQuote,
    /// A name is missing.
    NoName,
}

/// The names of a path: each as it is, or between quotes, single or double, where it holds a dot or `=`. `None` of what is no path, and
/// where anything stands behind it.
pub fn steps(path: &str) -> Option<Vec<String>> {
    let (steps, after) = leading(path).ok()?;
    after.is_empty().then_some(steps)
}

/// The names of the path with which a text begins, and what stands behind the last of them, without blanks before it.
///
/// # Errors
/// Where there is no path.
pub fn leading(text: &str) -> Result<(Vec<String>, &str), BadPath> {
    let (mut steps, mut rest) = (Vec::new(), text);
    loop {
        let (name, after) = step(rest.trim_start())?;
        steps.push(name);
        let after = after.trim_start();
        match after.strip_prefix('.') {
            Some(more) => rest = more,
            None => return Ok((steps, after)),
        }
    }
}

/// The first name of a path, and what stands behind it.
fn step(path: &str) -> Result<(String, &str), BadPath> {
    if path.starts_with('"') {
        let mut quoted = serde_json::Deserializer::from_str(path).into_iter::<String>();
        let name = quoted.next().and_then(Result::ok).ok_or(BadPath::OpenQuote)?;
        return Ok((name, path.get(quoted.byte_offset()..).unwrap_or("")));
    }
    if let Some(inner) = path.strip_prefix('\'') {
        let (inner, after) = inner.split_once('\'').ok_or(BadPath::OpenQuote)?;
        let name = if inner.starts_with('"') { step(inner)?.0 } else { inner.to_owned() };
        return Ok((name, after));
    }
    let end = path.find(['.', '=']).unwrap_or(path.len());
    let name = path.get(..end).unwrap_or("").trim();
    if name.is_empty() {
        return Err(BadPath::NoName);
    }
    Ok((name.to_owned(), path.get(end..).unwrap_or("")))
}

/// A path as [`steps`] takes it and as it is typed in a shell: a name that one would part or read otherwise stands between
/// single quotes, which it takes away and which [`steps`] takes too where it does not.
pub fn dotted(steps: &[String]) -> String {
    let is_plain = |c: char| c.is_alphanumeric() || c == '_' || c == '-';
    let named = |step: &String| match step {
        plain if !plain.is_empty() && plain.chars().all(is_plain) => plain.clone(),
        // What reads as a path or a change needs quotes of its own; nothing between single quotes can be one.
        odd if odd.contains('\'') => Json::from(odd.as_str()).to_string(),
        odd if odd.is_empty() || odd.contains(['.', '=', '"']) => format!("'{}'", Json::from(odd.as_str())),
        odd => format!("'{odd}'"),
    };
    steps.iter().map(named).collect::<Vec<_>>().join(".")
}

/// A path as [`steps`] takes it and as it stands in a file, where no shell reads it first: quotes stand only around a name that would be
/// read otherwise without them.
pub fn in_a_file(steps: &[String]) -> String {
    let named = |step: &String| match step {
        odd if odd.contains('\'') || odd.starts_with('"') => Json::from(odd.as_str()).to_string(),
        odd if odd.is_empty() || odd.contains(['.', '=']) || odd.trim() != odd => format!("'{odd}'"),
        plain => plain.clone(),
    };
    steps.iter().map(named).collect::<Vec<_>>().join(".")
}

/// The numbers that stand at a path, or inside what it names; none where it is no path.
pub fn named<'n>(numbers: &'n [Number], path: &str) -> Vec<&'n Number> {
    let Some(steps) = steps(path) else { return Vec::new() };
    let is_named = |number: &&Number| {
        let mut own = number.place.steps();
        steps.iter().all(|step| own.next().as_ref() == Some(step))
    };
    numbers.iter().filter(is_named).collect()
}

#[cfg(test)]
mod tests {
    use super::{BadPath, dotted, in_a_file, leading, steps};

    /// What is written is read back, as it stands in a file and as it is typed where no shell takes quotes away.
    #[test]
    fn a_path_is_read_back() {
        let odd = [
            "apron",
            "apron tenon",
            "shelf 1.2",
            "a=b",
            "a.b's",
            "\"",
            "\"a\"",
            "'",
            "",
            " ",
            " a",
            "ä.",
            "0",
            "a\\b\n",
        ];
        for one in odd {
            for other in odd {
                let path = [one.to_owned(), other.to_owned()];
                for written in [in_a_file(&path), dotted(&path)] {
                    assert_eq!(steps(&written).as_deref(), Some(path.as_slice()), "{written}");
                }
            }
        }
        assert_eq!(in_a_file(&["joints".to_owned(), "apron tenon".to_owned()]), "joints.apron tenon");
        assert_eq!(in_a_file(&["patterns".to_owned(), "shelf 1.2".to_owned()]), "patterns.'shelf 1.2'");
    }

    #[test]
    fn what_is_no_path_is_told_apart() {
        for (path, why) in [
            ("", BadPath::NoName),
            ("a..b", BadPath::NoName),
            ("a.", BadPath::NoName),
            ("'a", BadPath::OpenQuote),
            ("a.\"b", BadPath::OpenQuote),
        ] {
            assert_eq!(leading(path), Err(why), "{path}");
            assert_eq!(steps(path), None, "{path}");
        }
    }

    /// What stands behind a path ends it for who takes it apart, and is no part of one for who wants a path alone.
    #[test]
    fn what_stands_behind_a_path_is_none_of_it() {
        for (text, names, behind) in [
            ("a='b", &["a"][..], "='b"),
            ("'a'b", &["a"], "b"),
            (" a . 'b c' = 1", &["a", "b c"], "= 1"),
            ("a \"b", &["a \"b"], ""),
        ] {
            let (steps_of, after) = leading(text).expect("a path");
            assert_eq!((steps_of.iter().map(String::as_str).collect::<Vec<_>>().as_slice(), after), (names, behind));
            assert_eq!(steps(text).is_some(), behind.is_empty(), "{text}");
        }
    }
}
