//! Choices of a sheet's entries: what can be chosen, and what each choice is called.

use crate::grade::Grade;
use crate::readings::Rule;
use crate::sheet::{Caution, Driving, MarketShare, Need, Stage, System, Tag, TagGroup};
use crate::units::Quantity;

/// A closed list of choices.
pub(super) trait Listed: Copy + PartialEq + 'static {
    /// All of them with their names, in the order in which they are offered.
    fn all() -> Vec<(Self, &'static str)>;

    /// The heading under which it is offered; blank for none.
    fn group(self) -> &'static str {
        ""
    }
}

fn named<T: Copy>(all: &[T], name: fn(T) -> &'static str) -> Vec<(T, &'static str)> {
    all.iter().map(|one| (*one, name(*one))).collect()
}

impl Listed for Stage {
    fn all() -> Vec<(Self, &'static str)> {
        named(&Self::ALL, Self::name)
    }
}

impl Listed for System {
    fn all() -> Vec<(Self, &'static str)> {
        named(&Self::ALL, Self::name)
    }
}

impl Listed for Grade {
    fn all() -> Vec<(Self, &'static str)> {
        named(&Self::ALL, Self::word)
    }
}

impl Listed for Need {
    fn all() -> Vec<(Self, &'static str)> {
        named(&Self::ALL, Self::name)
    }
}

impl Listed for Caution {
    fn all() -> Vec<(Self, &'static str)> {
        named(&Self::ALL, Self::sentence)
    }
}

impl Listed for Tag {
    fn all() -> Vec<(Self, &'static str)> {
        TagGroup::ALL.into_iter().flat_map(TagGroup::tags).map(|tag| (tag, tag.name())).collect()
    }

    fn group(self) -> &'static str {
        Self::group(self).name()
    }
}

impl Listed for Driving {
    fn all() -> Vec<(Self, &'static str)> {
        vec![(Self::Yes, "as usual"), (Self::Care, "gently and not far"), (Self::No, "not until it is put right")]
    }
}

impl Listed for MarketShare {
    fn all() -> Vec<(Self, &'static str)> {
        vec![
            (Self::Safety, "all of it: safety and structure"),
            (Self::Mechanical, "three quarters: mechanical"),
            (Self::Trim, "half: trim and finish"),
        ]
    }
}

impl Listed for Rule {
    fn all() -> Vec<(Self, &'static str)> {
        named(&Self::ALL, |rule| match rule {
            Self::Plain => "one value",
            Self::EachWheel => "a value at each wheel",
            Self::TyreSize => "tyre sizes",
            Self::TyreLoad => "tyre load and speed",
            Self::TyreAge => "tyre age codes",
            Self::FreePlay => "free play of the steering",
            Self::Camber => "camber",
            Self::Toe => "toe",
            Self::Stop => "measured stop",
            Self::PedalReserve => "pedal travel",
            Self::BatteryRest => "battery at rest",
            Self::Charging => "charging",
            Self::Compression => "compression",
            Self::LeakDown => "leak-down",
            Self::PaintFilm => "paint film",
            Self::ChassisNumber => "chassis number",
            Self::Counter => "mileage counter",
            Self::Idle => "idle",
            Self::Speedometer => "speedometer",
            Self::Gearing => "gearing",
            Self::OilPressure => "oil pressure",
            Self::Consumption => "consumption",
        })
    }
}

impl Listed for Quantity {
    fn all() -> Vec<(Self, &'static str)> {
        use Quantity as Q;
        vec![
            (Q::Length, "length"),
            (Q::Film, "paint film"),
            (Q::Distance, "distance driven"),
            (Q::Angle, "angle"),
            (Q::Pressure, "pressure"),
            (Q::Voltage, "voltage"),
            (Q::Temperature, "temperature"),
            (Q::Speed, "speed"),
            (Q::Acceleration, "acceleration"),
            (Q::Rotation, "speed of rotation"),
            (Q::Duration, "time by the watch"),
            (Q::Age, "age"),
            (Q::Mass, "mass"),
            (Q::Volume, "volume"),
            (Q::Consumption, "fuel over a distance"),
            (Q::Ratio, "share or ratio"),
            (Q::Count, "number of things"),
        ]
    }
}

/// A field that holds one choice.
pub(super) trait One {
    /// What can be chosen.
    fn options(&self) -> Vec<&'static str>;
    /// The place of what is chosen.
    fn chosen(&self) -> Option<usize>;
    /// Chooses what is at a place; nothing happens if nothing is there.
    fn choose(&mut self, place: usize);
}

impl<T: Listed> One for T {
    fn options(&self) -> Vec<&'static str> {
        T::all().into_iter().map(|(_, name)| name).collect()
    }

    fn chosen(&self) -> Option<usize> {
        T::all().iter().position(|(one, _)| one == self)
    }

    fn choose(&mut self, place: usize) {
        if let Some((one, _)) = T::all().get(place) {
            *self = *one;
        }
    }
}

/// What a plain reading measures: a ratio where the sheet does not say.
impl One for Option<Quantity> {
    fn options(&self) -> Vec<&'static str> {
        Quantity::Ratio.options()
    }

    fn chosen(&self) -> Option<usize> {
        self.unwrap_or(Quantity::Ratio).chosen()
    }

    fn choose(&mut self, place: usize) {
        self.get_or_insert(Quantity::Ratio).choose(place);
    }
}

/// One of several choices of which any number can be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Choice {
    /// The heading under which it is offered; blank for none.
    pub group: &'static str,
    /// What it is called.
    pub name: &'static str,
    /// Choosing it takes back what was chosen under its heading.
    pub alone: bool,
}

/// A field that holds any number of choices.
pub(super) trait Several {
    /// What can be chosen.
    fn options(&self) -> Vec<Choice>;
    /// The places of what is chosen.
    fn chosen(&self) -> Vec<usize>;
    /// Chooses what is at these places, in the order in which it is offered.
    fn choose(&mut self, places: &[usize]);
}

impl<T: Listed> Several for &mut Vec<T> {
    fn options(&self) -> Vec<Choice> {
        T::all().into_iter().map(|(one, name)| Choice { group: one.group(), name, alone: false }).collect()
    }

    fn chosen(&self) -> Vec<usize> {
        let all = T::all();
        self.iter().filter_map(|chosen| all.iter().position(|(one, _)| one == chosen)).collect()
    }

    fn choose(&mut self, places: &[usize]) {
        let all = T::all().into_iter().enumerate();
        **self = all.filter(|(place, _)| places.contains(place)).map(|(_, (one, _))| one).collect();
    }
}

/// Tags of a car, of which only some groups can have several; tags that choose cars are alternatives.
pub(super) struct OfOneCar<'a>(pub &'a mut Vec<Tag>);

impl Several for OfOneCar<'_> {
    fn options(&self) -> Vec<Choice> {
        let several = |choice: &Choice| {
            TagGroup::ALL.into_iter().any(|group| group.name() == choice.group && group.takes_several())
        };
        self.0.options().into_iter().map(|choice| Choice { alone: !several(&choice), ..choice }).collect()
    }

    fn chosen(&self) -> Vec<usize> {
        self.0.chosen()
    }

    fn choose(&mut self, places: &[usize]) {
        self.0.choose(places);
    }
}
