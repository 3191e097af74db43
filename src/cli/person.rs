//! What belongs to the person at the terminal and to no file of a piece.

use etcetera::BaseStrategy;
use std::env;
use std::path::PathBuf;

/// The variable that names the person's shop file; empty, there is none.
const SHOP_VARIABLE: &str = "FULLSIZE_SHOP";

/// The shop file in the folder where the platform keeps settings.
const SHOP_FILE: [&str; 2] = ["fullsize", "shop.json"];

/// What belongs to the person at the terminal. A program that runs commands for nobody in particular has the default: nothing.
#[derive(Debug, Clone, Default)]
pub struct Person {
    /// Where the shop file stands, or would stand.
    pub(super) shop: Option<PathBuf>,
}

impl Person {
    /// The person whose environment this is: the shop file is `shop.json` in the folder `fullsize` where the platform keeps settings
    /// (`$XDG_CONFIG_HOME` or `~/.config`, `~/Library/Application Support`, `%APPDATA%`), or what the variable `FULLSIZE_SHOP`
    /// names; where that is empty there is none.
    pub fn of_environment() -> Person {
        let shop = match env::var_os(SHOP_VARIABLE) {
            Some(named) => (!named.is_empty()).then(|| PathBuf::from(named)),
            None => settings().map(|folder| folder.join(SHOP_FILE[0]).join(SHOP_FILE[1])),
        };
        Person { shop }
    }
}

/// The folder where the platform keeps settings; `None` where nobody has a home.
fn settings() -> Option<PathBuf> {
    let folders = etcetera::base_strategy::choose_native_strategy().ok()?;
    // On macOS the folder of preferences is the system's own.
    Some(if cfg!(target_os = "macos") { folders.data_dir() } else { folders.config_dir() })
}
