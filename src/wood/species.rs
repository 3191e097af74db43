//! The woods that are known, each number with the table it stands in.
//!
//! All tables are those of the Wood Handbook, FPL-GTR-190 (2010).

/// How a number came here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// Read in a copy of the table.
    Read,
    /// Remembered: to be looked up before much depends on it.
    FromMemory,
    /// Worked out from the shrinkage of Table 4-3 by Eq. 13-3 at 10 % moisture.
    WorkedOut,
}

impl Known {
    /// In words, to stand behind a table's name.
    pub const fn words(self) -> &'static str {
        match self {
            Known::Read => "read",
            Known::FromMemory => "from memory",
            Known::WorkedOut => "worked out from Table 4-3",
        }
    }
}

/// A wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Species {
    /// Its name.
    pub name: &'static str,
    /// Other names by which it is asked for.
    pub also: &'static [&'static str],
    /// Shrinkage from green to oven-dry, per cent, radial and tangential, and how it is known (Table 4-3; teak and mahogany
    /// 4-4).
    pub shrinkage: ([f64; 2], Known),
    /// Change of a dimension for each per cent of moisture, radial and tangential, 6 to 14 % (Table 13-5).
    pub change: ([f64; 2], Known),
    /// Specific gravity at 12 % moisture (Table 5-3b; teak and mahogany green, Table 5-5b), and how it is known.
    pub gravity: Option<(f64, Known)>,
}

impl Species {
    /// Mass of a cubic metre at 12 % moisture, kg: specific gravity counts the oven-dry wood, to which the water comes
    /// (Wood Handbook, chapter 4; from memory).
    pub fn density(&self) -> Option<f64> {
        self.gravity.map(|(gravity, _)| gravity * 1000.0 * 1.12)
    }
}

/// The coefficient of change at 10 % moisture that belongs to a shrinkage, per cent: 1 / (3000 / S - 20), from Eq. 13-3.
pub fn coefficient_of_shrinkage(shrinkage: f64) -> f64 {
    1.0 / (3000.0 / shrinkage - 20.0)
}

const fn wood(
    name: &'static str,
    also: &'static [&'static str],
    shrinkage: ([f64; 2], Known),
    change: ([f64; 2], Known),
    gravity: Option<(f64, Known)>,
) -> Species {
    Species { name, also, shrinkage, change, gravity }
}

use Known::{FromMemory as M, Read as R, WorkedOut as W};

