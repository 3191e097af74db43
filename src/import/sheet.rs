//! Style sheets: rules with selectors of names, classes and ids, as drawing programs write them.

use roxmltree::Node;

/// One thing that a rule or a `style` attribute says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Declaration {
    /// The property, in small letters, without the prefix of a browser.
    pub(super) name: String,
    /// Its value.
    pub(super) value: String,
    /// Whether it goes before all that is not so.
    pub(super) important: bool,
}

/// How strongly a rule speaks: ids, then classes, then names, then its place in the file.
pub(super) type Weight = (usize, usize, usize, usize);

/// A rule of a style sheet.
#[derive(Debug, Clone)]
pub(super) struct Rule {
    selector: Vec<Step>,
    /// How strongly it speaks.
    pub(super) weight: Weight,
    /// What it says.
    pub(super) says: Vec<Declaration>,
}

/// One element of a selector, the last first.
#[derive(Debug, Clone, Default)]
struct Step {
    name: Option<String>,
    classes: Vec<String>,
    ids: Vec<String>,
    /// Whether the step that follows it in the selector is its child, not any element within.
    is_parent: bool,
}

/// What was read of a style sheet.
#[derive(Debug, Default)]
pub(super) struct Sheet {
    /// Its rules.
    pub(super) rules: Vec<Rule>,
    /// Line breaks before each rule that could not be read, with what it would say; nothing for a rule about rules.
    pub(super) unread: Vec<(usize, Vec<Declaration>)>,
}

impl Rule {
    /// Whether the rule is about an element.
    pub(super) fn is_about(&self, node: &Node) -> bool {
        let mut steps = self.selector.iter();
        if !steps.next().is_some_and(|step| step.matches(node)) {
            return false;
        }
        let mut at = *node;
        for step in steps {
            let within = at.ancestors().skip(1).filter(Node::is_element);
            // Of several that match, the nearest leaves most room for the next step unless that asks for a parent.
            let found = match step.is_parent {
                true => within.take(1).find(|node| step.matches(node)),
                false => within.into_iter().find(|node| step.matches(node)),
            };
            let Some(found) = found else { return false };
            at = found;
        }
        true
    }
}

impl Step {
    fn matches(&self, node: &Node) -> bool {
        let named = self.name.as_ref().is_none_or(|name| node.tag_name().name() == name);
        let is = |id: &String| node.attribute("id") == Some(id);
        let has = |class: &String| {
            node.attribute("class").is_some_and(|all| all.split_ascii_whitespace().any(|one| one == class))
        };
        named && self.ids.iter().all(is) && self.classes.iter().all(has)
    }

    /// Reads a name with classes and ids; `None` for anything else.
    fn read(text: &str) -> Option<Step> {
        let mut step = Step::default();
        let mut rest = text;
        let word_end =
            |text: &str| text.find(|c: char| !(c.is_alphanumeric() || matches!(c, '-' | '_'))).unwrap_or(text.len());
        let first = word_end(rest);
        if let Some(tail) = rest.strip_prefix('*') {
            rest = tail;
        } else if first > 0 {
            step.name = Some(rest[..first].to_owned());
            rest = &rest[first..];
        }
        while !rest.is_empty() {
            let tail = rest.strip_prefix(['.', '#'])?;
            let end = word_end(tail);
            if end == 0 {
                return None;
            }
            let kind = if rest.starts_with('.') { &mut step.classes } else { &mut step.ids };
            kind.push(tail[..end].to_owned());
            rest = &tail[end..];
        }
        Some(step)
    }
}

/// Reads a selector, the last step first; `None` where it has anything but names, classes, ids, spaces and `>`.
fn selector(text: &str) -> Option<Vec<Step>> {
    let spaced = text.replace('>', " > ");
    let mut steps: Vec<Step> = Vec::new();
    let mut is_parent = false;
    for word in spaced.split_ascii_whitespace().rev() {
        if word == ">" {
            if is_parent || steps.is_empty() {
                return None;
            }
            is_parent = true;
            continue;
        }
        let step = Step::read(word)?;
        // Whether a nearer match would do for one step and a farther for the next is not looked for.
        if is_parent && steps.iter().skip(1).any(|step| !step.is_parent) {
            return None;
        }
        steps.push(Step { is_parent, ..step });
        is_parent = false;
    }
    (!is_parent && !steps.is_empty()).then_some(steps)
}

fn weight(steps: &[Step], order: usize) -> Weight {
    let ids = steps.iter().map(|step| step.ids.len()).sum();
    let classes = steps.iter().map(|step| step.classes.len()).sum();
    (ids, classes, steps.iter().filter(|step| step.name.is_some()).count(), order)
}

