//! What each rule derives: one table, by the names that sheets' limits use.

use crate::sheet::ReadingSpec;
use crate::units::Quantity;

use super::Rule;
use super::input::own_quantity;

/// One result of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ResultSpec {
    /// The name by which limits speak of it.
    pub name: &'static str,
    /// What to show beside it.
    pub label: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// It is a difference of two values: of two temperatures, a difference of 20 K is 20 °C and not −253 °C.
    pub difference: bool,
}

impl ResultSpec {
    const fn new(name: &'static str, label: &'static str, quantity: Quantity) -> Self {
        Self { name, label, quantity, difference: false }
    }

    const fn difference(self) -> Self {
        Self { difference: true, ..self }
    }
}

/// What a reading of a sheet derives, as for [`inputs_of`](super::input::inputs_of).
#[must_use]
pub fn results_of(spec: &ReadingSpec) -> Vec<ResultSpec> {
    let own = own_quantity(spec);
    spec.rule
        .results()
        .iter()
        .map(|result| ResultSpec { quantity: own.unwrap_or(result.quantity), ..*result })
        .collect()
}

impl Rule {
    /// What it derives, in SI units. As for [`Rule::inputs`], [`results_of`] puts in the sheet's own quantity.
    #[must_use]
    pub const fn results(self) -> &'static [ResultSpec] {
        use Quantity as Q;
        type R = ResultSpec;
        match self {
            Self::Plain => const { &[R::new("value", "Value", Q::Ratio)] },
            Self::EachWheel => {
                const {
                    &[
                        R::new("front-left", "Front left", Q::Ratio),
                        R::new("front-right", "Front right", Q::Ratio),
                        R::new("rear-left", "Rear left", Q::Ratio),
                        R::new("rear-right", "Rear right", Q::Ratio),
                        R::new("least", "Least", Q::Ratio),
                        R::new("greatest", "Greatest", Q::Ratio),
                        R::new("side-difference", "Difference from side to side", Q::Ratio).difference(),
                        R::new("rake", "Rear above front", Q::Ratio).difference(),
                    ]
                }
            }
            Self::TyreSize => {
                const {
                    &[
                        R::new("rim-margin", "Rim inside the tyre's range by", Q::Length),
                        R::new("against-original", "Diameter against the original", Q::Ratio),
                        R::new("front-to-rear", "Front diameter against rear", Q::Ratio),
                    ]
                }
            }
            Self::TyreLoad => {
                const {
                    &[
                        R::new("load-margin", "Load borne against load", Q::Ratio),
                        R::new("speed-margin", "Speed allowed against top speed", Q::Ratio),
                    ]
                }
            }
            Self::TyreAge => const { &[R::new("greatest-age", "Age of the oldest tyre", Q::Age)] },
            Self::FreePlay => {
                const {
                    &[
                        R::new("play-angle", "Free play", Q::Angle),
                        R::new("over-limit", "Beyond the published limit by", Q::Length),
                    ]
                }
            }
            Self::Camber => {
                const {
                    &[
                        R::new("left", "Camber, left", Q::Angle),
                        R::new("right", "Camber, right", Q::Angle),
                        R::new("side-difference", "Difference from side to side", Q::Angle),
                    ]
                }
            }
            Self::Toe => {
                const {
                    &[
                        R::new("toe", "Toe-in of both wheels", Q::Angle),
                        R::new("toe-length", "Toe-in as a length", Q::Length),
                        R::new("against-specified", "Toe against the maker's figure", Q::Ratio),
                    ]
                }
            }
            Self::Stop => {
                const {
                    &[
                        R::new("deceleration", "Mean deceleration", Q::Acceleration),
                        R::new("efficiency", "Braking efficiency", Q::Ratio),
                    ]
                }
            }
            Self::PedalReserve => const { &[R::new("used", "Pedal travel used", Q::Ratio)] },
            Self::BatteryRest => {
                const {
                    &[
                        R::new("charge", "Charge", Q::Ratio),
                        R::new("voltage-at-reference", "Voltage at 26.7 °C (80 °F)", Q::Voltage),
                    ]
                }
            }
            Self::Charging => const { &[R::new("voltage", "Charging voltage", Q::Voltage)] },
            Self::Compression => {
                const {
                    &[
                        R::new("least", "Lowest cylinder", Q::Pressure),
                        R::new("greatest", "Highest cylinder", Q::Pressure),
                        R::new("ratio", "Lowest against highest", Q::Ratio),
                        R::new("wet-gain", "Gain of the lowest with oil", Q::Ratio),
                        R::new("neighbours-low", "Two neighbours low together", Q::Count),
                    ]
                }
            }
            Self::LeakDown => const { &[R::new("greatest-loss", "Greatest loss", Q::Ratio)] },
            Self::PaintFilm => {
                const {
                    &[
                        R::new("median", "Median film", Q::Film),
                        R::new("greatest", "Thickest film", Q::Film),
                        R::new("greatest-ratio", "Thickest against median", Q::Ratio),
                    ]
                }
            }
            Self::ChassisNumber => const { &[R::new("check-digit-wrong", "Check digit wrong", Q::Count)] },
            Self::Counter => {
                const {
                    &[
                        R::new("likely", "Likely distance", Q::Distance),
                        R::new("per-year", "Distance a year", Q::Distance),
                        R::new("against-typical", "Against typical use", Q::Ratio),
                    ]
                }
            }
            Self::Idle => const { &[R::new("idle", "Idle", Q::Rotation)] },
            Self::Speedometer => {
                const {
                    &[
                        R::new("over", "Reads high by", Q::Speed),
                        R::new("over-allowance", "Beyond the allowance by", Q::Speed),
                        R::new("under", "Reads low by", Q::Speed),
                    ]
                }
            }
            Self::Gearing => {
                const {
                    &[
                        R::new("per-thousand", "Road speed at 1000 rpm", Q::Speed),
                        R::new("road-speed", "Road speed", Q::Speed),
                    ]
                }
            }
            Self::OilPressure => {
                const {
                    &[
                        R::new("hot-idle", "Hot, at idle", Q::Pressure),
                        R::new("hot-running", "Hot, at road speed", Q::Pressure),
                        R::new("drop", "Lost from cold to hot, running", Q::Pressure),
                    ]
                }
            }
            Self::Consumption => {
                const {
                    &[
                        R::new("per-distance", "Used in 100 km", Q::Volume),
                        R::new("consumption", "Fuel consumption", Q::Consumption),
                    ]
                }
            }
        }
    }
}
