//! Wood and its moisture.

/// A wood as the file gives it.
#[derive(Debug, Clone, PartialEq)]
pub enum Wood {
    /// By a name that is looked up.
    Named(String),
    /// With numbers of its own.
    Given {
        /// What it is called.
        name: String,
        /// Change for each per cent of moisture across a quarter-sawn board, as a share.
        radial: f64,
        /// Change for each per cent of moisture across a flat-sawn board, as a share.
        tangential: f64,
        /// Mass of a cubic metre at 12 % moisture, kg.
        density: Option<f64>,
    },
}

/// Between which moisture contents a wood moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moisture {
    /// Today.
    pub today: MoistureAt,
    /// The driest.
    pub driest: MoistureAt,
    /// The dampest.
    pub dampest: MoistureAt,
}

/// A moisture content, or the air in which wood comes to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MoistureAt {
    /// Per cent, 6 to 14.
    Percent(f64),
    /// The air of a room.
    Climate {
        /// Degrees Celsius, -10 to 50.
        celsius: f64,
        /// Relative humidity, per cent, 1 to 95.
        humidity: f64,
    },
}
