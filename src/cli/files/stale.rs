//! Numbered sheets of an older drawing that a shorter one no longer has.

use super::signature::{Product, Signed, of_file};
use super::{Files, Output, folder_of, paths};
use std::fs;
use std::path::PathBuf;

/// Sheets with higher numbers than a drawing has.
#[derive(Debug, Default)]
pub struct Stale {
    /// Those that an older run left as they are.
    ours: Vec<PathBuf>,
    /// Files of such a name that are something else.
    others: Vec<PathBuf>,
}

impl Stale {
    /// Removes those of an older run. One that cannot be removed stays.
    pub fn remove(&self) {
        for path in &self.ours {
            let _ = fs::remove_file(path);
        }
    }

    /// What became of them, a line each.
    pub fn words(&self) -> impl Iterator<Item = String> {
        let ours = self.ours.iter().map(|path| match path.exists() {
            false => format!("Removed {}, a sheet of an older drawing\n", path.display()),
            true => format!("{} is of an older drawing and could not be removed\n", path.display()),
        });
        let others = self.others.iter();
        let others = others.map(|path| format!("{} is no sheet of this drawing; it was left\n", path.display()));
        ours.chain(others)
    }
}

/// Looks for `NAME-4.svg` and higher beside a drawing of three sheets.
pub fn stale(files: &Files, outputs: &[Output]) -> Stale {
    let mut stale = Stale::default();
    if !outputs.iter().all(|output| matches!(output.product, Product::DrawnSheet(_))) {
        return stale;
    }
    let Some(first) = paths(outputs).next() else { return stale };
    let stem = first.file_stem().unwrap_or_default().to_string_lossy();
    let number = |path: &PathBuf| -> Option<usize> {
        let name = path.file_name()?.to_str()?.strip_suffix(".svg")?;
        let digits = name.strip_prefix(&*stem)?.strip_prefix('-')?;
        digits.parse().ok().filter(|number: &usize| number.to_string() == digits && *number > outputs.len())
    };
    let entries = fs::read_dir(folder_of(first)).into_iter().flatten().flatten();
    let entries = entries.filter(|entry| entry.file_type().is_ok_and(|kind| kind.is_file()));
    let mut numbered: Vec<(usize, PathBuf)> = entries
        .filter_map(|entry| {
            let path = first.with_file_name(entry.file_name());
            number(&path).map(|number| (number, path))
        })
        .collect();
    numbered.sort();
    for (number, path) in numbered {
        let signed = of_file(&path, Product::DrawnSheet(number));
        let is_ours = signed.is_ok_and(|signed| signed == Signed::Ours) && files.read_before(&path).is_none();
        if is_ours { &mut stale.ours } else { &mut stale.others }.push(path);
    }
    stale
}
