//! Which rims a tyre belongs on, and what is sensible within that range.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::readings::desk::Desk;
use crate::readings::outcome::Verdict;
use crate::units::{Length, Unit};

use super::designation::{Designation, Section};
use super::size::{Size, SizeError, size};

/// Why a rim cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RimError {
    /// Not the width of a car's rim.
    Width,
    /// The tyre's size states no width.
    Size(SizeError),
}

display!(RimError);

impl Say for RimError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Width => phrase!("a rim is 2.5 to 14 in wide between its flanges; 5½J means 5.5 in"),
            Self::Size(error) => error.phrase(),
        }
    }
}

impl core::error::Error for RimError {}

/// Where a range of rims comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// A published list, or the memory of one; the text says which.
    Listed(&'static str),
    /// The rule of [`by_rule`].
    Rule,
}

/// The rims that a tyre belongs on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RimRange {
    /// The narrowest.
    pub least: Length,
    /// The widest.
    pub greatest: Length,
    /// Where the range comes from.
    pub basis: Basis,
}

/// Listed ranges: width in mm, ratio in per cent (82 counts as 80), rim diameter in inches, narrowest and widest
/// rim in inches, source. Where only the first entries of a list could be read, the widest follows from the rule.
const LISTED: [(f64, f64, f64, f64, f64, &str); 4] = [
    (185.0, 65.0, 15.0, 5.0, 6.5, "trade list (wheelstire.com)"),
    (185.0, 70.0, 15.0, 4.5, 6.0, "from memory"),
    (195.0, 65.0, 15.0, 5.5, 7.0, "trade list (tyresizecalculator.com)"),
    (205.0, 60.0, 15.0, 5.5, 7.5, "from memory"),
];

/// How a tyre sits on a rim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// The tyre's range.
    pub range: RimRange,
    /// From the rim to the nearer edge of the range: nil on the edge, negative outside.
    pub margin: Length,
    /// Where the rim lies.
    pub verdict: Verdict,
    /// The tyre is wider than the rim carries well, listed or not: see [`widest_sensible`].
    pub too_wide: bool,
    /// It is the size that the car was made with, which goes before any list.
    pub original: bool,
}

/// The range of rims for a size that is not listed: a share of the section width that grows as the tyre gets lower,
/// rounded to half inches. It gives back every listed range, and the first three rims of the ETRTO list for the 80
/// series.
#[must_use]
pub fn by_rule(size: Size) -> RimRange {
    let (least, greatest) = match size.ratio {
        ratio if ratio >= 0.73 => (0.62, 0.85),
        ratio if ratio >= 0.68 => (0.62, 0.83),
        ratio if ratio >= 0.48 => (0.70, 0.92),
        _ => (0.78, 0.96),
    };
    let half_inches = |share: f64| Length::of(libm::round(size.width.to(Unit::Inch) * share * 2.0) / 2.0, Unit::Inch);
    RimRange { least: half_inches(least), greatest: half_inches(greatest), basis: Basis::Rule }
}

