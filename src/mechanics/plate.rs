//! A rectangular plate on four simply supported edges, isotropic or orthotropic, by Navier's
//! double sine series (Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells).
//!
//! Only for a panel whose four edges are held down flat. A bottom in grooves or on cleats along
//! two or three sides is a strip, not this plate; and a long orthotropic plate may sag a few
//! percent *more* than its one-way strip, so neither bounds the other.

use crate::units::physics::{
    AreaLoad, Force, Metres, MomentPerWidth, PlateStiffness, SquareMetres, Stress,
};
use std::f64::consts::PI;

/// The plate; x runs along `a`, y along `b`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Size along x.
    pub a: Metres,
    /// Size along y.
    pub b: Metres,
    /// Stiffness of strips along x, D_x.
    pub stiffness_x: PlateStiffness,
    /// Stiffness of strips along y, D_y.
    pub stiffness_y: PlateStiffness,
    /// H = D₁ + G·t³/6; nothing is the safe side for sag.
    pub twist: PlateStiffness,
    /// D₁ = ν_yx·D_x = ν_xy·D_y, which couples the moments.
    pub coupling: PlateStiffness,
}

/// What lies on the plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Load {
    /// The same everywhere.
    Uniform(AreaLoad),
    /// The same over a rectangle: centre x and y, size along x and y.
    Patch {
        /// Centre along x.
        x: Metres,
        /// Centre along y.
        y: Metres,
        /// Size along x.
        dx: Metres,
        /// Size along y.
        dy: Metres,
        /// How much.
        load: AreaLoad,
    },
    /// A point load; deflections only, since the moment under it is unbounded in this theory.
    Point {
        /// Where along x.
        x: Metres,
        /// Where along y.
        y: Metres,
        /// How much.
        force: Force,
    },
}

/// Deflection and moments at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Response {
    /// Downward.
    pub deflection: Metres,
    /// Moment of strips along x.
    pub moment_x: MomentPerWidth,
    /// Moment of strips along y.
    pub moment_y: MomentPerWidth,
}

/// Highest wave number in either direction: a centre deflection is then within 1e-6 (uniform load)
/// or 2e-4 (point load) of the limit. A loaded plate costs a term per pair of wave numbers.
const WAVES: u32 = 63;

impl Plate {
    /// An isotropic plate of thickness t: D = E·t³/(12(1 − ν²)).
    pub fn isotropic(
        a: Metres,
        b: Metres,
        modulus: Stress,
        thickness: Metres,
        poisson: f64,
    ) -> Self {
        let t = thickness.in_metres();
        let d = modulus.in_pascals() * t * t * t / (12.0 * (1.0 - poisson * poisson));
        let d = PlateStiffness::newton_metres(d);
        Self { a, b, stiffness_x: d, stiffness_y: d, twist: d, coupling: d * poisson }
    }

    /// At the centre, to [`WAVES`].
    pub fn at_centre(&self, load: Load) -> Response {
        self.under(&[load], WAVES).at(self.a / 2.0, self.b / 2.0)
    }

    /// How many times more it sags and bends along x, in the middle under a load everywhere, than a strip of it along x on two
    /// supports: 5·w·a⁴/(384·D_x) and w·a²/8. Never less than once, as a panel's ends are seldom held down. A long plate does
    /// so by a few percent.
    pub fn over_strip(&self) -> [f64; 2] {
        let load = 1_000.0;
        let bent = self.at_centre(Load::Uniform(AreaLoad::pascals(load)));
        let (a, stiffness) = (self.a.in_metres(), self.stiffness_x.in_newton_metres());
        let sag = 5.0 * load * a.powi(4) / (384.0 * stiffness);
        let moment = load * a * a / 8.0;
        let times = [bent.deflection.in_metres() / sag, bent.moment_x.in_newtons() / moment];
        times.map(|times| if times.is_finite() { times.max(1.0) } else { 1.0 })
    }

    /// The plate under several loads at once, by a series up to `waves` in either direction. The
    /// series has one term per pair of wave numbers m, n: the loads' amplitude over
    /// π⁴[D_x(m/a)⁴ + 2H(m/a)²(n/b)² + D_y(n/b)⁴]. Costs waves² per load.
    pub fn under(&self, loads: &[Load], waves: u32) -> Field<'_> {
        let size = waves as usize;
        let mut terms = vec![0.0; size * size];
        for load in loads {
            let amplitudes = Amplitudes::of(self, *load, waves);
            for (m, row) in terms.chunks_exact_mut(size.max(1)).enumerate() {
                let along = amplitudes.factor * amplitudes.x[m];
                for (term, across) in row.iter_mut().zip(&amplitudes.y) {
                    *term += along * across;
                }
            }
        }
        let (dx, dy) = (self.stiffness_x.in_newton_metres(), self.stiffness_y.in_newton_metres());
        let h = self.twist.in_newton_metres();
        let (rows, columns) = (squares(self.a, waves), squares(self.b, waves));
        for (row, pp) in terms.chunks_exact_mut(size.max(1)).zip(&rows) {
            for (term, qq) in row.iter_mut().zip(&columns) {
                *term /= dx * pp * pp + 2.0 * h * pp * qq + dy * qq * qq;
            }
        }
        Field { plate: self, waves, terms, rows, columns }
    }
}

