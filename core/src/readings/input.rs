//! What each rule asks for: one table, by the names that worksheets use.

use crate::sheet::ReadingSpec;
use crate::units::{Quantity, Unit};

use super::Rule;

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Takes {
    /// One measured value.
    Number(Quantity),
    /// Several values of one kind, such as a pressure for each cylinder.
    Numbers(Quantity),
    /// A text as it stands on the car, such as a tyre's size.
    Text,
}

impl Takes {
    /// What is measured; nothing for a text.
    #[must_use]
    pub const fn quantity(self) -> Option<Quantity> {
        match self {
            Self::Number(quantity) | Self::Numbers(quantity) => Some(quantity),
            Self::Text => None,
        }
    }
}

/// One field of a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InputSpec {
    /// The name under which a [`Reading`](super::Reading) keeps it.
    pub name: &'static str,
    /// What to show beside the field.
    pub label: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Whether the reading can do without it.
    pub optional: bool,
    /// Whether it can be below nothing though its quantity cannot: a toe, given as a length.
    signed: bool,
    /// The metric and the imperial unit that suit this field, where the usual ones of its quantity do not: a
    /// stopping distance is a length, and nobody measures it in millimetres.
    pub own_units: Option<(Unit, Unit)>,
}

impl InputSpec {
    const fn number(name: &'static str, label: &'static str, quantity: Quantity) -> Self {
        Self { name, label, takes: Takes::Number(quantity), optional: false, signed: false, own_units: None }
    }

    const fn numbers(name: &'static str, label: &'static str, quantity: Quantity) -> Self {
        Self { name, label, takes: Takes::Numbers(quantity), optional: false, signed: false, own_units: None }
    }

    const fn text(name: &'static str, label: &'static str) -> Self {
        Self { name, label, takes: Takes::Text, optional: false, signed: false, own_units: None }
    }

    const fn optional(self) -> Self {
        Self { optional: true, ..self }
    }

    const fn signed(self) -> Self {
        Self { signed: true, ..self }
    }

    /// Whether a value below nothing may be meant: the number pads of some phones have no minus.
    #[must_use]
    pub const fn takes_minus(&self) -> bool {
        self.signed || matches!(self.takes, Takes::Number(Quantity::Angle | Quantity::Temperature))
    }

    const fn in_units(self, metric: Unit, imperial: Unit) -> Self {
        Self { own_units: Some((metric, imperial)), ..self }
    }
}

/// What a reading of a sheet asks for. For the rules `plain` and `each-wheel` the sheet says what is measured.
#[must_use]
pub fn inputs_of(spec: &ReadingSpec) -> Vec<InputSpec> {
    let own = own_quantity(spec);
    spec.rule
        .inputs()
        .iter()
        .map(|input| match (own, input.takes) {
            (Some(quantity), Takes::Number(_)) => InputSpec { takes: Takes::Number(quantity), ..*input },
            _ => *input,
        })
        .collect()
}

/// The quantity that the sheet chooses, for the rules that leave it to the sheet.
pub(super) fn own_quantity(spec: &ReadingSpec) -> Option<Quantity> {
    matches!(spec.rule, Rule::Plain | Rule::EachWheel).then(|| spec.quantity.unwrap_or(Quantity::Ratio))
}

