//! Names and words in any script: what is told of letters that cannot be printed, and that names do no harm where they are shown.

use crate::common::shop::{Shop, text};
use serde_json::Value;
use std::path::Path;

fn file(title: &str, name: &str, mark: &str) -> String {
    let file = serde_json::json!({ "fullsize": 1, "title": title, "units": "mm", "note": "日本",
        "patterns": { name: { "thickness": 12, "material": "oak", "outline": [
            { "to": [0, 0] }, { "to": [120, 0] }, { "to": [120, 60] }, { "to": [0, 60] }],
            "marks": [{ "text": mark, "at": [60, 20] }] } } });
    file.to_string()
}

fn told(shop: &Shop, arguments: &[&str]) -> Vec<Value> {
    let done = shop.run(&[&["check", "it.json", "--format", "json"], arguments].concat());
    let told: Value = serde_json::from_str(&text(&done.stdout)).expect("JSON");
    told["findings"].as_array().expect("a list").clone()
}

#[test]
fn letters_that_would_print_as_boxes_are_told_with_their_places() {
    let shop = Shop::new();
    shop.file("it.json", &file("漢字 💥 Стол שולחן ไทย", "脚 leg", "此面朝上"));
    let found = told(&shop, &[]);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        (found[0]["code"].as_str(), found[0]["severity"].as_str()),
        (Some("letters-not-printed"), Some("warn"))
    );
    assert_eq!(found[0]["path"], "/title");
    let message = found[0]["message"].as_str().expect("words");
    for letters in ["漢字", "💥", "שולחן", "ไทย", "脚"] {
        let whole = letters.chars().all(|c| message.contains(c));
        assert!(whole, "{letters}: {message}");
    }
    assert!(!message.contains('日') && !message.contains('С') && message.contains("2 other places"), "{message}");
    // Every command says it.
    for command in ["print", "plot", "show", "schedule"] {
        let done = shop.run(&[command, "it.json", "-o", "-"]);
        assert!(String::from_utf8_lossy(&done.stderr).contains("empty boxes"), "{command}");
    }
}

#[test]
fn a_font_that_has_the_letters_ends_the_warning_and_draws_them() {
    let font = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/font/hebrew.ttf");
    let font = font.to_str().expect("a path");
    let shop = Shop::new();
    shop.file("it.json", &file("שולחן", "רגל", "מעלה"));
    assert_eq!(told(&shop, &[]).len(), 1);
    assert!(told(&shop, &["--font", font]).is_empty());
    for command in ["print", "plot", "show"] {
        let with = shop.run(&[command, "it.json", "-o", "-", "--font", font]);
        assert!(with.status.success() && with.stderr.is_empty(), "{command}: {}", text(&with.stderr));
        let again = shop.run(&[command, "it.json", "-o", "-", "--font", font]);
        assert_eq!(with.stdout, again.stdout, "{command}");
        let without = shop.run(&[command, "it.json", "-o", "-"]);
        assert_ne!(with.stdout, without.stdout, "{command}");
    }
    shop.file("it.json", &file("שולחן", "脚", "up"));
    let left = told(&shop, &["--font", font]);
    assert!(left.len() == 1 && left[0]["path"] == "/patterns/脚", "{left:?}");
    let bad = shop.run(&["print", "it.json", "--font", "it.json"]);
    assert_eq!(bad.status.code(), Some(2));
    assert_eq!(text(&bad.stderr), "fullsize: it.json is no font with outlines: name a TrueType or OpenType file\n");
    // The font is read, and so it is not written over.
    std::fs::copy(font, shop.path("own.ttf")).expect("a copy");
    let over = shop.run(&["print", "it.json", "--font", "own.ttf", "-o", "own.ttf", "--force"]);
    assert_eq!(over.status.code(), Some(2));
}

/// Hebrew from one file, Chinese and Japanese (CFF outlines, named by number) from another: together they have it all.
#[test]
fn of_several_fonts_the_first_that_has_a_letter_draws_it() {
    let font = |name: &str| format!("{}/fixtures/font/{name}", env!("CARGO_MANIFEST_DIR"));
    let (hebrew, cjk) = (font("hebrew.ttf"), font("cjk.otf"));
    let shop = Shop::new();
    shop.file("it.json", &file("שולחן", "脚", "此面朝上 up"));
    for alone in [&hebrew, &cjk] {
        assert_eq!(told(&shop, &["--font", alone]).len(), 1, "{alone}");
    }
    assert!(told(&shop, &["--font", &hebrew, "--font", &cjk]).is_empty());
    // `show` draws neither title nor marks.
    for command in ["print", "plot"] {
        let run = |fonts: &[&str]| shop.run(&[&[command, "it.json", "-o", "-"], fonts].concat()).stdout;
        let both = run(&["--font", &hebrew, "--font", &cjk]);
        // No letter is in both, so that their order is all the same.
        assert!(both == run(&["--font", &cjk, "--font", &hebrew]), "{command}");
        // One that has none of the letters leaves them to the next.
        assert!(both == run(&["--font", &hebrew, "--font", &hebrew, "--font", &cjk]), "{command}");
        assert!(both != run(&["--font", &hebrew]), "{command}");
        assert!(both != run(&["--font", &cjk]), "{command}");
    }
    shop.file("it.json", &file("💥", "leg", "up"));
    let left = told(&shop, &["--font", &hebrew, "--font", &cjk]);
    let message = left[0]["message"].as_str().expect("words");
    assert!(message.contains("nor any of the fonts that are given has: 💥"), "{message}");
}

#[test]
fn names_do_no_harm_where_they_are_shown() {
    let shop = Shop::new();
    let hostile = "\u{202e}=SUM(A1)\u{2066}x";
    shop.file("it.json", &file(&format!("a{hostile}"), hostile, "up"));
    let harmful = |c: char| {
        matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}') || (c.is_control() && c != '\n' && c != '\r')
    };
    for arguments in [
        &["schedule", "it.json"][..],
        &["schedule", "it.json", "--format", "csv"],
        &["show", "it.json", "-o", "-"],
        &["plot", "it.json", "-o", "-"],
        &["show", "it.json"],
        &["print", "it.json", "--pattern", hostile],
        &["print", "it.json", "--pattern", "\u{1b}[31m\u{202e}x"],
        &["check", "\u{202e}none.json"],
    ] {
        let done = shop.run(arguments);
        let said = [text(&done.stdout), text(&done.stderr)].concat();
        assert!(!said.contains(harmful), "{arguments:?}: {said:?}");
    }
    let csv = text(&shop.run(&["schedule", "it.json", "--format", "csv"]).stdout);
    assert!(csv.lines().any(|line| line.starts_with("'=SUM(A1)x,")), "{csv}");
    let pdf = shop.run(&["print", "it.json", "-o", "-"]).stdout;
    let pdf = lopdf::Document::load_mem(&pdf).expect("a PDF");
    let words = pdf.extract_text(&[1, 2]).expect("words");
    assert!(!words.contains(|c| harmful(c) && c != '\t'), "{words:?}");
}
