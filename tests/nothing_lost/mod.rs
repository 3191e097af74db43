//! Nothing is lost: what a command read, what it did not write, what somebody else changes at the same time.

#[cfg(unix)]
mod faults;
mod replaced;
#[cfg(unix)]
mod rule;
mod set;
mod sheets;
mod signature;

use crate::common::shop::{Shop, text};
use std::fs;
use std::path::PathBuf;
use std::process::Output;

/// A small part that every command can make something of.
const TRAY: &str = r#"{ "fullsize": 1, "title": "Tray", "units": "mm", "patterns": { "base": { "thickness": 9, "outline": { "circle": 90 } } } }"#;

/// A piece that can be drawn, too.
const STOOL: &str = include_str!("../../templates-demo/saddle_stool.json");

/// A part whose outline is a drawing.
const LEAF: &str = r#"{ "fullsize": 1, "title": "Leaf", "units": "mm",
    "patterns": { "leaf": { "thickness": 9, "outline": { "svg": "leaf.svg", "width": 120 } } } }"#;
const LEAF_SVG: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 30"><path d="M0 15 Q30 -10 60 15 Q30 40 0 15 Z"/></svg>"#;

/// Runs a command that must be refused without a word to standard output; what it says.
fn refused(shop: &Shop, arguments: &[&str]) -> String {
    let done = shop.run(arguments);
    let said = text(&done.stderr);
    assert_eq!((done.status.code(), text(&done.stdout).as_str()), (Some(2), ""), "{arguments:?}: {said}");
    said
}

/// Runs a command that must do its work.
fn done(shop: &Shop, arguments: &[&str]) -> Output {
    let done = shop.run(arguments);
    assert_eq!(done.status.code(), Some(0), "{arguments:?}: {}", text(&done.stderr));
    done
}

/// Every file of the shop's folder with its bytes; what is no file (a device has no end) only by its name.
fn all(shop: &Shop) -> Vec<(String, Vec<u8>)> {
    let bytes = |name: String| {
        let is_file = fs::metadata(shop.path(&name)).is_ok_and(|known| known.is_file());
        let bytes = if is_file { fs::read(shop.path(&name)).expect("a file") } else { Vec::new() };
        (name, bytes)
    };
    shop.names().into_iter().map(bytes).collect()
}

/// The unfinished files in the shop's folder.
fn unfinished(shop: &Shop) -> Vec<PathBuf> {
    let names = shop.names().into_iter().filter(|name| name.ends_with(".part"));
    names.map(|name| shop.path(&name)).collect()
}