/// A plate bent by its loads.
#[derive(Debug, Clone, PartialEq)]
pub struct Field<'a> {
    plate: &'a Plate,
    waves: u32,
    /// Deflection's amplitudes, row by row of m.
    terms: Vec<f64>,
    /// (mπ/a)² and (nπ/b)².
    rows: Vec<f64>,
    columns: Vec<f64>,
}

impl Field<'_> {
    /// Deflection and moments at a place. Costs waves².
    pub fn at(&self, x: Metres, y: Metres) -> Response {
        let plate = self.plate;
        let (along, across) = (sines(x / plate.a, self.waves), sines(y / plate.b, self.waves));
        // Σ w, Σ w(mπ/a)² and Σ w(nπ/b)².
        let (mut sum, mut sum_x, mut sum_y) = (0.0, 0.0, 0.0);
        let rows = self.terms.chunks_exact(along.len().max(1));
        for ((row, pp), along) in rows.zip(&self.rows).zip(&along) {
            let (mut w, mut w_y) = (0.0, 0.0);
            for ((term, qq), across) in row.iter().zip(&self.columns).zip(&across) {
                w += term * across;
                w_y += term * across * qq;
            }
            sum += w * along;
            sum_x += w * along * pp;
            sum_y += w_y * along;
        }
        let (dx, dy) = (plate.stiffness_x.in_newton_metres(), plate.stiffness_y.in_newton_metres());
        let d1 = plate.coupling.in_newton_metres();
        Response {
            deflection: Metres::of(sum),
            moment_x: MomentPerWidth::newtons(dx * sum_x + d1 * sum_y),
            moment_y: MomentPerWidth::newtons(dy * sum_y + d1 * sum_x),
        }
    }
}

/// (mπ/side)² for m = 1, 2, … `waves`.
fn squares(side: Metres, waves: u32) -> Vec<f64> {
    let unit = PI / side.in_metres();
    (1..=waves).map(|m| f64::from(m) * unit).map(|wave| wave * wave).collect()
}

/// sin(m·π·share) for m = 1, 2, … `waves`, by sin(m+1)θ = 2cos θ·sin mθ − sin(m−1)θ: the sines
/// were most of the cost, and the recurrence loses no more than waves² times the last bit.
fn sines(share: f64, waves: u32) -> Vec<f64> {
    let twice = 2.0 * libm::cos(PI * share);
    let (mut before, mut here) = (0.0, libm::sin(PI * share));
    let step = |_| {
        let sine = here;
        (before, here) = (here, twice * here - before);
        sine
    };
    (0..waves).map(step).collect()
}

/// The load as a double sine series.
struct Amplitudes {
    factor: f64,
    x: Vec<f64>,
    y: Vec<f64>,
}

