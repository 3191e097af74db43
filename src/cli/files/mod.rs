//! The files of one run: the only place that makes, replaces or removes one.
//!
//! Guarantees: what a run has read it does not write over, whatever name or link leads there; a file that the command did not
//! write, or that was changed since, is replaced only by `--force`; a file is whole or not there; what a killed run left behind
//! goes with the next run in that folder.

mod at_hand;
mod change;
mod gate;
mod preview;
mod signature;
mod stale;
mod stream;
mod unfinished;

pub use at_hand::{only_project, parted_by_a_blank, projects_in};
pub use gate::Output;
pub use preview::Preview;
pub use signature::{Form, Product};

use super::output::{Target, Trouble};
use super::person::Person;
use crate::import::LARGEST_FILE;
use std::cell::{OnceCell, RefCell};
use std::fs;
use std::io::{self, Read};
use std::path::{Component, Path, PathBuf};

/// The most bytes that are read of a file; the reader refuses far smaller ones, with its own words.
const READ_LIMIT: u64 = 64 << 20;

/// What a file is read as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadAs {
    /// The project file.
    Project,
    /// The file of a shop's own.
    Shop,
    /// A drawing that the project names.
    Drawing,
    /// The font of a shop's own.
    Font,
}

impl ReadAs {
    /// What it is to a person.
    fn words(self) -> &'static str {
        match self {
            ReadAs::Project => "the file that the numbers come from",
            ReadAs::Shop => "the shop's file that is read with the numbers",
            ReadAs::Drawing => "a drawing that the numbers come from",
            ReadAs::Font => "the font that words are set in",
        }
    }
}

/// The files of one run.
#[derive(Debug, Default)]
pub struct Files {
    /// What was read, and as what.
    read: RefCell<Vec<(Identity, ReadAs)>>,
    /// Standard input, which can be read once, and as what it was read.
    standard_input: OnceCell<(ReadAs, Vec<u8>)>,
    /// Where the person's own shop file stands, or would stand.
    own_shop: Option<PathBuf>,
}

/// Which file a path leads to, whatever the path: links, hard links and other spellings of one file are one.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Identity {
    /// The device and the number of the file on it.
    #[cfg(unix)]
    node: (u64, u64),
    /// The path without links.
    #[cfg(not(unix))]
    path: PathBuf,
}

impl Identity {
    /// Of the file to which a path leads; `None` where there is none.
    #[cfg(unix)]
    fn of(path: &Path) -> Option<Identity> {
        use std::os::unix::fs::MetadataExt;
        let known = fs::metadata(path).ok()?;
        Some(Identity { node: (known.dev(), known.ino()) })
    }

    /// Of the file to which a path leads; `None` where there is none.
    #[cfg(not(unix))]
    fn of(path: &Path) -> Option<Identity> {
        Some(Identity { path: path.canonicalize().ok()? })
    }

    /// Of an open file that was opened by a path.
    #[cfg(unix)]
    fn of_open(file: &fs::File, _: &Path) -> Option<Identity> {
        use std::os::unix::fs::MetadataExt;
        let known = file.metadata().ok()?;
        Some(Identity { node: (known.dev(), known.ino()) })
    }

    /// Of an open file that was opened by a path.
    #[cfg(not(unix))]
    fn of_open(_: &fs::File, path: &Path) -> Option<Identity> {
        Identity::of(path)
    }
}

/// Whether a name on the command line stands for standard input or output.
pub fn is_dash(path: &Path) -> bool {
    path.as_os_str() == "-"
}

impl Files {
    /// The files of a run for a person.
    pub fn of(person: &Person) -> Files {
        Files { own_shop: person.shop.clone(), ..Files::default() }
    }

    /// Where the person's own shop file stands, or would stand; `None` where it has no place.
    pub fn own_shop(&self) -> Option<&Path> {
        self.own_shop.as_deref()
    }

    /// The bytes of the person's own shop file; `None` where there is none.
    ///
    /// # Errors
    /// Says why it cannot be read.
    pub fn own_shop_bytes(&self) -> Result<Option<Vec<u8>>, Trouble> {
        let Some(path) = self.own_shop() else { return Ok(None) };
        let whose = "; it is your own shop file, which is read with every piece";
        // Before it is opened: opening a pipe waits until somebody writes into it.
        match fs::metadata(path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(Trouble::reading(path, &error).and(whose)),
            Ok(known) if !known.is_file() => Err(Trouble::new(format!("{} is no file{whose}", path.display()))),
            Ok(_) => self.bytes(path, ReadAs::Shop).map(Some).map_err(|trouble| trouble.and(whose)),
        }
    }

    /// A file's bytes, or those of standard input where its name is `-`.
    ///
    /// # Errors
    /// Says why it cannot be read.
    pub fn bytes(&self, path: &Path, read_as: ReadAs) -> Result<Vec<u8>, Trouble> {
        if is_dash(path) {
            return self.standard_input(read_as);
        }
        let trouble = |error: io::Error| match read_as {
            ReadAs::Project => no_project(path, &error),
            _ => Trouble::reading(path, &error),
        };
        let file = fs::File::open(path).map_err(trouble)?;
        self.remember(Identity::of_open(&file, path), read_as);
        let bytes = limited(file, READ_LIMIT).map_err(trouble)?;
        match read_as {
            ReadAs::Project => at_hand::is_text_of_numbers(path, &bytes).map(|()| bytes),
            _ => Ok(bytes),
        }
    }

