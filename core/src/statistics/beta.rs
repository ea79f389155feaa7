//! The incomplete beta function, behind Student's t and the three-point cost.

/// Above this a shape parameter's log-gamma is taken from Stirling's series, whose cut-off error is then
/// below the last place.
const STIRLING_FROM: f64 = 10.0;

/// Natural logarithm of the beta function B(a, b); both positive.
///
/// *Formula*: ln Γ(a) + ln Γ(b) − ln Γ(a + b). With one of them large the three logarithms would cancel
/// their leading digits, so the difference is taken from Stirling's series term by term.
#[must_use]
pub fn ln_beta(a: f64, b: f64) -> f64 {
    let (small, large) = if a < b { (a, b) } else { (b, a) };
    if large < STIRLING_FROM {
        return libm::lgamma(small) + libm::lgamma(large) - libm::lgamma(small + large);
    }
    let both = small + large;
    let correction = stirling_correction(large) - stirling_correction(both);
    if small < STIRLING_FROM {
        // ln Γ(large) − ln Γ(both) with the terms in ln(large) gathered.
        return libm::lgamma(small) + correction + small
            - small * libm::log(large)
            - (both - 0.5) * libm::log1p(small / large);
    }
    let half_ln_two_pi = libm::log(2.0 * core::f64::consts::PI) / 2.0;
    half_ln_two_pi - libm::log(large) / 2.0 + correction + stirling_correction(small)
        - (small - 0.5) * libm::log1p(large / small)
        - large * libm::log1p(small / large)
}

/// What Stirling's formula leaves out of ln Γ(x), for x of 10 or more.
///
/// *Formula*: 1/(12x) − 1/(360x³) + 1/(1260x⁵) − 1/(1680x⁷) + 1/(1188x⁹) − 691/(360360x¹¹) + 1/(156x¹³);
/// Abramowitz and Stegun, 6.1.41.
fn stirling_correction(x: f64) -> f64 {
    let inverse_square = 1.0 / (x * x);
    let terms = [1.0 / 156.0, -691.0 / 360_360.0, 1.0 / 1188.0, -1.0 / 1680.0, 1.0 / 1260.0, -1.0 / 360.0, 1.0 / 12.0];
    terms.iter().fold(0.0, |inner, term| inner * inverse_square + term) / x
}

/// The regularised incomplete beta function I_x(a, b): the probability that a beta variable is at most `x`.
///
/// `complement` is 1 − `x`, asked for because the caller often knows it to more digits than the subtraction
/// gives. Outside 0 to 1 it is 0 or 1; parameters that are not positive give a value that is not a number.
/// *Formula*: continued fraction 26.5.8 of Abramowitz and Stegun, evaluated by Lentz's method as modified
/// by Thompson and Barnett (Journal of Computational Physics 64, 1986).
#[must_use]
pub fn regularised(a: f64, b: f64, x: f64, complement: f64) -> f64 {
    if !(a > 0.0 && b > 0.0) || x.is_nan() || complement.is_nan() {
        return f64::NAN;
    }
    if x <= 0.0 {
        return 0.0;
    }
    if complement <= 0.0 {
        return 1.0;
    }
    // The fraction converges fast on the near side of the mean; the other side is its mirror image.
    if x <= (a + 1.0) / (a + b + 2.0) { near_side(a, b, x, complement) } else { 1.0 - near_side(b, a, complement, x) }
}

/// Terms of the fraction at most: it needs about the square root of the larger parameter.
const MOST_TERMS: u32 = 20_000;

fn near_side(a: f64, b: f64, x: f64, complement: f64) -> f64 {
    let ln_of = |part: f64, rest: f64| if rest < 0.5 { libm::log1p(-rest) } else { libm::log(part) };
    let front = libm::exp(a * ln_of(x, complement) + b * ln_of(complement, x) - ln_beta(a, b)) / a;
    // Lentz's method: a numerator or denominator that comes out 0 is replaced by a number too small to matter.
    let never_zero = |value: f64| if libm::fabs(value) < 1e-300 { 1e-300 } else { value };
    let mut numerator = 1.0;
    let mut denominator = 1.0 / never_zero(1.0 - (a + b) * x / (a + 1.0));
    let mut fraction = denominator;
    for term in 1..MOST_TERMS {
        let m = f64::from(term);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut step = 1.0;
        for coefficient in [even, odd] {
            denominator = 1.0 / never_zero(1.0 + coefficient * denominator);
            numerator = never_zero(1.0 + coefficient / numerator);
            step = numerator * denominator;
            fraction *= step;
        }
        if libm::fabs(step - 1.0) <= f64::EPSILON {
            break;
        }
    }
    front * fraction
}

