//! Writing: every file that a command makes goes through here.

use super::signature::{Form, Product, Signed, of_file, signed};
use super::stale::{Stale, stale};
use super::stream::write_into;
use super::unfinished::{Unfinished, sweep};
use super::{Files, folder_of, paths, stays_in_its_folder};
use crate::cli::args::Replace;
use crate::cli::output::{Target, Trouble, harmless, say};
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Something that a command makes.
#[derive(Debug, Clone)]
pub struct Output {
    /// Where it goes.
    pub target: Target,
    /// What it is.
    pub product: Product,
    /// How it is written.
    pub form: Form,
    /// Its bytes, without a signature.
    pub bytes: Vec<u8>,
}

/// What became of the files of a run.
#[derive(Debug, Default)]
#[must_use]
pub struct Written {
    /// The files that were written.
    files: Vec<PathBuf>,
    /// Further sheets that a longer drawing of this name had.
    stale: Stale,
}

impl Written {
    /// Says which files were written, each with some words behind it, then what else is to be said.
    ///
    /// # Errors
    /// Where that cannot be said; the error tells what was written all the same.
    pub fn tell(&self, behind: &str, more: &str, out: &mut dyn Write) -> Result<(), Trouble> {
        let files = self.files.iter().map(|path| format!("Wrote {}{behind}\n", path.display()));
        let words: String = files.chain(self.stale.words()).chain([more.to_owned()]).collect();
        self.say(&harmless(&words), out)
    }

    /// Says something after files were written.
    ///
    /// # Errors
    /// As [`Written::tell`].
    pub fn say(&self, words: &str, out: &mut dyn Write) -> Result<(), Trouble> {
        let names: Vec<String> = self.files.iter().map(|path| path.display().to_string()).collect();
        let done = match names.as_slice() {
            [] => return say(out, words.as_bytes()),
            [one] => format!("{one} was written"),
            more => format!("{} were written", more.join(", ")),
        };
        say(out, words.as_bytes()).map_err(|trouble| trouble.although(&done))
    }
}

/// What stands where a file will go.
enum Place {
    /// Nothing.
    Free(PathBuf),
    /// A file that may be replaced, under its own name, with its marks.
    Taken(PathBuf, fs::Permissions),
    /// A pipe or a device, which cannot be replaced by a file and is written into.
    Stream,
}

impl Files {
    /// Writes every file, or none: all are finished beside their places before the first is renamed into its own. Files carry
    /// signatures; standard output, pipes and devices get the bytes alone.
    ///
    /// # Errors
    /// Says which file could not be written and why; the files that stood there before are untouched (where only the last
    /// step fails for a later file, the earlier ones are new and whole).
    pub fn write(&self, outputs: Vec<Output>, replace: &Replace, out: &mut dyn Write) -> Result<Written, Trouble> {
        for output in &outputs {
            if let Target::File(path) = &output.target {
                self.place(path, output.product, replace)?;
            }
        }
        let stale = stale(self, &outputs);
        let files: Vec<PathBuf> = paths(&outputs).cloned().collect();
        let (mut finished, mut plain) = (Vec::new(), Vec::new());
        for Output { target, product, form, bytes } in outputs {
            let Target::File(path) = target else {
                plain.push(bytes);
                continue;
            };
            let place = self.place(&path, product, replace)?;
            let trouble = |error: &io::Error| Trouble::writing(&path, error);
            match &place {
                Place::Stream => write_into(&path, &bytes)?,
                Place::Free(at) | Place::Taken(at, _) => {
                    let bytes = signed(bytes, product, form);
                    let unfinished = finish(at, &bytes, &place).map_err(|error| trouble(&error))?;
                    finished.push((path, product, place, unfinished));
                }
            }
        }
        for (path, product, place, unfinished) in finished {
            self.put(&path, product, place, unfinished, replace)?;
        }
        stale.remove();
        plain.iter().try_for_each(|bytes| say(out, bytes))?;
        Ok(Written { files, stale })
    }

    /// Whether files may be written, told before there is anything to write.
    ///
    /// # Errors
    /// As [`Files::write`].
    pub fn may_write(&self, path: &Path, product: Product, replace: &Replace) -> Result<(), Trouble> {
        self.place(path, product, replace).map(|_| ())
    }

    /// Whether there is such a file as the command left it.
    pub fn is_left(&self, path: &Path, product: Product) -> bool {
        of_file(path, product).is_ok_and(|signed| signed == Signed::Ours)
    }

