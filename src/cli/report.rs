//! Findings as text for a person and as JSON for a script.

use crate::finding::{Finding, RefusedChange, Said, Severity, Span};
use crate::project::{Source, Sources};
use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use serde_json::{Value as Json, json};

/// Columns to which the text is laid out: what fits a small terminal and a printed page.
const WIDTH: usize = 100;
/// The most of a line that is shown around what is marked, bytes to either side.
const SHOWN_AROUND: usize = 400;

/// Findings as they are told: what stops the work first, then what is to be minded.
fn gravest_first(findings: &[Finding]) -> Vec<&Finding> {
    let mut all: Vec<&Finding> = findings.iter().collect();
    all.sort_by_key(|finding| finding.severity);
    all
}

/// The findings with the lines that they concern, each with its place and cure, what stops the work first.
pub fn text(findings: &[Finding], sources: &Sources, color: bool) -> String {
    let renderer = if color { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.term_width(WIDTH).decor_style(DecorStyle::Ascii);
    let mut text = String::new();
    for finding in gravest_first(findings) {
        let finding = sources.marked(finding.clone());
        let said = finding.said(&sources.notation());
        let beside: Vec<String> =
            finding.related.iter().map(|(_, beside)| beside.said(&sources.notation())).collect();
        text.push_str(&renderer.render(&[group(&finding, &said, &beside, sources)]));
        text.push_str("\n\n");
    }
    text
}

/// The findings as `check --format json` writes them.
pub fn json(findings: &[Finding], sources: &Sources) -> Json {
    let findings: Vec<Json> = gravest_first(findings).into_iter().map(|finding| entry(finding, sources)).collect();
    json!({ "findings": findings })
}

fn entry(finding: &Finding, sources: &Sources) -> Json {
    let span = sources.span(&finding.place);
    let place = span.and_then(|span| sources.line_and_column(span));
    let file = span.and_then(|span| sources.files().get(usize::from(span.source))).map(|source| source.name.as_str());
    let notation = sources.notation();
    let said = finding.said(&notation);
    let project = sources.files().first().map_or("FILE", |source| source.name.as_str());
    json!({
        "severity": finding.severity.name(),
        "code": finding.code,
        "path": finding.place.pointer,
        "file": file,
        "line": place.map(|(line, _)| line),
        "column": place.map(|(_, column)| column),
        "message": said.message,
        "remedy": said.remedy,
        "measured": finding.measures_json(),
        "units": finding.units_json(),
        "cures": finding.cures_json(project, &notation),
    })
}

fn group<'a>(finding: &'a Finding, said: &'a Said, beside: &'a [String], sources: &'a Sources) -> Group<'a> {
    let level = match finding.severity {
        Severity::Stop => Level::ERROR.with_name("problem"),
        Severity::Warn => Level::WARNING.with_name("warning"),
        Severity::Note => Level::NOTE.with_name("note"),
    };
    let mut group = Group::with_title(level.primary_title(said.message.as_str()));
    if let Some(span) = finding.place.span {
        group = match is_of_the_command(finding) {
            true => group.element(Origin::path(named(span, sources))),
            false => shown(group, span, None, sources),
        };
    }
    for ((place, _), words) in finding.related.iter().zip(beside) {
        if let Some(span) = place.span {
            group = shown(group, span, Some(words), sources);
        }
    }
    if !finding.place.pointer.is_empty() {
        let pointer = annotate_snippets::normalize_untrusted_str(&finding.place.pointer);
        group = group.element(Level::NOTE.with_name("field").message(pointer));
    }
    if !said.remedy.is_empty() {
        // The level's text is taken as it is: what the file's author wrote is made harmless first.
        let remedy = annotate_snippets::normalize_untrusted_str(&said.remedy);
        group = group.element(Level::HELP.with_name("cure").message(remedy));
    }
    group.element(Level::NOTE.with_name("more").message(format!("fullsize guide {}", finding.code)))
}

/// Whether what is wrong stands in the words of a command and on no line of a file: a name that leads nowhere, say.
fn is_of_the_command(finding: &Finding) -> bool {
    finding.refused == Some(RefusedChange::Itself) && finding.place.pointer.is_empty()
}

/// The name of the file in which something stands.
fn named(span: Span, sources: &Sources) -> String {
    let source = sources.files().get(usize::from(span.source));
    annotate_snippets::normalize_untrusted_str(source.map_or("", |source| source.name.as_str()))
}

/// Adds the file, line and column, and the marked line.
fn shown<'a>(group: Group<'a>, span: Span, words: Option<&'a String>, sources: &'a Sources) -> Group<'a> {
    let Some(source) = sources.files().get(usize::from(span.source)) else { return group };
    let name = annotate_snippets::normalize_untrusted_str(&source.name);
    let Some((line, column)) = sources.line_and_column(span).filter(|_| !source.text.is_empty()) else {
        return group.element(Origin::path(name));
    };
    let (shown, mark, whole) = marked_line(source, span);
    let mut annotation = AnnotationKind::Primary.span(mark);
    if let Some(words) = words {
        annotation = annotation.label(words.as_str());
    }
    let snippet = Snippet::source(shown).line_start(line).annotation(annotation);
    if whole {
        return group.element(snippet.path(name));
    }
    group.element(Origin::path(name).line(line).char_column(column)).element(snippet)
}

