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
pub const ALL: [Species; 12] = [
    wood("beech", &["american beech"], ([5.5, 11.9], R), ([0.0019, 0.00431], R), Some((0.64, R))),
    wood("black cherry", &["cherry"], ([3.7, 7.1], R), ([0.00126, 0.00248], R), Some((0.5, R))),
    wood("black walnut", &["walnut"], ([5.5, 7.8], R), ([0.0019, 0.00274], R), Some((0.55, M))),
    wood(
        "douglas-fir",
        &["douglas fir", "douglas-fir, coast"],
        ([4.8, 7.6], R),
        ([0.00165, 0.00267], M),
        Some((0.48, M)),
    ),
    wood("mahogany", &["true mahogany"], ([3.0, 4.1], R), ([0.00172, 0.00238], R), Some((0.45, R))),
    wood("red oak", &["northern red oak"], ([4.0, 8.6], M), ([0.00158, 0.00369], R), Some((0.63, M))),
    wood("sugar maple", &["hard maple", "maple"], ([4.8, 9.9], R), ([0.00165, 0.00353], R), Some((0.63, R))),
    wood("teak", &[], ([2.5, 5.8], M), ([0.00101, 0.00186], M), Some((0.55, R))),
    wood("white ash", &["ash"], ([4.9, 7.8], R), ([0.00169, 0.00274], R), Some((0.6, R))),
    wood("white fir", &[], ([3.3, 7.0], R), ([0.00112, 0.00245], W), None),
    wood("white oak", &["oak"], ([5.6, 10.5], R), ([0.0018, 0.00365], R), Some((0.68, M))),
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
    use super::{ALL, coefficient_of_shrinkage, named};

    /// The records of the tables, by id: fixtures/references.json says where each was read.
    fn record(id: &str) -> serde_json::Value {
        let all: serde_json::Value = serde_json::from_str(include_str!("../../fixtures/references.json")).unwrap();
        let found = all.as_array().unwrap().iter().find(|r| r["id"] == id);
        found.unwrap_or_else(|| panic!("no record {id}"))["values"].clone()
    }

    #[test]
    fn every_number_is_the_one_of_its_table() {
        let keys = [
            ("beech", "beech", "beech", "beech"),
            ("black cherry", "cherry", "cherry", "cherry"),
            ("black walnut", "walnut", "walnut", "walnut"),
            ("douglas-fir", "douglas_fir_coast", "douglas_fir_coast", "douglas_fir_coast"),
            ("mahogany", "mahogany_true", "mahogany", "mahogany"),
            ("red oak", "northern_red_oak", "red_oak_commercial", "northern_red_oak"),
            ("sugar maple", "sugar_maple", "sugar_maple", "sugar_maple"),
            ("teak", "teak", "teak", "teak"),
            ("white ash", "white_ash", "white_ash", "white_ash"),
            ("white oak", "white_oak", "white_oak_commercial", "white_oak"),
            ("yellow-poplar", "yellow_poplar", "yellow_poplar", "yellow_poplar"),
        ];
        assert_eq!(keys.len() + 1, ALL.len(), "white fir stands in the worked example alone");
        for (name, shrinkage, change, gravity) in keys {
            let wood = named(name).unwrap();
            for i in 0..2 {
                assert_eq!(record(&format!("1a.shrink.{shrinkage}"))[i], wood.shrinkage.0[i], "{name}");
                assert_eq!(record(&format!("1b.coef.{change}"))[i], wood.change.0[i], "{name}");
            }
            assert_eq!(record(&format!("1d.sg_moe.{gravity}"))[0], wood.gravity.unwrap().0, "{name}");
        }
        assert_eq!(record("1a.shrink.white_fir")[1], named("white fir").unwrap().shrinkage.0[1]);
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
        assert_eq!(named("plywood"), None);
        assert!((named("ash").unwrap().density().unwrap() - 672.0).abs() < 1e-9);
    }
}
