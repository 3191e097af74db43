//! The README and the pages of the guide, as they stand in the repository.

use std::fs;
use std::path::Path;

/// A page by its file's path, seen from the repository, and its text; the README first.
pub fn pages() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = fs::read_dir(root.join("src/guide")).expect("the guide");
    let mut names: Vec<String> = folder
        .map(|entry| format!("src/guide/{}", entry.expect("an entry").file_name().to_string_lossy()))
        .filter(|name| name.ends_with(".md"))
        .collect();
    names.sort();
    names.insert(0, "README.md".to_owned());
    let text = |name: &String| fs::read_to_string(root.join(name)).expect("a page");
    names.iter().map(|name| (name.clone(), text(name))).collect()
}

/// What stands between the fences of a page: the words behind the opening one (`json bracket.json`), and the lines.
pub fn fenced(page: &str) -> Vec<(String, String)> {
    let mut found: Vec<(String, String)> = Vec::new();
    let mut inside = false;
    for line in page.lines() {
        match (line.strip_prefix("```"), inside) {
            (Some(words), false) => found.push((words.to_owned(), String::new())),
            (None, true) => {
                let block = &mut found.last_mut().expect("an opening fence").1;
                block.push_str(line);
                block.push('\n');
            }
            _ => {}
        }
        inside ^= line.starts_with("```");
    }
    found
}

/// The files that a page shows, by name.
pub fn files(page: &str) -> Vec<(String, String)> {
    let named = |(words, text): (String, String)| Some((words.strip_prefix("json ")?.to_owned(), text));
    fenced(page).into_iter().filter_map(named).collect()
}

/// The projects that the guide shows as whole files, by name.
pub fn examples() -> Vec<(String, String)> {
    let all = pages().into_iter().flat_map(|(_, page)| files(&page));
    all.filter(|(_, text)| text.contains("\"fullsize\": 1")).collect()
}