    /// The bytes of a file as the command left it, which is no file that numbers come from; `None` where there is none.
    pub fn left(&self, path: &Path, product: Product) -> Option<Vec<u8>> {
        self.is_left(path, product).then(|| fs::read(path).ok())?
    }

    /// Refuses a file that was read in this run, whatever may be replaced.
    ///
    /// # Errors
    /// Says as what it was read.
    pub fn was_not_read(&self, path: &Path) -> Result<(), Trouble> {
        let Some(read_as) = self.read_before(path) else { return Ok(()) };
        let (path, what) = (path.display(), read_as.words());
        Err(Trouble::new(format!("{path} is {what}, and would be lost; name another with -o")))
    }

    /// Renames a finished file into its place. Where a file has come into a free place meanwhile, it is looked at as any other.
    fn put(
        &self,
        path: &Path,
        product: Product,
        place: Place,
        unfinished: Unfinished,
        replace: &Replace,
    ) -> Result<(), Trouble> {
        let trouble = |error: &io::Error| Trouble::writing(path, error);
        match place {
            Place::Stream => Ok(()),
            Place::Taken(at, _) => unfinished.over(&at).map_err(|error| trouble(&error)),
            Place::Free(at) => match unfinished.into_free(&at) {
                Ok(()) => Ok(()),
                Err((unfinished, error)) if error.kind() == io::ErrorKind::AlreadyExists => {
                    self.place(path, product, replace)?;
                    unfinished.over(&at).map_err(|error| trouble(&error))
                }
                Err((_, error)) => Err(trouble(&error)),
            },
        }
    }

    /// Where an output goes.
    fn place(&self, path: &Path, product: Product, replace: &Replace) -> Result<Place, Trouble> {
        let trouble = |error: &io::Error| Trouble::writing(path, error);
        let known = match fs::metadata(path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                dangling(path)?;
                return Ok(Place::Free(path.to_owned()));
            }
            known => known.map_err(|error| trouble(&error))?,
        };
        if known.is_dir() {
            return Err(trouble(&io::ErrorKind::IsADirectory.into()));
        }
        if !known.is_file() {
            return Ok(Place::Stream);
        }
        self.was_not_read(path)?;
        // A link stays one: what it names is replaced.
        let real = fs::canonicalize(path).map_err(|error| trouble(&error))?;
        stays_in_its_folder(path, &real)?;
        if known.permissions().readonly() {
            return Err(Trouble::new(format!("cannot write {}: the file is marked read-only", path.display())));
        }
        if !replace.force {
            refuse_what_is_not_ours(path, product)?;
        }
        Ok(Place::Taken(real, known.permissions()))
    }
}

/// Refuses a link that names nothing: it would be replaced by a file.
fn dangling(path: &Path) -> Result<(), Trouble> {
    let Ok(named) = fs::read_link(path) else { return Ok(()) };
    let (path, named) = (path.display(), named.display());
    Err(Trouble::new(format!(
        "{path} is a link to {named}, where there is no file; remove the link or name another file"
    )))
}

/// Refuses to replace a file that this command did not write, or that was changed since.
fn refuse_what_is_not_ours(path: &Path, product: Product) -> Result<(), Trouble> {
    let name = path.display();
    // What cannot be read is not known to be ours.
    let why = match of_file(path, product).unwrap_or(Signed::No) {
        Signed::Ours => return Ok(()),
        Signed::By(command) => format!("{name} was made by {command}"),
        Signed::Changed(command) => format!("{name} was changed since {command} made it"),
        // It carries no signature: who wrote it first is not known, and it is the maker's whoever did.
        Signed::No if product == Product::Project => {
            format!("{name} is there already, and a project file is its maker's own, whatever wrote it first")
        }
        Signed::No if product == Product::Shop => {
            format!("{name} is there already, and a shop file is its maker's own")
        }
        Signed::No => format!("{name} is there already and was not made by this command"),
    };
    Err(Trouble::new(format!("{why}; name another file, or replace it with --force")))
}

/// The bytes in a file beside the place where it will stand, with the marks of the file that stands there.
fn finish(at: &Path, bytes: &[u8], place: &Place) -> io::Result<Unfinished> {
    sweep(folder_of(at));
    let mut unfinished = Unfinished::beside(at)?;
    unfinished.fill(bytes)?;
    if let Place::Taken(_, marks) = place {
        unfinished.mark(marks.clone())?;
    }
    Ok(unfinished)
}