/// The value that a beta variable falls below with probability `part`.
///
/// 0 and 1 at the ends. The bracket is halved whenever Newton's step leaves it, so it always arrives.
#[must_use]
pub fn quantile(a: f64, b: f64, part: f64) -> f64 {
    if !(a > 0.0 && b > 0.0) || part.is_nan() {
        return f64::NAN;
    }
    if part <= 0.0 {
        return 0.0;
    }
    if part >= 1.0 {
        return 1.0;
    }
    let (mut low, mut high) = (0.0, 1.0);
    let mut x = a / (a + b);
    for _ in 0..200 {
        let excess = regularised(a, b, x, 1.0 - x) - part;
        if excess > 0.0 {
            high = x;
        } else {
            low = x;
        }
        let density = libm::exp((a - 1.0) * libm::log(x) + (b - 1.0) * libm::log1p(-x) - ln_beta(a, b));
        let newton = x - excess / density;
        let next = if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
        if libm::fabs(next - x) <= f64::EPSILON * x {
            return next;
        }
        x = next;
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() <= 1e-13 * expected.abs().max(1e-3), "found {found}, expected {expected}");
    }

    #[test]
    fn closed_forms() {
        // I_x(1, b) = 1 − (1 − x)^b and I_x(a, 1) = x^a.
        near(regularised(1.0, 3.0, 0.2, 0.8), 1.0 - 0.512);
        near(regularised(2.5, 1.0, 0.49, 0.51), libm::pow(0.49, 2.5));
        // Binomial: I_p(k, n − k + 1) is the chance of k or more of n; 5 or more of 10 at one half.
        near(regularised(5.0, 6.0, 0.5, 0.5), 638.0 / 1024.0);
        assert_eq!(regularised(2.0, 3.0, -0.1, 1.1), 0.0);
        assert_eq!(regularised(2.0, 3.0, 1.0, 0.0), 1.0);
        assert!(regularised(0.0, 3.0, 0.5, 0.5).is_nan());
    }

    #[test]
    fn ln_beta_joins_its_three_branches() {
        // B(m, n) = (m − 1)! (n − 1)! / (m + n − 1)!, by exact products, on either side of each join.
        for (m, n) in [(2_u32, 9_u32), (2, 10), (9, 10), (10, 10), (10, 40), (3, 60)] {
            let product: f64 = (1..m).map(|k| f64::from(k) / f64::from(n + k)).product();
            near(ln_beta(f64::from(m), f64::from(n)), libm::log(product / f64::from(n)));
        }
    }

    proptest! {
        #[test]
        fn mirror_image(a in 0.05..80.0_f64, b in 0.05..80.0_f64, x in 0.0..1.0_f64) {
            let both = regularised(a, b, x, 1.0 - x) + regularised(b, a, 1.0 - x, x);
            prop_assert!((both - 1.0).abs() < 1e-12, "{}", both);
        }

        /// I_x(a, b) = I_x(a + 1, b) + x^a (1 − x)^b / (a B(a, b)): an identity that the fraction does not use.
        #[test]
        fn recurrence(a in 0.1..40.0_f64, b in 0.1..40.0_f64, x in 0.001..0.999_f64) {
            let step = libm::exp(a * libm::log(x) + b * libm::log1p(-x) - ln_beta(a, b)) / a;
            let apart = regularised(a, b, x, 1.0 - x) - regularised(a + 1.0, b, x, 1.0 - x) - step;
            prop_assert!(apart.abs() < 1e-12, "{}", apart);
        }

        #[test]
        fn quantile_undoes_probability(a in 0.5..20.0_f64, b in 0.5..20.0_f64, part in 0.001..0.999_f64) {
            let x = quantile(a, b, part);
            prop_assert!((regularised(a, b, x, 1.0 - x) - part).abs() < 1e-12);
        }
    }
}
