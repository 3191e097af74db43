//! `guide`: the pages of the guide, one by its topic, or every passage that has some words.

use super::args::Guide;
use super::load::Stopped;
use super::output::{Trouble, say};
use crate::finding::nearest;
use std::fmt::Write as _;
use std::io::{self, IsTerminal, Write};
use std::process::{Command, Stdio};

/// A page of the guide: its topic and its text in Markdown.
struct Page {
    topic: &'static str,
    text: &'static str,
}

const PAGES: [Page; 11] = [
    Page { topic: "printing", text: include_str!("../guide/printing.md") },
    Page { topic: "frames", text: include_str!("../guide/frames.md") },
    Page { topic: "stools", text: include_str!("../guide/stools.md") },
    Page { topic: "joints", text: include_str!("../guide/joints.md") },
    Page { topic: "top", text: include_str!("../guide/top.md") },
    Page { topic: "router", text: include_str!("../guide/router.md") },
    Page { topic: "drawings", text: include_str!("../guide/drawings.md") },
    Page { topic: "changes", text: include_str!("../guide/changes.md") },
    Page { topic: "file", text: include_str!("../guide/file.md") },
    Page { topic: "shop", text: include_str!("../guide/shop.md") },
    Page { topic: "findings", text: include_str!("../guide/findings.md") },
];

/// Runs `guide`.
pub fn run(asked: &Guide, out: &mut dyn Write) -> Result<(), Stopped> {
    let words = asked.words.join(" ");
    let text = match words.trim() {
        "" => contents(),
        words => match PAGES.iter().find(|page| page.topic.eq_ignore_ascii_case(words)) {
            Some(page) => for_a_terminal(page.text),
            None => passages(words).ok_or_else(|| nothing_found(words))?,
        },
    };
    Ok(paged(&text, out)?)
}

/// The topics, each with the title of its page.
fn contents() -> String {
    let mut text =
        "The guide has these pages; fullsize guide TOPIC shows one, and fullsize guide WORDS looks for words:\n\n"
            .to_owned();
    for page in &PAGES {
        // A page begins with its title.
        let title = page.text.lines().next().unwrap_or_default().trim_start_matches("# ");
        let _ = writeln!(text, "  {:<10} {title}", page.topic);
    }
    text
}

fn nothing_found(words: &str) -> Trouble {
    let topics: Vec<&str> = PAGES.iter().map(|page| page.topic).collect();
    let meant = nearest(&words.to_lowercase(), topics.iter().copied());
    let meant = meant.map_or_else(String::new, |topic| format!("did you mean {topic} (fullsize guide {topic})? "));
    Trouble::new(format!("no page of the guide has \"{words}\"; {meant}its topics are {}", topics.join(", ")))
}

/// Every passage that has all the words, in capitals or not, below its page and heading; `None` where there is none.
fn passages(words: &str) -> Option<String> {
    let words: Vec<String> = words.split_whitespace().map(str::to_lowercase).collect();
    let has = |text: &str| {
        let text = text.to_lowercase();
        words.iter().all(|word| text.contains(word))
    };
    let mut found = String::new();
    for page in &PAGES {
        let mut heading = String::new();
        for block in blocks(page.text) {
            if let Some(title) = block.strip_prefix('#') {
                heading = title.trim_start_matches('#').trim().to_owned();
            }
            let told = part_with(&block, &has);
            if !told.is_empty() {
                let _ = write!(found, "{}: {heading}\n\n{}\n", page.topic, for_a_terminal(&told));
            }
        }
    }
    (!found.is_empty()).then_some(found)
}

/// What of a block has the words: of a table the rows, of anything else all of it.
fn part_with(block: &str, has: &dyn Fn(&str) -> bool) -> String {
    if block.starts_with('|') {
        return block.lines().filter(|row| has(row)).map(|row| format!("{row}\n")).collect();
    }
    if has(block) { format!("{block}\n") } else { String::new() }
}

/// A page parted at its blank lines, except within fences.
fn blocks(text: &str) -> Vec<String> {
    let (mut all, mut in_fence) = (vec![String::new()], false);
    for line in text.lines() {
        in_fence ^= line.trim_start().starts_with("```");
        match all.last_mut() {
            Some(block) if !line.is_empty() || in_fence => *block = format!("{block}{line}\n"),
            _ => all.push(String::new()),
        }
    }
    all.into_iter().filter(|block| !block.is_empty()).map(|block| block.trim_end().to_owned()).collect()
}

/// A page without its pictures, its links to other pages as what is to be typed.
fn for_a_terminal(text: &str) -> String {
    let mut told = String::new();
    for block in blocks(text).iter().filter(|block| !block.starts_with("![")) {
        let _ = write!(told, "{}\n\n", links_as_commands(block));
    }
    format!("{}\n", told.trim_end())
}

/// `[a page](page.md)` as `a page (fullsize guide page)`.
fn links_as_commands(text: &str) -> String {
    PAGES.iter().fold(text.to_owned(), |text, page| {
        let link = format!("]({}.md)", page.topic);
        let mut parts = text.split(link.as_str()).peekable();
        let mut told = String::new();
        while let Some(part) = parts.next() {
            match (parts.peek(), part.rsplit_once('[')) {
                (Some(_), Some((before, name))) => {
                    let _ = write!(told, "{before}{name} (fullsize guide {})", page.topic);
                }
                _ => told.push_str(part),
            }
        }
        told
    })
}

/// Writes to standard output: at a terminal through the pager that the person has chosen, or `less`, in which `/` looks for words.
fn paged(text: &str, out: &mut dyn Write) -> Result<(), Trouble> {
    if !io::stdout().is_terminal() {
        return say(out, text.as_bytes());
    }
    let chosen = std::env::var("PAGER").unwrap_or_default();
    let mut words = chosen.split_whitespace();
    let mut pager = Command::new(words.next().unwrap_or("less"));
    // What fits on the screen is shown there and stays; nothing is cleared.
    let shown = pager.args(words).env("LESS", "FRX").stdin(Stdio::piped()).spawn().and_then(|mut pager| {
        if let Some(mut input) = pager.stdin.take() {
            // A pager that is left early has shown enough.
            let _ = input.write_all(text.as_bytes());
        }
        pager.wait()
    });
    match shown {
        Ok(ended) if ended.success() => Ok(()),
        _ => say(out, text.as_bytes()),
    }
}

#[cfg(test)]
mod tests {
    use super::{PAGES, for_a_terminal, passages};

    #[test]
    fn links_are_said_as_what_is_to_be_typed() {
        assert_eq!(
            for_a_terminal("see [the shop](shop.md) and [router](router.md)\n"),
            "see the shop (fullsize guide shop) and router (fullsize guide router)\n"
        );
        for page in &PAGES {
            assert!(!for_a_terminal(page.text).contains(".md)"), "{}", page.topic);
        }
    }

    #[test]
    fn of_a_table_the_rows_with_the_words_are_found() {
        let found = passages("SHORT-grain").expect("a row");
        assert!(found.starts_with("findings: Walls, tenons and grain\n\n| `short-grain` |"), "{found}");
        assert!(!found.contains("thin-wall"), "{found}");
        assert_eq!(passages("grain xylophone"), None);
    }
}