/// The woods that are known.
pub const ALL: [Species; 37] = [
    wood("american elm", &["white elm"], ([4.2, 9.5], R), ([0.00144, 0.00338], R), Some((0.5, R))),
    wood("basswood", &["american basswood", "linden"], ([6.6, 9.3], R), ([0.0023, 0.0033], R), Some((0.37, R))),
    wood("beech", &["american beech"], ([5.5, 11.9], R), ([0.0019, 0.00431], R), Some((0.64, R))),
    wood("bigleaf maple", &["western maple"], ([3.7, 7.1], M), ([0.00126, 0.00248], R), Some((0.48, R))),
    wood("black ash", &["brown ash"], ([5.0, 7.8], R), ([0.00172, 0.00274], R), Some((0.49, R))),
    wood("black cherry", &["cherry"], ([3.7, 7.1], R), ([0.00126, 0.00248], R), Some((0.5, R))),
    wood("black locust", &["locust"], ([4.6, 7.2], M), ([0.00158, 0.00252], R), Some((0.69, R))),
    wood("black walnut", &["walnut"], ([5.5, 7.8], R), ([0.0019, 0.00274], R), Some((0.55, M))),
    wood("butternut", &["white walnut"], ([3.4, 6.4], R), ([0.00116, 0.00223], R), Some((0.38, R))),
    wood("chestnut", &["american chestnut"], ([3.4, 6.7], R), ([0.00116, 0.00234], R), Some((0.43, R))),
    wood("cottonwood", &["eastern cottonwood"], ([3.9, 9.2], R), ([0.00133, 0.00327], R), Some((0.4, R))),
    wood(
        "douglas-fir",
        &["douglas fir", "douglas-fir, coast"],
        ([4.8, 7.6], R),
        ([0.00165, 0.00267], M),
        Some((0.48, M)),
    ),
    wood("eastern white pine", &["white pine"], ([2.1, 6.1], M), ([0.00071, 0.00212], M), Some((0.35, M))),
    wood("hackberry", &[], ([4.8, 8.9], R), ([0.00165, 0.00315], R), Some((0.53, R))),
    wood(
        "interior north douglas-fir",
        &["douglas-fir, interior north"],
        ([3.8, 6.9], R),
        ([0.0013, 0.00241], W),
        None,
    ),
    wood(
        "interior west douglas-fir",
        &["douglas-fir, interior west"],
        ([4.8, 7.5], R),
        ([0.00165, 0.00263], W),
        None,
    ),
    wood("mahogany", &["true mahogany"], ([3.0, 4.1], R), ([0.00172, 0.00238], R), Some((0.45, R))),
    wood("paper birch", &["white birch"], ([6.3, 8.6], R), ([0.00219, 0.00304], R), Some((0.55, R))),
    wood("pecan", &["pecan hickory"], ([4.9, 8.9], R), ([0.00169, 0.00315], R), Some((0.66, R))),
    wood("ponderosa pine", &["western yellow pine"], ([3.9, 6.2], M), ([0.00133, 0.00216], M), Some((0.4, M))),
    wood("quaking aspen", &["aspen"], ([3.5, 6.7], R), ([0.00119, 0.00234], R), Some((0.38, R))),
    wood("red alder", &["alder"], ([4.4, 7.3], R), ([0.00151, 0.00256], R), Some((0.41, R))),
    wood("red maple", &["soft maple"], ([4.0, 8.2], M), ([0.00137, 0.00289], R), Some((0.54, R))),
    wood("red oak", &["northern red oak"], ([4.0, 8.6], M), ([0.00158, 0.00369], R), Some((0.63, M))),
    wood("sassafras", &[], ([4.0, 6.2], R), ([0.00137, 0.00216], R), Some((0.46, M))),
    wood("silver maple", &[], ([3.0, 7.2], M), ([0.00102, 0.00252], R), Some((0.47, M))),
    wood("sitka spruce", &["spruce"], ([4.3, 7.5], M), ([0.00148, 0.00263], M), Some((0.4, M))),
    wood("slippery elm", &["red elm"], ([4.9, 8.9], R), ([0.00169, 0.00315], R), Some((0.53, R))),
    wood("sugar maple", &["hard maple", "maple"], ([4.8, 9.9], R), ([0.00165, 0.00353], R), Some((0.63, R))),
    wood("sweetgum", &["red gum"], ([5.3, 10.2], R), ([0.00183, 0.00365], R), Some((0.52, M))),
    wood("sycamore", &["american sycamore"], ([5.0, 8.4], R), ([0.00172, 0.00296], R), Some((0.49, M))),
    wood("teak", &[], ([2.5, 5.8], M), ([0.00101, 0.00186], M), Some((0.55, R))),
    wood("white ash", &["ash"], ([4.9, 7.8], R), ([0.00169, 0.00274], R), Some((0.6, R))),
    wood("white fir", &[], ([3.3, 7.0], R), ([0.00112, 0.00245], W), None),
    wood("white oak", &["oak"], ([5.6, 10.5], R), ([0.0018, 0.00365], R), Some((0.68, M))),
    wood("yellow birch", &[], ([7.3, 9.5], R), ([0.00256, 0.00338], R), Some((0.62, R))),
    wood(
        "yellow-poplar",
        &["yellow poplar", "poplar", "tulipwood"],
        ([4.6, 8.2], R),
        ([0.00158, 0.00289], M),
        Some((0.42, M)),
    ),
];

/// The wood of a name, written in any case.
pub fn named(name: &str) -> Option<&'static Species> {
    let name = name.trim().to_lowercase();
    ALL.iter().find(|wood| wood.name == name || wood.also.contains(&name.as_str()))
}

#[cfg(test)]
mod tests {
    use super::{ALL, Known, coefficient_of_shrinkage, named};