impl Rule {
    /// What it asks for. The quantity of `plain` and `each-wheel` stands as a ratio here: [`inputs_of`] puts in
    /// the sheet's own.
    #[must_use]
    pub const fn inputs(self) -> &'static [InputSpec] {
        use Quantity as Q;
        type I = InputSpec;
        match self {
            Self::Plain => const { &[I::number("value", "Value", Q::Ratio)] },
            Self::EachWheel => {
                const {
                    &[
                        I::number("front-left", "Front left", Q::Ratio).optional(),
                        I::number("front-right", "Front right", Q::Ratio).optional(),
                        I::number("rear-left", "Rear left", Q::Ratio).optional(),
                        I::number("rear-right", "Rear right", Q::Ratio).optional(),
                    ]
                }
            }
            Self::TyreSize => {
                const {
                    &[
                        I::text("front", "Front tyres"),
                        I::text("rear", "Rear tyres, if they differ").optional(),
                        I::text("original", "Size it was made with").optional(),
                        I::number("rim-width", "Rim width", Q::Length).in_units(Unit::Inch, Unit::Inch).optional(),
                    ]
                }
            }
            Self::TyreLoad => {
                const {
                    &[
                        I::text("designation", "Size with load index and speed symbol"),
                        I::number("axle-mass", "Greatest mass on the axle", Q::Mass).optional(),
                        I::number("top-speed", "Top speed of the car", Q::Speed).optional(),
                    ]
                }
            }
            Self::TyreAge => {
                const {
                    &[
                        I::text("front", "Date codes, front").optional(),
                        I::text("rear", "Date codes, rear").optional(),
                        I::text("spare", "Date code, spare").optional(),
                    ]
                }
            }
            Self::FreePlay => {
                const {
                    &[
                        I::number("play", "Free play along the rim", Q::Length),
                        I::number("wheel-diameter", "Steering wheel diameter", Q::Length),
                    ]
                }
            }
            Self::Camber => {
                const {
                    &[
                        I::number("left", "Left, by angle meter", Q::Angle).optional(),
                        I::number("right", "Right, by angle meter", Q::Angle).optional(),
                        I::number("left-top", "Left, plumb line to rim at the top", Q::Length).optional(),
                        I::number("left-bottom", "Left, plumb line to rim at the bottom", Q::Length).optional(),
                        I::number("right-top", "Right, plumb line to rim at the top", Q::Length).optional(),
                        I::number("right-bottom", "Right, plumb line to rim at the bottom", Q::Length).optional(),
                        I::number("height", "Height between the two points", Q::Length).optional(),
                    ]
                }
            }
            Self::Toe => {
                const {
                    &[
                        I::number("difference", "Wider behind than in front by", Q::Length).signed().optional(),
                        I::number("measured-at", "Diameter at which it was measured", Q::Length).optional(),
                        I::number("angle", "Toe-in of both wheels, by angle", Q::Angle).optional(),
                        I::number("specified", "Maker's figure, as a length", Q::Length).signed().optional(),
                    ]
                }
            }
            Self::Stop => {
                const {
                    &[
                        I::number("speed", "Speed before braking", Q::Speed),
                        I::number("distance", "Distance to stop", Q::Length)
                            .in_units(Unit::Metre, Unit::Foot)
                            .optional(),
                        I::number("time", "Time to stop", Q::Duration).in_units(Unit::Second, Unit::Second).optional(),
                    ]
                }
            }
            Self::PedalReserve => {
                const {
                    &[
                        I::number("free-height", "Pedal to floor, at rest", Q::Length),
                        I::number("pressed-height", "Pedal to floor, pressed hard", Q::Length),
                    ]
                }
            }
            Self::BatteryRest => {
                const {
                    &[
                        I::number("voltage", "Voltage after hours at rest", Q::Voltage),
                        I::number("temperature", "Temperature of the battery", Q::Temperature).optional(),
                    ]
                }
            }
            Self::Charging => {
                const {
                    &[
                        I::number("voltage", "Voltage at the battery, fast idle", Q::Voltage),
                        I::number("temperature", "Temperature of the regulator", Q::Temperature).optional(),
                    ]
                }
            }
            Self::Compression => {
                const {
                    &[
                        I::numbers("dry", "Pressures in cylinder order", Q::Pressure),
                        I::numbers("wet", "Again with a spoonful of oil", Q::Pressure).optional(),
                    ]
                }
            }
            Self::LeakDown => {
                const {
                    &[
                        I::number("supplied", "Pressure supplied", Q::Pressure),
                        I::numbers("held", "Pressure held, in cylinder order", Q::Pressure),
                    ]
                }
            }
            Self::PaintFilm => const { &[I::numbers("film", "Film over the panels", Q::Film)] },
            Self::ChassisNumber => const { &[I::text("number", "Chassis number, as stamped")] },
            Self::Counter => {
                const {
                    &[
                        I::number("shown", "Counter shows", Q::Distance),
                        I::number("digits", "Digits on the counter, without tenths", Q::Count).optional(),
                        I::text("counts-in", "It counts mi or km").optional(),
                        I::number("years", "Age of the car", Q::Age).optional(),
                        I::number("previous", "Last distance that papers show", Q::Distance).optional(),
                    ]
                }
            }
            Self::Idle => {
                const {
                    &[
                        I::number("speed", "Engine speed", Q::Rotation).optional(),
                        I::number("frequency", "Firing frequency", Q::Rotation)
                            .in_units(Unit::Hertz, Unit::Hertz)
                            .optional(),
                        I::number("cylinders", "Cylinders", Q::Count).optional(),
                        I::number("strokes", "Strokes a cycle, 4 if left empty", Q::Count).optional(),
                    ]
                }
            }
            Self::Speedometer => {
                const { &[I::number("shown", "Speed shown", Q::Speed), I::number("actual", "True speed", Q::Speed)] }
            }
            Self::Gearing => {
                const {
                    &[
                        I::text("tyre", "Driven tyres"),
                        I::number("gear", "Gear ratio", Q::Ratio),
                        I::number("final", "Final drive ratio", Q::Ratio),
                        I::number("engine-speed", "Engine speed", Q::Rotation).optional(),
                    ]
                }
            }
            Self::OilPressure => {
                const {
                    &[
                        I::number("cold", "Cold, engine running", Q::Pressure).optional(),
                        I::number("hot-idle", "Hot, at idle", Q::Pressure).optional(),
                        I::number("hot-running", "Hot, at road speed", Q::Pressure).optional(),
                    ]
                }
            }
            Self::Consumption => {
                const {
                    &[
                        I::number("distance", "Distance driven", Q::Distance),
                        I::number("volume", "Fuel or oil used", Q::Volume),
                    ]
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_within_a_rule() {
        for rule in Rule::ALL {
            let mut inputs: Vec<_> = rule.inputs().iter().map(|input| input.name).collect();
            let mut results: Vec<_> = rule.results().iter().map(|result| result.name).collect();
            for names in [&mut inputs, &mut results] {
                let count = names.len();
                names.sort_unstable();
                names.dedup();
                assert_eq!(names.len(), count, "{rule:?}");
                assert!(count > 0, "{rule:?}");
            }
        }
    }

    #[test]
    fn units_of_a_field_belong_to_its_quantity() {
        for input in Rule::ALL.iter().flat_map(|rule| rule.inputs()) {
            if let Some((metric, imperial)) = input.own_units {
                assert_eq!(Some(metric.quantity()), input.takes.quantity(), "{}", input.name);
                assert_eq!(Some(imperial.quantity()), input.takes.quantity(), "{}", input.name);
            }
        }
    }
}
