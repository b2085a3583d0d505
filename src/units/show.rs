//! Lengths, areas, masses and volumes as a person reads them.

use super::{Area, Length, Mass, UnitSystem, Volume};

/// The finest fraction shown: what is not a whole number of these is shown as a decimal.
const FINEST: i64 = 128;

impl Length {
    /// The length with its unit: `75 1/4 in`, `1905 mm`.
    pub fn show(self, units: UnitSystem) -> String {
        let unit = if units == UnitSystem::Inch { "in" } else { "mm" };
        format!("{} {unit}", self.figure(units))
    }

    /// The length without its unit: `75 1/4`, `1905`, `11.91`.
    ///
    /// Inches are exact fractions down to 1/128 and otherwise decimals to 0.001; millimetres are to
    /// 0.01. This is for people: documents for programs use [`Length::to_mm`].
    pub fn figure(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Inch => self.inch_figure(),
            UnitSystem::Metric => decimal(self.to_mm(), 2),
        }
    }

    /// The length as it is read off a tape or a square, without its unit: to the nearest 1/32 in or half millimetre.
    pub fn on_tape(self, units: UnitSystem) -> String {
        let step = match units {
            UnitSystem::Inch => Self::INCH_128TH * 4,
            UnitSystem::Metric => Self::MM / 2,
        };
        (self + step / 2).floor_to(step).figure(units)
    }

    fn inch_figure(self) -> String {
        if self.units() % Length::INCH_128TH.units() != 0 {
            return decimal(self.to_inches(), 3);
        }
        let steps = (self.units() / Length::INCH_128TH.units()).abs();
        let sign = if self.units() < 0 { "-" } else { "" };
        let (whole, rest) = (steps / FINEST, steps % FINEST);
        if rest == 0 {
            return format!("{sign}{whole}");
        }
        let halvings = rest.trailing_zeros();
        let fraction = format!("{}/{}", rest >> halvings, FINEST >> halvings);
        if whole == 0 { format!("{sign}{fraction}") } else { format!("{sign}{whole} {fraction}") }
    }
}

impl Mass {
    /// The mass with its unit, to a tenth: `11 lb`, `4.5 kg`.
    pub fn show(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Inch => format!("{} lb", decimal(self.to_pounds(), 1)),
            UnitSystem::Metric => format!("{} kg", decimal(self.to_kg(), 1)),
        }
    }
}

impl Volume {
    /// The volume with its unit, to a tenth: `9.8 cu ft` or `277.4 L`.
    pub fn show(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Inch => {
                let cubic_foot = (Length::INCH * 12).by(Length::INCH * 12).by(Length::INCH * 12);
                format!("{} cu ft", decimal(self.units() as f64 / cubic_foot.units() as f64, 1))
            }
            UnitSystem::Metric => format!("{} L", decimal(self.to_litres(), 1)),
        }
    }
}

impl Area {
    /// The area with its unit, to a tenth: `12.4 sq ft`; to a hundredth: `1.15 m²`.
    pub fn show(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Inch => {
                let square_foot = (Length::INCH * 12).by(Length::INCH * 12);
                format!("{} sq ft", decimal(self.units() as f64 / square_foot.units() as f64, 1))
            }
            UnitSystem::Metric => format!("{} m²", decimal(self.to_square_metres(), 2)),
        }
    }
}

/// `value` to at most `places` decimals, without trailing zeros or a negative zero.
fn decimal(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_are_reduced_fractions() {
        let shown = |n, d| Length::inches(n, d).show(UnitSystem::Inch);
        assert_eq!(shown(301, 4), "75 1/4 in");
        assert_eq!(shown(48, 1), "48 in");
        assert_eq!(shown(15, 32), "15/32 in");
        assert_eq!(shown(127, 128), "127/128 in");
        assert_eq!(shown(-5, 2), "-2 1/2 in");
        assert_eq!(Length::mm(100).show(UnitSystem::Inch), "3.937 in");
    }

    #[test]
    fn a_tape_is_read_to_its_finest_line() {
        let read = |n, d| Length::inches(n, d).on_tape(UnitSystem::Inch);
        assert_eq!(read(1925, 128), "15 1/32");
        assert_eq!(read(1, 128), "0");
        assert_eq!(read(3, 4), "3/4");
        assert_eq!(Length::inches(15, 32).on_tape(UnitSystem::Metric), "12");
        assert_eq!((Length::MM * 5 / 2).on_tape(UnitSystem::Metric), "2.5");
    }

    #[test]
    fn millimetres_drop_needless_decimals() {
        assert_eq!(Length::mm(1905).show(UnitSystem::Metric), "1905 mm");
        assert_eq!(Length::inches(15, 32).show(UnitSystem::Metric), "11.91 mm");
        assert_eq!(Length::from_units(-1).show(UnitSystem::Metric), "0 mm");
    }

    #[test]
    fn masses_areas_and_volumes_follow_the_units() {
        let area = (Length::INCH * 18).by(Length::INCH * 48);
        assert_eq!(area.show(UnitSystem::Inch), "6 sq ft");
        assert_eq!(area.show(UnitSystem::Metric), "0.56 m²");
        assert_eq!((Mass::POUND * 11).show(UnitSystem::Inch), "11 lb");
        assert_eq!(Mass::from_kg(4.54).show(UnitSystem::Metric), "4.5 kg");
        let cube = (Length::INCH * 24).by(Length::INCH * 12).by(Length::INCH * 12);
        assert_eq!(cube.show(UnitSystem::Inch), "2 cu ft");
        assert_eq!(cube.show(UnitSystem::Metric), "56.6 L");
    }
}
