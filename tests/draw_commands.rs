//! The command `draw`, and what every command that writes a file makes of its name.

use crate::common::shop::{Shop, text};
use std::fs;

const STOOL: &str = include_str!("../templates-demo/saddle_stool.json");

#[test]
fn draw_says_where_a_section_would_cut_the_piece() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    let done = shop.run(&["draw", "stool.json", "--section", "z=99"]);
    assert_eq!(done.status.code(), Some(2));
    let said = text(&done.stderr);
    assert_eq!(
        said,
        "fullsize: --section z=99 cuts no wood: the piece reaches from z = 0\" to 24 1/2\"; give a place between them\n"
    );
    assert_eq!(shop.names(), ["stool.json"]);
}

#[test]
fn draw_writes_an_svg_a_sheet_and_what_is_too_large_whole() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    let done = shop.run(&["draw", "stool.json", "-o", "s.svg"]);
    assert_eq!(text(&done.stdout).lines().next(), Some("Wrote s.svg"), "{}", text(&done.stderr));
    assert!(shop.names().len() > 3 && shop.names().contains(&"s-2.svg".to_owned()), "{:?}", shop.names());
    let done = shop.run(&["draw", "stool.json", "--scale", "1:1", "--view", "front", "-o", "wall.svg"]);
    assert_eq!(text(&done.stdout), "Wrote wall.svg\n", "{}", text(&done.stderr));
    let drawn = fs::read_to_string(shop.path("wall.svg")).expect("an SVG");
    let size = drawn.split("height=\"").nth(1).and_then(|rest| rest.split("mm").next()).expect("a height");
    // The stool is 24 1/2 in high: the whole of it stands on the page.
    assert!(size.parse::<f64>().expect("a number") > 24.5 * 25.4, "{size}");
}

#[test]
fn a_name_that_promises_another_kind_of_file_is_refused() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    let refused = |arguments: &[&str]| {
        let done = shop.run(arguments);
        assert_eq!((done.status.code(), text(&done.stdout).as_str()), (Some(2), ""), "{arguments:?}");
        text(&done.stderr)
    };
    assert_eq!(
        refused(&["draw", "stool.json", "-o", "out.dxf"]),
        "fullsize: this is written as PDF or SVG, and out.dxf promises something else; name it out.pdf or out.svg\n"
    );
    assert_eq!(
        refused(&["print", "stool.json", "-o", "out.svg"]),
        "fullsize: this is written as PDF, and out.svg promises something else; name it out.pdf\n"
    );
    for (command, name) in [("plot", "out.pdf"), ("model", "out.obj"), ("show", "out.png"), ("draw", "out.svgz")] {
        assert!(refused(&[command, "stool.json", "-o", name]).contains("promises something else"), "{command}");
    }
    assert!(refused(&["proof", "-o", "out.png"]).contains("name it out.pdf"));
    assert_eq!(
        refused(&["schedule", "stool.json", "-o", "saw.csv"]),
        "fullsize: saw.csv promises CSV: say --format csv, or name it saw.txt\n"
    );
    assert_eq!(shop.names(), ["stool.json"]);
    // Capitals and names without an ending promise nothing else.
    for name in ["A.SVG", "B.PDF", "plain"] {
        assert_eq!(shop.run(&["draw", "stool.json", "--view", "front", "-o", name]).status.code(), Some(0), "{name}");
    }
    assert!(fs::read_to_string(shop.path("A.SVG")).expect("text").starts_with("<svg "));
    assert!(fs::read(shop.path("B.PDF")).expect("bytes").starts_with(b"%PDF"));
}

#[test]
fn the_rod_refuses_what_belongs_to_the_views() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    let done = shop.run(&["draw", "stool.json", "--rod", "--view", "front", "--scale", "1:5"]);
    assert_eq!((done.status.code(), text(&done.stdout).as_str()), (Some(2), ""));
    let said = text(&done.stderr);
    assert!(said.starts_with("fullsize: the rod is heights, widths and lengths"), "{said}");
    assert!(said.contains("--view and --scale would change nothing on it"), "{said}");
    assert_eq!(shop.names(), ["stool.json"]);
}

#[test]
fn each_variant_laid_over_is_drawn() {
    let shop = Shop::new();
    let variants = r#""variants": { "taller": { "base": { "height": 28 } }, "wider": { "base": { "length_at_top": 15 } } }, "shop""#;
    shop.file("stool.json", &STOOL.replace("\"shop\"", variants));
    // Every line laid over is a path of its own.
    let paths = |names: &[&str]| {
        let over: Vec<String> = names.iter().flat_map(|n| ["--over".to_owned(), format!("variant:{n}")]).collect();
        let over = over.iter().map(String::as_str);
        let arguments: Vec<&str> =
            ["draw", "stool.json", "--view", "front", "-o", "s.svg"].into_iter().chain(over).collect();
        let done = shop.run(&arguments);
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
        fs::read_to_string(shop.path("s.svg")).expect("an SVG").matches("stroke-dasharray").count()
    };
    let (none, taller, wider) = (paths(&[]), paths(&["taller"]), paths(&["wider"]));
    assert!(taller > none && wider > none);
    assert_eq!(paths(&["taller", "wider"]), taller + wider - none);
}

/// On A3 the lists of the table's many mortises part its views.
#[test]
fn show_pictures_all_views_of_a_jointed_table() {
    let shop = Shop::new();
    shop.file("table.json", include_str!("../templates-demo/reading_table.json"));
    let done = shop.run(&["show", "table.json", "-o", "t.svg"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let seen = fs::read_to_string(shop.path("t.svg")).expect("an SVG");
    shop.run(&["draw", "table.json", "--view", "front", "--sheet", "a3", "-o", "front.svg"]);
    let front = fs::read_to_string(shop.path("front.svg")).expect("an SVG");
    let wood = |svg: &str| svg.matches("stroke-width=\"0.35\"").count();
    assert!(wood(&front) > 0 && wood(&seen) > 2 * wood(&front), "{} {}", wood(&seen), wood(&front));
}
