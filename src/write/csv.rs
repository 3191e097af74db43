//! Tables as comma-separated values (RFC 4180), one after another with an empty line between.

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

/// A cell, in quotation marks where it holds a comma, a quotation mark or a line's end.
fn cell(text: &str) -> String {
    if text.contains([',', '"', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::csv;
    use crate::schedule::Table;

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
