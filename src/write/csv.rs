//! Tables as comma-separated values (RFC 4180), one after another with an empty line between.

use crate::page::shown;
use crate::schedule::Table;

/// The tables as one text: each its title on a line, its heads, its rows; lines end as the standard asks.
pub fn csv(tables: &[Table]) -> String {
    let blocks: Vec<String> = tables.iter().map(block).collect();
    blocks.join("\r\n")
}

fn block(table: &Table) -> String {
    let title = std::slice::from_ref(&table.title);
    let lines = [title, table.columns.as_slice()].into_iter().chain(table.rows.iter().map(Vec::as_slice));
    lines.map(|cells| format!("{}\r\n", line(cells))).collect()
}

fn line(cells: &[String]) -> String {
    cells.iter().map(|c| cell(c)).collect::<Vec<String>>().join(",")
}

/// A cell, in quotation marks where it holds a comma, a quotation mark or a line's end. What a spreadsheet would work out as a sum
/// or a command is marked as words.
fn cell(text: &str) -> String {
    let text: String = is_formula(text).then_some('\'').into_iter().chain(shown(text)).collect();
    if text.contains([',', '"', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// Whether a spreadsheet would take a cell for a formula. A number with its unit behind it is none.
fn is_formula(text: &str) -> bool {
    let text: String = shown(text).collect();
    let mut signs = text.trim_start().chars();
    let is_part =
        |c: char| c.is_alphanumeric() || matches!(c, ' ' | '.' | ',' | '/' | '°' | '"' | '\'' | '′' | '″' | '%');
    match signs.next() {
        Some('=' | '@' | '＝' | '＠') => true,
        Some('+' | '-' | '＋' | '－') => {
            let rest = signs.as_str();
            !(rest.starts_with(|c: char| c.is_numeric() || c == '.') && rest.chars().all(is_part))
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::csv;
    use crate::schedule::Table;

    #[test]
    fn a_cell_that_a_spreadsheet_would_work_out_is_marked_as_words() {
        let cells = [
            "=1+1",
            "@SUM(A1)",
            "+49 30 1",
            "-4.5",
            "-4.5 mm",
            "+0.2°",
            "-1+cmd|' /C calc'!A0",
            "-A1",
            "--",
            "\u{202e}=A1",
            "\u{ff1d}A1",
        ];
        let marked = [
            "'=1+1",
            "'@SUM(A1)",
            "+49 30 1",
            "-4.5",
            "-4.5 mm",
            "+0.2°",
            "'-1+cmd|' /C calc'!A0",
            "'-A1",
            "'--",
            "'=A1",
            "'\u{ff1d}A1",
        ];
        let table = |cells: &[&str]| Table {
            title: "T".into(),
            columns: vec!["C".into()],
            rows: cells.iter().map(|cell| vec![(*cell).to_owned()]).collect(),
        };
        let lines: Vec<String> = csv(&[table(&cells)]).split("\r\n").skip(2).map(str::to_owned).collect();
        assert_eq!(lines[..marked.len()], marked);
    }

    #[test]
    fn commas_and_inch_marks_are_quoted() {
        let table = Table {
            title: "Boards".into(),
            columns: vec!["Board".into(), "Size".into()],
            rows: vec![vec!["leg, left".into(), "1 1/2\"".into()]],
        };
        assert_eq!(csv(&[table]), "Boards\r\nBoard,Size\r\n\"leg, left\",\"1 1/2\"\"\"\r\n");
    }
}