/// Reads a style sheet. `order` is the number of rules before it in the file.
pub(super) fn sheet(text: &str, order: usize) -> Sheet {
    let text = without_comments(text);
    let mut sheet = Sheet::default();
    let mut at = 0;
    while let Some(rest) = text.get(at..).filter(|rest| !rest.trim().is_empty()) {
        let start = at + rest.len() - rest.trim_start().len();
        let rest = &text[start..];
        let lines = text[..start].matches('\n').count();
        if let Some(mark) = ["<!--", "-->"].into_iter().find(|mark| rest.starts_with(mark)) {
            at = start + mark.len();
            continue;
        }
        let open = outside(rest, &['{', ';']).unwrap_or(rest.len());
        let head = rest[..open].trim();
        let block =
            rest[open..].strip_prefix('{').map(|block| (block, outside(block, &['}']).unwrap_or(block.len())));
        at = start + open + block.map_or(1, |(_, end)| end + 2);
        let harmless = ["@charset", "@namespace", "@font-face"].iter().any(|name| head.starts_with(name));
        match block.map(|(block, end)| &block[..end]) {
            _ if harmless => {}
            Some(block) if !head.starts_with('@') && !block.contains('{') => {
                sheet.add(head, &declarations(block), lines, order);
            }
            _ => sheet.unread.push((lines, Vec::new())),
        }
    }
    sheet
}

impl Sheet {
    fn add(&mut self, selectors: &str, says: &[Declaration], lines: usize, order: usize) {
        for text in selectors.split(',') {
            match selector(text.trim()) {
                Some(steps) => {
                    let weight = weight(&steps, order + self.rules.len());
                    self.rules.push(Rule { selector: steps, weight, says: says.to_vec() });
                }
                None => self.unread.push((lines, says.to_vec())),
            }
        }
    }
}

/// What stands between the braces of a rule, or in a `style` attribute.
pub(super) fn declarations(text: &str) -> Vec<Declaration> {
    let text = without_comments(text);
    let mut rest = text.as_str();
    let mut all = Vec::new();
    while !rest.is_empty() {
        let end = outside(rest, &[';']).unwrap_or(rest.len());
        all.extend(rest[..end].split_once(':').map(|(name, value)| declaration(name, value)));
        rest = rest.get(end + 1..).unwrap_or("");
    }
    all
}

fn declaration(name: &str, value: &str) -> Declaration {
    let name = name.trim().to_ascii_lowercase();
    let name = ["-webkit-", "-moz-", "-ms-", "-o-"].iter().find_map(|of| name.strip_prefix(of)).unwrap_or(&name);
    let value = value.trim();
    let plain = value.split_once('!').filter(|(_, mark)| mark.trim().eq_ignore_ascii_case("important"));
    let (value, important) = plain.map_or((value, false), |(value, _)| (value.trim(), true));
    Declaration { name: name.to_owned(), value: value.to_owned(), important }
}

/// Where the first of some signs stands that is neither in quotes nor in brackets.
fn outside(text: &str, signs: &[char]) -> Option<usize> {
    let (mut quote, mut depth, mut escaped) = (None, 0_usize, false);
    for (at, c) in text.char_indices() {
        match (quote, c) {
            _ if escaped => escaped = false,
            (_, '\\') => escaped = true,
            (Some(open), _) if c == open => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') => quote = Some(c),
            (None, '(') => depth += 1,
            (None, ')') => depth = depth.saturating_sub(1),
            (None, _) if depth == 0 && signs.contains(&c) => return Some(at),
            _ => {}
        }
    }
    None
}

/// The text with its comments blanked, line breaks kept.
fn without_comments(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("/*") {
        let (comment, after) = after.split_once("*/").unwrap_or((after, ""));
        out.push_str(before);
        out.push(' ');
        out.extend(comment.chars().filter(|c| *c == '\n'));
        rest = after;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::{declarations, sheet};

    #[test]
    fn rules_of_drawing_programs_are_read_and_others_are_told() {
        let found = sheet(
            "<!-- .a, g > path.b#c{fill:none;/* x\n*/stroke : url(\"a;b\") !important}\n@import 'x';\na:hover{fill:red} -->",
            3,
        );
        let weights: Vec<_> = found.rules.iter().map(|rule| rule.weight).collect();
        assert_eq!(weights, [(0, 1, 0, 3), (1, 1, 2, 4)]);
        let said: Vec<_> =
            found.rules[1].says.iter().map(|d| (d.name.as_str(), d.value.as_str(), d.important)).collect();
        assert_eq!(said, [("fill", "none", false), ("stroke", "url(\"a;b\")", true)]);
        let unread: Vec<_> = found.unread.iter().map(|(line, says)| (*line, says.len())).collect();
        assert_eq!(unread, [(2, 0), (3, 1)]);
        assert_eq!(declarations("-webkit-Transform:scale(2);;x").len(), 1);
    }
}