    /// The records of the tables, by id: fixtures/references.json says where each was read.
    fn record(id: &str) -> serde_json::Value {
        let all: serde_json::Value = serde_json::from_str(include_str!("../../fixtures/references.json")).unwrap();
        let found = all.as_array().unwrap().iter().find(|r| r["id"] == id);
        found.unwrap_or_else(|| panic!("no record {id}"))["values"].clone()
    }

    /// The records of a wood where they do not have its own name: shrinkage, coefficient and gravity.
    fn keys(name: &str) -> [String; 3] {
        let other = match name {
            "black cherry" => ["cherry"; 3],
            "black walnut" => ["walnut"; 3],
            "douglas-fir" => ["douglas_fir_coast"; 3],
            "interior north douglas-fir" => ["douglas_fir_int_north"; 3],
            "interior west douglas-fir" => ["douglas_fir_int_west"; 3],
            "mahogany" => ["mahogany_true", "mahogany", "mahogany"],
            "red oak" => ["northern_red_oak", "red_oak_commercial", "northern_red_oak"],
            "white oak" => ["white_oak", "white_oak_commercial", "white_oak"],
            _ => return std::array::from_fn(|_| name.replace([' ', '-'], "_")),
        };
        other.map(str::to_owned)
    }

    #[test]
    fn every_number_is_the_one_of_its_table() {
        for wood in &ALL {
            let [shrinkage, change, gravity] = keys(wood.name);
            for i in 0..2 {
                assert_eq!(record(&format!("1a.shrink.{shrinkage}"))[i], wood.shrinkage.0[i], "{}", wood.name);
                if wood.change.1 != Known::WorkedOut {
                    assert_eq!(record(&format!("1b.coef.{change}"))[i], wood.change.0[i], "{}", wood.name);
                }
            }
            if let Some((gravity_of, _)) = wood.gravity {
                assert_eq!(record(&format!("1d.sg_moe.{gravity}"))[0], gravity_of, "{}", wood.name);
            }
        }
    }

    /// Table 4-3 and Table 13-5 check each other, but for the woods of record 1b.coef.identity.misfits. The handbook's own last
    /// figure is now and then cut off instead of rounded.
    #[test]
    fn the_two_tables_agree_for_every_other_wood() {
        let misfits = ["mahogany", "red oak", "teak", "white oak"];
        for wood in ALL.iter().filter(|wood| !misfits.contains(&wood.name)) {
            for (shrinkage, change) in wood.shrinkage.0.into_iter().zip(wood.change.0) {
                let computed = coefficient_of_shrinkage(shrinkage);
                assert!((computed - change).abs() < 1e-5, "{}: {computed} {change}", wood.name);
            }
        }
    }

    /// Record 1b.coef.identity: the two tables belong together, so each checks the other.
    #[test]
    fn coefficients_follow_from_the_shrinkage_where_the_tables_agree() {
        let mut checked = 0;
        for (name, pair) in record("1b.coef.identity").as_object().unwrap() {
            let (wood, direction) = name.rsplit_once(' ').unwrap();
            let wood = named(wood.trim_end_matches(" coast")).unwrap_or_else(|| panic!("{wood}"));
            let i = usize::from(direction == "T");
            let computed = coefficient_of_shrinkage(wood.shrinkage.0[i]);
            assert!((computed - pair[1].as_f64().unwrap()).abs() < 5e-6, "{name}: {computed}");
            assert_eq!(pair[0].as_f64().unwrap(), wood.change.0[i], "{name}");
            checked += 1;
        }
        assert_eq!(checked, 16);
    }

    #[test]
    fn a_wood_is_found_by_any_of_its_names() {
        assert_eq!(named("White Oak").map(|w| w.name), Some("white oak"));
        assert_eq!(named(" hard maple ").map(|w| w.name), Some("sugar maple"));
        assert_eq!(named("soft maple").map(|w| w.name), Some("red maple"));
        assert_eq!(named("plywood"), None);
        assert!((named("ash").unwrap().density().unwrap() - 672.0).abs() < 1e-9);
    }
}
