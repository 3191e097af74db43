//! Turned legs as written.

use crate::model::round_leg::{RoundLeg, round_leg};
use crate::project::given::given;
use crate::units::Length;

round_leg!(given);