    /// The bytes of standard input, which are kept for whoever asks for the same again.
    fn standard_input(&self, read_as: ReadAs) -> Result<Vec<u8>, Trouble> {
        if self.standard_input.get().is_none() {
            let bytes = limited(io::stdin().lock(), READ_LIMIT);
            let bytes = bytes.map_err(|error| Trouble::reading(Path::new("standard input"), &error))?;
            let _ = self.standard_input.set((read_as, bytes));
        }
        match self.standard_input.get() {
            Some((known, bytes)) if *known == read_as => Ok(bytes.clone()),
            _ => Err(Trouble::new("standard input is one file: only one of the files can be -")),
        }
    }

    /// The bytes of the record of a print. It is not kept in mind as read: a later print of the same name takes its place.
    ///
    /// # Errors
    /// Says why it cannot be read.
    pub fn record(&self, path: &Path) -> Result<Vec<u8>, Trouble> {
        let trouble = |error: io::Error| Trouble::reading(path, &error);
        // Before it is opened: opening a pipe waits until somebody writes into it.
        if !fs::metadata(path).map_err(trouble)?.is_file() {
            return Err(Trouble::new(format!("{} is no file, and so no record of a print", path.display())));
        }
        limited(fs::File::open(path).map_err(trouble)?, READ_LIMIT).map_err(trouble)
    }

    /// A drawing's bytes, from a file in or under the project file's folder.
    ///
    /// # Errors
    /// Says in a few words why it is not read.
    pub fn drawing(&self, folder: &Path, name: &str) -> Result<Vec<u8>, String> {
        let plain = Path::new(name).components().all(|step| matches!(step, Component::Normal(_) | Component::CurDir));
        if !plain {
            return Err("only files in the project file's folder are read".to_owned());
        }
        let path = folder.join(name);
        let told = |error: io::Error| error.to_string();
        // Before it is opened: opening a pipe waits until somebody writes into it.
        let known = fs::metadata(&path).map_err(told)?;
        if known.is_dir() {
            return Err("it is not a file".to_owned());
        }
        let (real, home) = (path.canonicalize().map_err(told)?, here(folder).canonicalize().map_err(told)?);
        if !real.starts_with(home) {
            let real = real.display();
            return Err(format!("it is a link to {real}; only files in the project file's folder are read"));
        }
        if !known.is_file() {
            return Err("it is a pipe or a device, not a file".to_owned());
        }
        let file = fs::File::open(&path).map_err(told)?;
        self.remember(Identity::of_open(&file, &path), ReadAs::Drawing);
        // One byte more than is taken shows that there is more.
        limited(file, LARGEST_FILE as u64 + 1).map_err(told)
    }

    fn remember(&self, file: Option<Identity>, read_as: ReadAs) {
        self.read.borrow_mut().extend(file.map(|file| (file, read_as)));
    }

    /// As what the file to which a path leads was read in this run.
    fn read_before(&self, path: &Path) -> Option<ReadAs> {
        let file = Identity::of(path)?;
        self.read.borrow().iter().find(|(known, _)| *known == file).map(|(_, read_as)| *read_as)
    }
}

/// Why a project file cannot be read, and which are at hand where there is none of that name.
fn no_project(path: &Path, error: &io::Error) -> Trouble {
    let beside = match error.kind() {
        io::ErrorKind::NotFound => at_hand::projects_beside(path),
        _ => String::new(),
    };
    Trouble::reading(path, error).and(&beside)
}

fn limited(from: impl Read, limit: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(limit).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// A folder that was named, or the one we are in where the name is empty.
fn here(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() { Path::new(".") } else { folder }
}

/// The folder in which a file stands or will stand.
fn folder_of(path: &Path) -> &Path {
    here(path.parent().unwrap_or(Path::new("")))
}

/// Refuses a link that leads to another folder than its own.
///
/// # Errors
/// Says where it leads, and what to name in its place.
fn stays_in_its_folder(path: &Path, real: &Path) -> Result<(), Trouble> {
    let is_link = fs::symlink_metadata(path).is_ok_and(|known| known.is_symlink());
    let home = folder_of(path).canonicalize().unwrap_or_default();
    if !is_link || real.starts_with(home) {
        return Ok(());
    }
    let (path, real) = (path.display(), real.display());
    Err(Trouble::new(format!(
        "{path} is a link to {real}, in another folder, and is not followed; name that file itself"
    )))
}

/// Where the files of outputs are.
fn paths(outputs: &[Output]) -> impl Iterator<Item = &PathBuf> {
    outputs.iter().filter_map(|output| match &output.target {
        Target::File(path) => Some(path),
        Target::Stdout => None,
    })
}
