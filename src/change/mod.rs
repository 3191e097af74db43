//! What a change of numbers does to parts: one piece held against another, solid against solid.
//!
//! Guarantees to everything below: nothing is compared by its text; each part of either piece is told once, as it was beside as it
//! is; the comparison is the same either way round but for its signs, and a piece held against itself is the same to the last part. Of a part that exists
//! wood only goes: what is said to stay good or to be trimmed lies in it.

mod compared;
mod data;
mod differs;
mod drawn;
mod fit;
mod kept;
mod marks;
mod measured;
mod offers;
mod place;
mod problem;
mod read;
mod record;
mod rescue;
mod shims;
mod snapshot;
mod verdict;
mod wood;
mod words;
mod worked;

pub use crate::pattern::Overlaid;
pub use compared::{Compared, Fate, Met};
pub use data::json;
pub use differs::{AngleChange, Differences, How, NumberChange, SawAngle, SurfaceChange, WorkedChange, WorkedHow};
pub use fit::{Allowed, Fit, fit};
pub use kept::{KEPT, Kept};
pub use measured::{FarReading, Measured, Unfit, measured};
pub use offers::{Ask, Change, Elsewhere, Offer, Offers, Wanted, Where, offers, wanted};
pub use place::Place;
pub(crate) use problem::MadeProblem;
pub use problem::{Lack, MadeName, Priced, Setting, Slimmer, Step};
pub use read::Torn;
pub use record::{LaidPattern, PRINTED, Record, Since};
pub use rescue::{Cost, PLANED_SAFELY, Patch, Rescue, Wedge};
pub use snapshot::{Given, Snapshot};
pub use verdict::{Outcome, PARED, SHORT, Verdict, Verdicts, verdict};
pub use wood::{Kind, Numbered, OnSheets, What, Wood, Worked};
pub use words::{rolled_words, words};
