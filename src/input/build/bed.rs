//! The bed.

use super::{Builder, FROM_FILE, Least, PRACTICE};
use crate::input::fault::{Code, Fault};
use crate::input::outside;
use crate::input::reader::At;
use crate::scenario::{Bed, BedKind, HatchOpening, Measured, Tailgate, Wells};
use crate::units::Length;

impl Builder {
    /// The bed; `None`, with a fault recorded, if what cannot be done without is missing or wrong.
    pub(super) fn bed(&mut self, file: &outside::Bed) -> Option<Bed> {
        let kind = self.or_default(&file.kind, "bed.kind", BedKind::Pickup, "pickup", PRACTICE);
        let length = self.measured(file.length.as_ref(), "length");
        let width = self.measured(file.width.as_ref(), "width");
        let depth = self.measured(file.depth.as_ref(), "depth");
        let clear_height = self.clear_height(file, depth);
        let wells = self.wells(file);
        let opening = file.opening.as_ref().and_then(|opening| self.opening(&opening.value));
        let tailgate = file.tailgate.as_ref().map(|tailgate| self.tailgate(&tailgate.value));
        let payload = file.payload.as_ref().and_then(|mass| self.mass(mass, "payload"));
        let wheelbase = self.optional(file.wheelbase.as_ref(), "wheelbase", Least::Positive);
        let axle = file.rear_axle_from_tailgate.as_ref();
        let rear_axle_from_tailgate = self.optional(axle, "rear_axle_from_tailgate", Least::Any);
        let room = file.front_axle_room.as_ref();
        let front_axle_room = room.and_then(|mass| self.mass(mass, "front_axle_room"));
        let room = file.rear_axle_room.as_ref();
        let rear_axle_room = room.and_then(|mass| self.mass(mass, "rear_axle_room"));
        let sleeps = self.or_default(&file.sleeps, "bed.sleeps", false, "false", PRACTICE);
        self.note_missing_tailgate(file, kind);
        Some(Bed {
            kind,
            length: length?,
            width: width?,
            wells,
            depth,
            clear_height: clear_height?,
            opening,
            tailgate,
            payload,
            wheelbase,
            rear_axle_from_tailgate,
            front_axle_room,
            rear_axle_room,
            sleeps,
        })
    }

    fn measured(&mut self, given: Option<&At<Measured>>, key: &str) -> Option<Measured> {
        let given = given?;
        let at = self.length(&given.map(|measured| measured.at), key, Least::Positive)?;
        let tol = self.length(&given.map(|measured| measured.tol), "tol", Least::Zero)?;
        if tol >= at {
            let (tol, at) = (tol.show(self.reading.units), at.show(self.reading.units));
            let message = format!("`{key}` may be off by {tol}, all of its {at}");
            self.fault(Fault::at(Code::OutOfRange, given.span.clone(), message));
            return None;
        }
        Some(Measured { at, tol })
    }

    fn optional(&mut self, given: Option<&At<Length>>, key: &str, least: Least) -> Option<Length> {
        self.length(given?, key, least)
    }

    /// The clear height, or the depth where nothing was said.
    fn clear_height(&mut self, file: &outside::Bed, depth: Option<Measured>) -> Option<Measured> {
        if file.clear_height.is_some() {
            return self.measured(file.clear_height.as_ref(), "clear_height");
        }
        match depth {
            Some(depth) => {
                self.used("bed.clear_height", depth.at.show(self.reading.units), FROM_FILE);
            }
            None if file.depth.is_none() && !self.reading.is_misspelt("clear_height") => {
                let message = "neither `clear_height` nor `depth` says how high the chest may be";
                let help = "add `clear_height = …`, what the finished deck must stay under";
                self.fault(Fault::of_file(Code::Missing, message).help(help));
            }
            None => {}
        }
        depth
    }

    /// The wells; a fault if only their width between or only the rest is given.
    fn wells(&mut self, file: &outside::Bed) -> Option<Wells> {
        match (&file.between_wells, &file.wells) {
            (Some(between), Some(wells)) => {
                let between = self.measured(Some(between), "between_wells");
                let mut part = |given: &Option<At<Length>>, key, least| {
                    given.as_ref().and_then(|given| self.length(given, key, least))
                };
                let from = part(&wells.value.from_tailgate, "from_tailgate", Least::Zero);
                let length = part(&wells.value.length, "length", Least::Positive);
                let height = part(&wells.value.height, "height", Least::Positive);
                Some(Wells {
                    between: between?,
                    from_tailgate: from?,
                    length: length?,
                    height: height?,
                })
            }
            (Some(_), None) if self.reading.is_misspelt("wells") => None,
            (None, Some(_)) if self.reading.is_misspelt("between_wells") => None,
            (Some(between), None) => {
                let message = "`between_wells` is given, and nothing says where the wells are";
                let help = "add `wells = { from_tailgate = …, length = …, height = … }`";
                self.fault(Fault::at(Code::Missing, between.span.clone(), message).help(help));
                None
            }
            (None, Some(wells)) => {
                let message = "`wells` is given, and nothing says how far they are apart";
                let help = "add `between_wells = …`, the clear width between them";
                self.fault(Fault::at(Code::Missing, wells.span.clone(), message).help(help));
                None
            }
            (None, None) => None,
        }
    }

    fn opening(&mut self, file: &outside::Opening) -> Option<HatchOpening> {
        let width = self.optional(file.width.as_ref(), "width", Least::Positive);
        let height = self.optional(file.height.as_ref(), "height", Least::Positive);
        Some(HatchOpening { width: width?, height: height? })
    }

    fn tailgate(&mut self, file: &outside::Tailgate) -> Tailgate {
        let rise = file.rise.as_ref();
        let rise = self.length_or(rise, "bed.tailgate.rise", Least::Zero, Length::ZERO);
        let slope = file.slope_deg.as_ref().map_or(0, |slope| slope.value.0);
        let slope_millideg = if slope.abs() > 30_000 {
            let span = file.slope_deg.as_ref().map_or(0..0, |slope| slope.span.clone());
            let message = "the tailgate's slope must be within 30 degrees either way";
            self.fault(Fault::at(Code::OutOfRange, span, message));
            0
        } else {
            slope
        };
        if file.slope_deg.is_none() {
            self.used("bed.tailgate.slope_deg", "0", PRACTICE);
        }
        let length = file.length.as_ref();
        let default = self.either(Length::inches(22, 1), 560);
        let length = self.length_or(length, "bed.tailgate.length", Least::Positive, default);
        let rating = file.rating.as_ref().and_then(|rating| self.mass(rating, "rating"));
        Tailgate { rise, slope_millideg, length, rating }
    }

    fn note_missing_tailgate(&mut self, file: &outside::Bed, kind: BedKind) {
        if kind == BedKind::Pickup && file.tailgate.is_none() {
            let message = "no tailgate was measured: nothing checks that drawers clear it";
            let help = "add `tailgate = { rise = …, slope_deg = …, length = … }` to [bed]";
            self.notices.push(Fault::of_file(Code::Notice, message).help(help));
        }
    }
}
