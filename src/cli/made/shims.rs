//! `made --shims`: what would save parts that exist, drawn at full size.

use crate::cli::args::{Input, Made};
use crate::cli::files::{Files, Form, Output, Product};
use crate::cli::keeping;
use crate::cli::load::{Stopped, load};
use crate::cli::output::{Target, Trouble, keeps_promise, sheets_bytes, typed};
use crate::layout::coded;
use std::io::Write;
use std::path::Path;

/// Runs `made FILE --shims OUT`.
pub fn run(
    asked: &Made,
    path: &Path,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    files.was_not_read(path)?;
    keeps_promise(path, &["pdf"])?;
    let input = Input { file: asked.file.clone(), variant: None, shop: None, font: Vec::new() };
    let mut loaded = load(&input, files, err)?;
    let job = &mut loaded.job;
    job.limit_sheets(asked.limit.sheets);
    let kept = keeping::of(Some(job.project()), &asked.file, files)?;
    let pieces = keeping::verdicts(job, &kept).shims(&job.project().notation);
    if pieces.is_empty() {
        return Err(Trouble::new(format!(
            "no part that is made is saved by packing or by a wedge; fullsize made {} tells what becomes of each",
            typed(&asked.file)
        ))
        .into());
    }
    let bytes = sheets_bytes(&job.sheets(coded(pieces))?, loaded.lettering.as_ref())?;
    let output = Output { target: Target::named(path), product: Product::Shims, form: Form::Pdf, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", "", out)?)
}