/// The line on which a span begins, or what lies around it on a very long one; the part of it to mark; and whether it begins
/// with the line.
fn marked_line(source: &Source, span: Span) -> (&str, std::ops::Range<usize>, bool) {
    let text = source.text.as_str();
    let boundary = |byte: usize| crate::project::character_start(text, byte);
    let start = boundary(span.start as usize);
    let line_start = text.get(..start).and_then(|before| before.rfind('\n')).map_or(0, |at| at + 1);
    let rest = text.get(line_start..).unwrap_or("");
    let line_end = line_start + rest.lines().next().map_or(0, str::len);
    let end = boundary((span.end as usize).clamp(start, line_end.max(start)));
    let mut from = boundary(line_start.max(start.saturating_sub(SHOWN_AROUND)));
    let whole = from == line_start;
    if text.get(from..).is_some_and(|rest| rest.starts_with('\u{feff}')) && start > from {
        from += '\u{feff}'.len_utf8();
    }
    let to = boundary(line_end.min(end + SHOWN_AROUND)).max(end);
    let mark = start.saturating_sub(from)..end.saturating_sub(from);
    (text.get(from..to).unwrap_or(""), mark, whole)
}

#[cfg(test)]
mod tests {
    use super::text;
    use crate::finding::{Finding, Place};
    use crate::model::problem::{Direction, Problem};
    use crate::project::read;
    use serde_json::json;

    const FILE: &str = "\u{feff}{ \"fullsize\": 1, \"title\": \"Wedge\", \"units\": \"in\",\r\n\t\"patterns\": { \"wedge\": { \"thickness\": \"½ inn\", \"outline\": [] } } }";

    #[test]
    fn a_script_is_told_line_column_and_numbers() {
        let file = FILE.replace("½ inn", "30");
        let reading = read("wedge.json", file.as_bytes(), None, None);
        let told = super::json(&reading.findings, &reading.sources);
        let expected = json!({
            "severity": "stop",
            "code": "out-of-range",
            "path": "/patterns/wedge/thickness",
            "file": "wedge.json",
            "line": 2,
            "column": 40,
            "message": "30\" is too large for \"thickness\"",
            "remedy": "at most 19.685 in may be written here",
            "measured": { "value": 762.0, "smallest": 0.1, "largest": 500.0 },
            "units": { "value": "mm", "smallest": "mm", "largest": "mm" },
            "cures": [],
        });
        assert_eq!(told["findings"][0], expected);
    }

    #[test]
    fn a_person_is_shown_the_line() {
        let reading = read("wedge.json", FILE.as_bytes(), None, None);
        let expected = "\
problem: `inn` is not a unit
 --> wedge.json:2:43
  |
2 |     \"patterns\": { \"wedge\": { \"thickness\": \"½ inn\", \"outline\": [] } } }
  |                                              ^^^
  |
  = field: /patterns/wedge/thickness
  = cure: did you mean `in`? use mm, cm, m, in, ft or deg
  = more: fullsize guide CODE

"
        .replace("CODE", reading.findings[0].code);
        assert_eq!(text(&reading.findings[..1], &reading.sources, false), expected);
        assert!(text(&reading.findings, &reading.sources, true).contains("\u{1b}["));
    }

    #[test]
    fn a_place_without_bytes_is_found_by_its_pointer() {
        let file = "{ \"fullsize\": 1, \"title\": \"Wedge\", \"units\": \"mm\", \"patterns\": { \"a/b\": { \"thickness\": 5, \"outline\": { \"circle\": 90 } } },\n \"variants\": { \"v\": { \"patterns\": { \"a/b\": { \"make\": 3 } } } } }";
        let reading = read("wedge.json", file.as_bytes(), None, Some("v"));
        assert!(reading.project.is_some(), "{:?}", reading.findings);
        let place = |pointer: &str| {
            let finding = Finding::of(Problem::NoDirection { of: Direction::Vector }, Place::pointer(pointer));
            let told = super::json(&[finding], &reading.sources);
            (told["findings"][0]["line"].clone(), told["findings"][0]["column"].clone())
        };
        assert_eq!(place("/patterns/a~1b/thickness"), (json!(1), json!(87)));
        // The value that the variant put there stands on the second line.
        assert_eq!(place("/patterns/a~1b/make"), (json!(2), json!(54)));
        assert_eq!(place("/patterns/a~1b/holes/3"), (json!(1), json!(65)));
    }
}