/// The range of rims for a tyre.
///
/// # Errors
/// [`SizeError`] for a letter size.
pub fn range(tyre: &Designation) -> Result<RimRange, SizeError> {
    let size = size(tyre)?;
    let listed = LISTED.iter().find(|(width, ratio, rim, ..)| {
        matches!(tyre.section, Section::Metric { .. })
            && near(size.width.to(Unit::Millimetre), *width)
            && near(size.ratio * 100.0, *ratio)
            && near(tyre.rim.to(Unit::Inch), *rim)
    });
    Ok(match listed {
        Some((_, _, _, least, greatest, source)) => RimRange {
            least: Length::of(*least, Unit::Inch),
            greatest: Length::of(*greatest, Unit::Inch),
            basis: Basis::Listed(source),
        },
        None => by_rule(size),
    })
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

/// The widest tyre that a rim carries well: 1.4 times its width, 195 mm on a rim of 5.5 in (common practice, no
/// source; the ratio-blind chart of wheelmeasure.com ends at the same 195).
#[must_use]
pub fn widest_sensible(rim_width: Length) -> Length {
    Length(1.4 * rim_width.0)
}

/// How a tyre sits on a rim of this width between the flanges.
///
/// # Errors
/// [`RimError`] if the width is no rim's or the tyre's size states none.
pub fn fit(tyre: &Designation, rim_width: Length, original: Option<&Designation>) -> Result<Fit, RimError> {
    if !(2.5..=14.0).contains(&rim_width.to(Unit::Inch)) {
        return Err(RimError::Width);
    }
    let range = range(tyre).map_err(RimError::Size)?;
    let size = size(tyre).map_err(RimError::Size)?;
    let margin = (rim_width.0 - range.least.0).min(range.greatest.0 - rim_width.0);
    Ok(Fit {
        range,
        margin: Length(margin),
        verdict: Verdict::of(rim_width.0, Some(range.least.0), Some(range.greatest.0)),
        too_wide: size.width > widest_sensible(rim_width),
        original: original.is_some_and(|original| same_size(tyre, original)),
    })
}

/// Whether two tyres have the same size, whatever load, speed and purpose they have.
fn same_size(one: &Designation, other: &Designation) -> bool {
    match (size(one), size(other)) {
        (Ok(this), Ok(that)) => {
            let close = |a: f64, b: f64| (a - b).abs() < 1e-6;
            close(this.width.0, that.width.0) && close(this.ratio, that.ratio) && close(one.rim.0, other.rim.0)
        }
        _ => false,
    }
}

/// Lays down the least margin of the fitted tyres and what there is to say about each.
pub(in crate::readings) fn read(
    desk: &mut Desk,
    fitted: &[(&'static str, Designation)],
    original: Option<&Designation>,
    rim_width: Length,
) {
    let mut least: Option<f64> = None;
    for (place, tyre) in fitted {
        let fit = match fit(tyre, rim_width, original) {
            Ok(fit) => fit,
            Err(error @ RimError::Width) => {
                desk.problem("rim-width", error.phrase());
                return;
            }
            Err(RimError::Size(_)) => continue,
        };
        least = Some(least.map_or(fit.margin.0, |least| least.min(fit.margin.0)));
        note(desk, place, fit);
    }
    if let Some(margin) = least {
        desk.result("rim-margin", margin);
    }
}

fn note(desk: &mut Desk, place: &str, fit: Fit) {
    let which = if place == "front" { "Front tyre" } else { "Rear tyre" };
    let inches = |width: Length| crate::units::Unit::Inch.show_plain(width.0, crate::units::NumberStyle::POINT);
    let (least, greatest) = (inches(fit.range.least), inches(fit.range.greatest));
    let source = match fit.range.basis {
        Basis::Listed(source) => source,
        Basis::Rule => "by rule, no list",
    };
    match fit.verdict {
        _ if fit.original => {
            desk.note(phrase!("{0}: the size that the car was made with, which is to be preferred.", which));
        }
        Verdict::Below => desk.note(phrase!(
            "{0}: the rim is too narrow; this size belongs on {1} to {2} in ({3}).",
            which,
            least,
            greatest,
            source
        )),
        Verdict::Above => desk.note(phrase!(
            "{0}: the rim is too wide; this size belongs on {1} to {2} in ({3}).",
            which,
            least,
            greatest,
            source
        )),
        Verdict::AtTheEdge => desk.note(phrase!(
            "{0}: the rim is at the edge of {1} to {2} in ({3}); the original size is to be \
             preferred.",
            which,
            least,
            greatest,
            source
        )),
        Verdict::Within => {}
    }
    if fit.too_wide && !fit.original {
        desk.note(phrase!("{0}: wider than this rim carries well, whatever the lists allow (common practice).", which));
    }
}
