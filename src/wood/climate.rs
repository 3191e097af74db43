//! The moisture that wood comes to in the air of a room.

/// The moisture content, per cent, that wood comes to in air of a temperature (degrees Celsius, -40 to 60) and a relative
/// humidity (per cent, 0 to below 100).
///
/// Wood Handbook, FPL-GTR-282 (2021), Eq. 4-5, read second-hand. The handbook gives tenths for trend only.
pub fn equilibrium(celsius: f64, humidity: f64) -> f64 {
    let (t, h) = (celsius, humidity / 100.0);
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
    let k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
    let kh = k * h;
    let (one, two) = (k1 * kh, k1 * k2 * kh * kh);
    1800.0 / w * (kh / (1.0 - kh) + (one + 2.0 * two) / (1.0 + one + two))
}

#[cfg(test)]
mod tests {
    use super::equilibrium;

    /// Table 4-2 of FPL-GTR-282, ten values quoted in record 1e.emc.table; at 85 % the equation gives 17.95 where the table
    /// has 17.9.
    #[test]
    fn the_equation_gives_the_handbooks_table() {
        let all: serde_json::Value = serde_json::from_str(include_str!("../../fixtures/references.json")).unwrap();
        let record = all.as_array().unwrap().iter().find(|r| r["id"] == "1e.emc.table").unwrap();
        let rows = record["values"].as_array().unwrap();
        assert_eq!(rows.len(), 10);
        for row in rows {
            let number = |key: &str| row[key].as_f64().unwrap();
            let computed = equilibrium((number("F") - 32.0) / 1.8, number("RH"));
            assert!((computed - number("EMC")).abs() < 0.06, "{row}: {computed}");
        }
    }
}
