//! Numbers as revision codes take them: each stands for all that no shop would tell from it.
//!
//! Lengths fall into cells of a hundredth of a millimetre, finer than any saw, bit or hand. Where cells meet, a number that moves by
//! rounding would change cells, so the edges lie where nobody writes a number: in the middle between two thousandths of a
//! millimetre, and clear of every 128th of an inch and every half thousandth of one. A number of any of these scales that moves by
//! less than [`SETTLED`] stays in its cell. One off them (a third, a cosine) may lie nearer to an edge: no way of cutting a line into
//! cells is without edges. Angles fall into cells of a thousandth of a degree likewise.

use super::{Angle, Length, MM_PER_INCH};
use crate::tolerance::{ON_A_SCALE, SETTLED};

/// Cells to a millimetre.
const CELLS_PER_MM: f64 = 100.0;

/// Where in its hundredth an edge may lie, mm: each half a thousandth off every thousandth, the middle ones first.
const EDGES: [f64; 6] = [0.0045, 0.0055, 0.0035, 0.0065, 0.0025, 0.0075];

/// Steps of the scales in inches that edges keep off, mm. In the reach of all edges of a hundredth there is one number of each at most.
const SCALES: [f64; 2] = [MM_PER_INCH / 128.0, MM_PER_INCH / 2000.0];

/// Fractions of an inch that stand for their cell.
const FRACTION: f64 = 64.0;

/// Cells to a degree.
const CELLS_PER_DEGREE: f64 = 1000.0;

/// Where in its cell an angle's edge lies, cells: off the numbers with a fourth decimal.
const ANGLE_EDGE: f64 = 0.45;

impl Length {
    /// The length that stands for all that are the same to a shop: a 64th of an inch where one of them is, else hundredths of a
    /// millimetre. Less than 0.01 mm away.
    pub fn settled(self) -> Length {
        let cell = cell_of(self.0.abs());
        let fraction = Length::from_inches((cell / CELLS_PER_MM / MM_PER_INCH * FRACTION).round() / FRACTION).0;
        let settled = if cell_of(fraction) == cell { fraction } else { cell / CELLS_PER_MM };
        Length(if self.0 < 0.0 { -settled } else { settled })
    }
}

impl Angle {
    /// The angle that stands for all that are the same to a shop, less than 0.001 degrees away.
    pub fn settled(self) -> Angle {
        let cell = (self.degrees().abs() * CELLS_PER_DEGREE + 1.0 - ANGLE_EDGE).floor();
        let settled = Angle::from_degrees(cell / CELLS_PER_DEGREE);
        if self.0 < 0.0 { -settled } else { settled }
    }
}

/// The cell of a length that is not below zero: that of the hundredth about which it lies.
fn cell_of(mm: f64) -> f64 {
    let below = (mm * CELLS_PER_MM).floor();
    if mm < edge_above(below) { below } else { below + 1.0 }
}

/// Where a cell meets the next, mm.
fn edge_above(cell: f64) -> f64 {
    let start = cell / CELLS_PER_MM;
    let clear = |edge: &f64| {
        SCALES.iter().all(|step| (edge / step - (edge / step).round()).abs() * step > SETTLED - ON_A_SCALE)
    };
    let edges = EDGES.map(|edge| start + edge);
    edges.into_iter().find(clear).unwrap_or(start + EDGES[0])
}

#[cfg(test)]
mod tests {
    use crate::tolerance::SETTLED;
    use crate::units::{Angle, Length, MM_PER_INCH};

    #[test]
    fn what_is_written_on_a_scale_of_the_shop_stays_when_it_moves_by_less_than_half_a_thousandth() {
        let scales = [0.001, MM_PER_INCH / 128.0, MM_PER_INCH / 1000.0, MM_PER_INCH / 2000.0];
        for step in scales {
            // A stride that has no factor in common with the scales reaches every place in a hundredth.
            for k in (0..4000).map(|k| k * 7 + 1) {
                let given = f64::from(k) * step;
                let own = Length::from_mm(given).settled();
                for move_by in [-0.9, -0.5, 0.5, 0.9] {
                    let moved = Length::from_mm(given + move_by * SETTLED).settled();
                    assert_eq!(moved, own, "{given} mm moved by {move_by} of {SETTLED}");
                }
            }
        }
    }

    /// The limit, counted: of 100,000 lengths that lie on no scale, spread evenly by the golden section, one in twenty lies so near below
    /// an edge that a move by just less than [`SETTLED`] takes it over; of those on a scale none does (the test above).
    #[test]
    fn of_lengths_off_every_scale_one_in_twenty_changes_its_cell() {
        let moved = |k: &u32| {
            let given = 3.0 + 900.0 * (f64::from(*k) * 0.618_033_988_749_894_9).fract();
            let [own, moved] = [given, given + 0.98 * SETTLED].map(|mm| Length::from_mm(mm).settled());
            own != moved
        };
        let changed = (0..100_000).filter(moved).count();
        assert!((4_700..5_100).contains(&changed), "{changed}");
    }

    #[test]
    fn hundredths_and_fractions_stand_for_themselves_and_apart() {
        for k in 0..20_000 {
            let [own, next] = [k, k + 1].map(|k| Length::from_mm(f64::from(k) / 100.0).settled());
            assert!(own < next, "{k} hundredths");
        }
        for k in 0..20_000 {
            let fraction = Length::from_inches(f64::from(k) / 64.0);
            assert_eq!(fraction.settled(), fraction);
            assert_eq!((-fraction).settled(), -fraction);
        }
        assert_eq!(Length::from_mm(53.12).settled(), Length::from_mm(53.12));
    }

    #[test]
    fn no_number_moves_far() {
        for k in 0..10_000 {
            let length = Length::from_mm(f64::from(k) * std::f64::consts::PI / 100.0);
            assert!((length.settled() - length).abs().mm() < 0.01);
            assert_eq!(length.settled().settled(), length.settled());
            let angle = Angle::from_degrees(f64::from(k) * std::f64::consts::E / 1000.0);
            assert!((angle.settled() - angle).abs().degrees() < 0.001);
        }
        assert_eq!(Angle::from_degrees(-12.0).settled(), Angle::from_degrees(-12.0));
        assert_eq!(Angle::from_degrees(12.0004).settled(), Angle::from_degrees(12.0));
    }
}
