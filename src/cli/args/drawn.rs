//! How a piece is drawn: its scale, its views, and what is laid over them.

use clap::ValueEnum;

/// Scale of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScaleChoice {
    /// As large as the sheet holds, of the scales of ISO 5455.
    Fit,
    /// One to this many.
    OneTo(u32),
}

impl std::str::FromStr for ScaleChoice {
    type Err = String;

    fn from_str(words: &str) -> Result<Self, String> {
        match words {
            "fit" => Ok(ScaleChoice::Fit),
            "1:1" => Ok(ScaleChoice::OneTo(1)),
            "1:2" => Ok(ScaleChoice::OneTo(2)),
            "1:5" => Ok(ScaleChoice::OneTo(5)),
            "1:10" => Ok(ScaleChoice::OneTo(10)),
            "1:20" => Ok(ScaleChoice::OneTo(20)),
            _ => Err("write 1:1, 1:2, 1:5, 1:10, 1:20 or fit".to_owned()),
        }
    }
}

/// Something lightly drawn over the views.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Over {
    /// The room that a seated person takes (2010 ADA Standards, 306).
    Seated,
    /// Places for people to eat at.
    Places,
    /// A variant of the file.
    Variant(String),
}

impl std::str::FromStr for Over {
    type Err = String;

    fn from_str(words: &str) -> Result<Self, String> {
        match words {
            "seated" => Ok(Over::Seated),
            "places" => Ok(Over::Places),
            other => match other.strip_prefix("variant:") {
                Some(name) => Ok(Over::Variant(name.to_owned())),
                None => Err("write seated, places or variant:NAME".to_owned()),
            },
        }
    }
}

/// What is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ViewChoice {
    /// From the front
    Front,
    /// From the side
    Side,
    /// From above
    Above,
    /// From below
    Below,
    /// A picture
    Isometric,
    /// Feet on the floor, spacers, checks and the order of gluing
    Assembly,
}
