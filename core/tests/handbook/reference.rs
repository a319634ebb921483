//! The same sums in `f64`, written from the sources once more and in another way, so that a slip
//! in one is not a slip in both.

/// How far `f32` may be from `f64`, of the value: some ten roundings of 6e-8 each.
pub const CLOSE: f64 = 2e-6;
/// The same where a difference of near numbers comes in.
pub const CLOSE_ENOUGH: f64 = 2e-5;

/// Equilibrium moisture in %, with the constants for degrees Fahrenheit.
///
/// Simpson 1973, in the inch-pound form of the Wood Handbook: other constants than the sum uses.
pub fn moisture_by_fahrenheit(celsius: f64, humidity: f64) -> f64 {
    let t = celsius * 1.8 + 32.0;
    let h = humidity / 100.0;
    let w = 330.0 + 0.452 * t + 0.004_15 * t.powi(2);
    let k = 0.791 + 0.000_463 * t - 0.000_000_844 * t.powi(2);
    let k1 = 6.34 + 0.000_775 * t - 0.000_093_5 * t.powi(2);
    let k2 = 1.09 + 0.028_4 * t - 0.000_090_4 * t.powi(2);
    hydrates(w, k * h, k1, k2)
}

/// Equilibrium moisture in %, as the sum has it.
pub fn moisture(celsius: f64, humidity: f64) -> f64 {
    let t = celsius;
    let poly = |a: f64, b: f64, c: f64| a + t * (b + t * c);
    let k = poly(0.805, 0.000_736, -0.000_002_73);
    hydrates(
        poly(349.0, 1.29, 0.0135),
        k * humidity / 100.0,
        poly(6.27, -0.009_38, -0.000_303),
        poly(1.91, 0.0407, -0.000_293),
    )
}

fn hydrates(w: f64, x: f64, k1: f64, k2: f64) -> f64 {
    let free = x / (1.0 - x);
    let bound = (k1 * x + 2.0 * k1 * k2 * x.powi(2)) / (1.0 + k1 * x + k1 * k2 * x.powi(2));
    1800.0 * (free + bound) / w
}

/// Eq. (13-3), in %, as the difference of two sizes, each of which follows from the size when
/// green: a board of shrinkage S is 1 - S/100 · (30 - M)/30 of that at moisture M.
pub fn change(width: f64, shrinkage: f64, from: f64, to: f64) -> f64 {
    let size = |moisture: f64| 1.0 - shrinkage / 100.0 * (30.0 - moisture) / 30.0;
    width * (size(to) - size(from)) / size(from)
}

/// Load of a wood screw drawn out, N, by the inch-pound constant.
pub fn screw(gravity: f64, shank_mm: f64, thread_mm: f64) -> f64 {
    15_700.0 * gravity.powi(2) * (shank_mm / 25.4) * (thread_mm / 25.4) * 4.448_221_615
}

/// Load of a nail drawn out, N, by the inch-pound constant.
pub fn nail(gravity: f64, diameter_mm: f64, length_mm: f64) -> f64 {
    7_850.0 * gravity.powf(2.5) * (diameter_mm / 25.4) * (length_mm / 25.4) * 4.448_221_615
}

/// Sag of a shelf on two bearers, mm, by summing up the curvature from the middle out.
pub fn sag(load: f64, span: f64, width: f64, thickness: f64, stiffness: f64) -> f64 {
    let ei = stiffness * width * thickness.powi(3) / 12.0;
    let steps = 20_000;
    let dx = span / 2.0 / f64::from(steps);
    // The deflection of the middle against an end: the moment of the area of M/EI.
    (0..steps)
        .map(|at| {
            let x = (f64::from(at) + 0.5) * dx;
            load * x * (span - x) / 2.0 / ei * x * dx
        })
        .sum()
}
