//! Groups of a plot: one a role, in it one a pattern.

use crate::page::{Document, Item, Page, Part, Role, font};
use svg::node::element::{Element, Group};

/// The page's items in groups, by role and then by pattern; empty groups are left out.
pub(super) fn by_role(
    document: &Document,
    page: &Page,
    mut draw: impl FnMut(&Item) -> Option<Element>,
) -> Vec<Element> {
    let slugs = slugs(&document.parts);
    let mut groups = Vec::new();
    for role in Role::ALL {
        let mut loose = Vec::new();
        let mut owned: Vec<Vec<Element>> = document.parts.iter().map(|_| Vec::new()).collect();
        for item in page.items.iter().filter(|item| item.role == role) {
            let Some(element) = draw(item) else { continue };
            match item.part.and_then(|part| owned.get_mut(part)) {
                Some(pattern) => pattern.push(element),
                None => loose.push(element),
            }
        }
        let patterns = document.parts.iter().zip(&slugs).zip(owned).filter(|(_, elements)| !elements.is_empty());
        let patterns = patterns.map(|((part, slug), elements)| {
            let group = filled(Group::new(), elements)
                .set("id", format!("pattern-{slug}-{}", role.name()))
                .set("data-name", shown(&part.name))
                .set("data-code", shown(&part.code))
                .set("data-revision", shown(&part.revision));
            Element::from(group)
        });
        loose.extend(patterns);
        if !loose.is_empty() {
            groups.push(filled(Group::new().set("id", role.name()), loose).into());
        }
    }
    groups
}

fn filled(group: Group, elements: Vec<Element>) -> Group {
    elements.into_iter().fold(group, Group::add)
}

/// A name without the characters that XML forbids.
fn shown(name: &str) -> String {
    font::shown(name).collect()
}

/// A short name for each part that is safe in an id and that no other part has.
fn slugs(parts: &[Part]) -> Vec<String> {
    let mut slugs: Vec<String> = Vec::with_capacity(parts.len());
    for part in parts {
        let plain = slug(&part.name);
        let mut unused = plain.clone();
        let mut number = 2;
        while slugs.contains(&unused) {
            unused = format!("{plain}-{number}");
            number += 1;
        }
        slugs.push(unused);
    }
    slugs
}

/// Small letters and figures, everything else as single hyphens; `part` where nothing is left.
fn slug(name: &str) -> String {
    let plain: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() { "part".to_owned() } else { words.join("-") }
}

#[cfg(test)]
mod tests {
    use super::{Part, slugs};

    #[test]
    fn ids_are_safe_and_differ() {
        let part = |name: &str| Part::new(name, "");
        let parts = ["Leg 2", "leg", "leg!", "椅", "🪑", "top_rail\"<x>"].map(part);
        assert_eq!(slugs(&parts), ["leg-2", "leg", "leg-3", "part", "part-2", "top-rail-x"]);
    }
}
