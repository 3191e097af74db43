//! What was measured on the dry assembly, as written.

use super::given::given;
use crate::model::as_built::{AsBuilt, BetweenRails, BothFrames, Instrument, as_built, between_rails, both_frames};
use crate::units::{Angle, Length};

as_built!(given);

between_rails!(given);

both_frames!(given);