impl Amplitudes {
    fn of(plate: &Plate, load: Load, waves: u32) -> Self {
        // A rectangle's amplitude falls off with 1/m.
        let rectangle = |middle: f64, size: f64| -> Vec<f64> {
            let (middles, halves) = (sines(middle, waves), sines(size / 2.0, waves));
            (1..).zip(middles.iter().zip(&halves)).map(|(m, (a, b))| a * b / f64::from(m)).collect()
        };
        match load {
            Load::Uniform(load) => {
                let (x, y) = (plate.a / 2.0, plate.b / 2.0);
                Self::of(plate, Load::Patch { x, y, dx: plate.a, dy: plate.b, load }, waves)
            }
            Load::Patch { x, y, dx, dy, load } => Self {
                factor: 16.0 * load.in_pascals() / (PI * PI),
                x: rectangle(x / plate.a, dx / plate.a),
                y: rectangle(y / plate.b, dy / plate.b),
            },
            Load::Point { x, y, force } => {
                let area: SquareMetres = plate.a * plate.b;
                Self {
                    factor: 4.0 * force.in_newtons() / area.in_square_metres(),
                    x: sines(x / plate.a, waves),
                    y: sines(y / plate.b, waves),
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    /// A plate 1 m wide with D = 1, so that results are the tables' coefficients.
    fn unit(b: f64) -> Plate {
        let d = PlateStiffness::newton_metres(1.0);
        Plate {
            a: Metres::of(1.0),
            b: Metres::of(b),
            stiffness_x: d,
            stiffness_y: d,
            twist: d,
            coupling: d * 0.3,
        }
    }

    const UNIT: Load = Load::Uniform(AreaLoad::pascals(1.0));

    // Timoshenko & Woinowsky-Krieger, Table 8 (coefficients of deflection, recomputed).
    #[test]
    fn deflections_of_timoshenkos_table_8() {
        let rows = [(1.0, 0.004_062_4), (1.5, 0.007_724_0), (2.0, 0.010_128_7), (3.0, 0.012_232_7)];
        for (ratio, expected) in rows {
            let response = unit(ratio).at_centre(UNIT);
            close(response.deflection.in_metres(), expected, 2e-4);
        }
    }

    // The same table's other rows, as printed.
    #[test]
    fn deflections_and_moments_as_printed_in_table_8() {
        let rows = [
            (1.2, 0.005_651, 0.0627, 0.0501),
            (1.4, 0.007_085, 0.0756, 0.0502),
            (1.6, 0.008_308, 0.0862, 0.0493),
            (1.8, 0.009_316, 0.0949, 0.0479),
            (4.0, 0.012_819, 0.1235, 0.0384),
            (5.0, 0.012_971, 0.1246, 0.0378),
        ];
        for (ratio, deflection, short, long) in rows {
            let response = unit(ratio).at_centre(UNIT);
            close(response.deflection.in_metres(), deflection, 2e-4);
            close(response.moment_x.in_newtons(), short, 2e-3);
            close(response.moment_y.in_newtons(), long, 2e-3);
        }
    }

    // Timoshenko & Woinowsky-Krieger, Table 8, ν = 0.3, twice as long as wide.
    #[test]
    fn moments_of_timoshenkos_table_8() {
        let response = unit(2.0).at_centre(UNIT);
        close(response.moment_x.in_newtons(), 0.1017, 2e-3);
        close(response.moment_y.in_newtons(), 0.0464, 2e-3);
    }

    // Roark, Table 11.4, case 1a (read): y = α·q·a⁴/(E·t³), where α is 10.92 times Timoshenko's
    // for ν = 0.3; the printed table is up to 0.5 % off the series.
    #[test]
    fn deflections_of_roark() {
        let rows = [
            (1.0, 0.0444),
            (1.2, 0.0616),
            (1.4, 0.0770),
            (1.6, 0.0906),
            (2.0, 0.1110),
            (3.0, 0.1335),
        ];
        for (ratio, expected) in rows {
            let deflection = unit(ratio).at_centre(UNIT).deflection.in_metres();
            close(deflection * 10.92, expected, 6e-3);
        }
    }

    // Timoshenko's table of central loads, w = α·P·a²/D; agrees with Roark's case 1b over 10.92.
    #[test]
    fn a_load_at_the_centre() {
        for (ratio, expected) in [(1.0, 0.011_60), (2.0, 0.0165)] {
            let plate = unit(ratio);
            let (x, y) = (plate.a / 2.0, plate.b / 2.0);
            let load = Load::Point { x, y, force: Force::newtons(1.0) };
            close(plate.at_centre(load).deflection.in_metres(), expected, 2e-3);
        }
    }

    // Derived from the table's coefficient: 18 mm, 8 GPa, 0.6 × 1.2 m under 2 kPa.
    #[test]
    fn an_isotropic_drawer_bottom() {
        let (a, b) = (Metres::of(0.6), Metres::of(1.2));
        let (modulus, thickness) = (Stress::gigapascals(8.0), Metres::millimetres(18.0));
        let plate = Plate::isotropic(a, b, modulus, thickness, 0.3);
        let response = plate.at_centre(Load::Uniform(AreaLoad::pascals(2000.0)));
        close(response.deflection.in_millimetres(), 0.6145, 1e-3);
    }

    fn rated(strong: f64, weak: f64, twist: f64) -> Plate {
        Plate {
            a: Metres::of(0.6),
            b: Metres::of(1.2),
            stiffness_x: PlateStiffness::newton_metres(strong),
            stiffness_y: PlateStiffness::newton_metres(weak),
            twist: PlateStiffness::newton_metres(twist),
            coupling: PlateStiffness::ZERO,
        }
    }

    // Derived; confirmed by a finite difference solution. Stiffnesses of a 48/24 five-ply panel,
    // AWC ASD/LRFD Manual, Table M9.2-1.
    #[test]
    fn an_orthotropic_bottom_with_its_grain_across_the_short_way() {
        let load = Load::Uniform(AreaLoad::pascals(2000.0));
        for (twist, expected) in [(300.0, 0.8607), (0.0, 0.8749)] {
            let response = rated(4142.777, 861.509, twist).at_centre(load);
            close(response.deflection.in_millimetres(), expected, 1e-3);
        }
    }

    // As above with the grain turned.
    #[test]
    fn an_orthotropic_bottom_with_its_grain_along_the_long_way() {
        let load = Load::Uniform(AreaLoad::pascals(2000.0));
        let response = rated(861.509, 4142.777, 300.0).at_centre(load);
        close(response.deflection.in_millimetres(), 3.3226, 1e-3);
    }

    // Derived: 5qa⁴/384D_x of the strip is less than the plate's sag, which is allowed.
    #[test]
    fn the_strip_is_no_upper_bound() {
        let (q, a, d): (f64, f64, f64) = (2000.0, 0.6, 4142.777);
        let strip = 5.0 * q * a * a * a * a / (384.0 * d) * 1e3;
        close(strip, 0.8147, 1e-3);
        let load = Load::Uniform(AreaLoad::pascals(q));
        let plate = rated(d, 861.509, 300.0).at_centre(load).deflection.in_millimetres();
        assert!(strip < plate && plate < 1.07 * strip);
    }

    // Timoshenko & Woinowsky-Krieger, § 85, table 36 (from memory): with H = √(D_x·D_y), w = α·q·b⁴/D_y where α is table 8's
    // for an isotropic plate with a side ratio of ε = (a/b)·(D_y/D_x)^¼.
    #[test]
    fn orthotropic_coefficients_of_timoshenkos_table_36() {
        let (dx, dy, b): (f64, f64, f64) = (4142.8, 861.5, 0.6);
        for (ratio, alpha) in [(1.0, 0.004_07), (1.5, 0.007_72), (2.0, 0.010_13), (3.0, 0.012_23)] {
            let a = ratio * b * libm::pow(dx / dy, 0.25);
            let h = PlateStiffness::newton_metres((dx * dy).sqrt());
            let plate = Plate { a: Metres::of(a), b: Metres::of(b), ..rated(dx, dy, 0.0) };
            let plate = Plate { twist: h, ..plate };
            let load = Load::Uniform(AreaLoad::pascals(1000.0));
            let sag = plate.at_centre(load).deflection.in_metres();
            close(sag * dy / (1000.0 * b * b * b * b), alpha, 3e-3);
        }
    }

    // Derived: with D_x = D_y = H the orthotropic plate is the isotropic one.
    #[test]
    fn equal_stiffnesses_are_isotropic() {
        let plate =
            Plate { a: Metres::of(1.0), b: Metres::of(1.0), ..rated(1000.0, 1000.0, 1000.0) };
        let response = plate.at_centre(Load::Uniform(AreaLoad::pascals(1000.0)));
        close(response.deflection.in_millimetres(), 4.0624, 1e-4);
    }

    // Derived: four quarter patches add up to the uniform load; a small patch nears the point load.
    #[test]
    fn patches_add_up_and_shrink_to_a_point() {
        let plate = rated(4142.777, 861.509, 300.0);
        let load = AreaLoad::pascals(2000.0);
        let (dx, dy) = (plate.a / 2.0, plate.b / 2.0);
        let quarters: Vec<Load> = [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)]
            .into_iter()
            .map(|(x, y)| Load::Patch { x: plate.a * x, y: plate.b * y, dx, dy, load })
            .collect();
        let whole = plate.at_centre(Load::Uniform(load)).deflection;
        let sum = quarters.iter().map(|patch| plate.at_centre(*patch).deflection).sum::<Metres>();
        close(sum / whole, 1.0, 1e-9);
        let together = plate.under(&quarters, WAVES).at(dx, dy).deflection;
        close(together / whole, 1.0, 1e-9);
        // A third of the waves is enough for checks of sag.
        close(plate.under(&quarters, 21).at(dx, dy).deflection / whole, 1.0, 1e-4);
        let side = Metres::millimetres(1.0);
        let force = Force::newtons(500.0);
        let patch = Load::Patch { x: dx, y: dy, dx: side, dy: side, load: force / side / side };
        let small = plate.at_centre(patch).deflection;
        let point = plate.at_centre(Load::Point { x: dx, y: dy, force }).deflection;
        close(small / point, 1.0, 1e-3);
    }
}
