//! Tags: how a car is built, in so far as it switches checks and faults on and off.

use serde::Serialize;

use crate::restore::words;

/// One way of building a car. Tags come in groups of alternatives ([`Tag::group`]).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)] // `name` says each in full
pub enum Tag {
    AirCooled,
    WaterCooled,
    Carburettor,
    Injection,
    ContactPoints,
    ElectronicIgnition,
    FrontEngine,
    MidEngine,
    RearEngine,
    LiveAxle,
    IndependentRear,
    DrumBrakes,
    DiscBrakes,
    OpenBody,
    ClosedBody,
    SeparateFrame,
    UnitaryBody,
    SixVolt,
    TwelveVolt,
    PositiveEarth,
    NegativeEarth,
    Dynamo,
    Alternator,
    ManualGearbox,
    AutomaticGearbox,
    RackSteering,
    SteeringBox,
}

// Every tag, group by group.
words! { Tag {
    AirCooled, WaterCooled, Carburettor, Injection, ContactPoints, ElectronicIgnition, FrontEngine, MidEngine,
    RearEngine, LiveAxle, IndependentRear, DrumBrakes, DiscBrakes, OpenBody, ClosedBody, SeparateFrame, UnitaryBody,
    SixVolt, TwelveVolt, PositiveEarth, NegativeEarth, Dynamo, Alternator, ManualGearbox, AutomaticGearbox,
    RackSteering, SteeringBox,
} }

/// Tags that answer the same question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)] // `name` says each in full
pub enum TagGroup {
    Cooling,
    Mixture,
    Ignition,
    EnginePlace,
    RearAxle,
    Brakes,
    Body,
    Frame,
    Voltage,
    Earth,
    Generator,
    Gearbox,
    Steering,
}

impl TagGroup {
    /// Every group, in the order in which they are asked.
    pub const ALL: [Self; 13] = [
        Self::Body,
        Self::Frame,
        Self::EnginePlace,
        Self::Cooling,
        Self::Mixture,
        Self::Ignition,
        Self::Gearbox,
        Self::RearAxle,
        Self::Brakes,
        Self::Steering,
        Self::Voltage,
        Self::Earth,
        Self::Generator,
    ];

    /// The question that the group answers.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cooling => "Cooling",
            Self::Mixture => "Mixture",
            Self::Ignition => "Ignition",
            Self::EnginePlace => "Engine",
            Self::RearAxle => "Rear axle",
            Self::Brakes => "Brakes",
            Self::Body => "Body",
            Self::Frame => "Structure",
            Self::Voltage => "Voltage",
            Self::Earth => "Earth",
            Self::Generator => "Generator",
            Self::Gearbox => "Gearbox",
            Self::Steering => "Steering",
        }
    }

    /// Its tags.
    pub fn tags(self) -> impl Iterator<Item = Tag> {
        Tag::ALL.into_iter().filter(move |tag| tag.group() == self)
    }

    /// Whether a car can have several of its tags at once: discs in front and drums behind.
    #[must_use]
    pub const fn takes_several(self) -> bool {
        matches!(self, Self::Brakes)
    }
}

impl Tag {
    /// The question that it answers.
    #[must_use]
    pub const fn group(self) -> TagGroup {
        match self {
            Self::AirCooled | Self::WaterCooled => TagGroup::Cooling,
            Self::Carburettor | Self::Injection => TagGroup::Mixture,
            Self::ContactPoints | Self::ElectronicIgnition => TagGroup::Ignition,
            Self::FrontEngine | Self::MidEngine | Self::RearEngine => TagGroup::EnginePlace,
            Self::LiveAxle | Self::IndependentRear => TagGroup::RearAxle,
            Self::DrumBrakes | Self::DiscBrakes => TagGroup::Brakes,
            Self::OpenBody | Self::ClosedBody => TagGroup::Body,
            Self::SeparateFrame | Self::UnitaryBody => TagGroup::Frame,
            Self::SixVolt | Self::TwelveVolt => TagGroup::Voltage,
            Self::PositiveEarth | Self::NegativeEarth => TagGroup::Earth,
            Self::Dynamo | Self::Alternator => TagGroup::Generator,
            Self::ManualGearbox | Self::AutomaticGearbox => TagGroup::Gearbox,
            Self::RackSteering | Self::SteeringBox => TagGroup::Steering,
        }
    }

    /// The tag as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::AirCooled => "air-cooled",
            Self::WaterCooled => "water-cooled",
            Self::Carburettor => "carburettor",
            Self::Injection => "injection",
            Self::ContactPoints => "contact points",
            Self::ElectronicIgnition => "electronic",
            Self::FrontEngine => "front",
            Self::MidEngine => "mid",
            Self::RearEngine => "rear",
            Self::LiveAxle => "live axle",
            Self::IndependentRear => "independent",
            Self::DrumBrakes => "drums",
            Self::DiscBrakes => "discs",
            Self::OpenBody => "open",
            Self::ClosedBody => "closed",
            Self::SeparateFrame => "body on frame",
            Self::UnitaryBody => "unitary",
            Self::SixVolt => "6 V",
            Self::TwelveVolt => "12 V",
            Self::PositiveEarth => "positive earth",
            Self::NegativeEarth => "negative earth",
            Self::Dynamo => "dynamo",
            Self::Alternator => "alternator",
            Self::ManualGearbox => "manual",
            Self::AutomaticGearbox => "automatic",
            Self::RackSteering => "rack",
            Self::SteeringBox => "box",
        }
    }
}

/// Whether something that applies `when` these tags fit applies to a car that `has` those.
///
/// Tags of one group are alternatives; every group named must fit. A group that the car says nothing about
/// does not exclude: what is not known is looked at.
#[must_use]
pub fn applies(when: &[Tag], has: &[Tag]) -> bool {
    when.iter().all(|wanted| {
        let group = wanted.group();
        let known = has.iter().any(|tag| tag.group() == group);
        !known || when.iter().any(|alternative| alternative.group() == group && has.contains(alternative))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_group_is_alternatives_and_groups_must_all_fit() {
        let when = [Tag::FrontEngine, Tag::MidEngine, Tag::WaterCooled];
        assert!(applies(&when, &[Tag::MidEngine, Tag::WaterCooled]));
        assert!(!applies(&when, &[Tag::RearEngine, Tag::WaterCooled]));
        assert!(!applies(&when, &[Tag::FrontEngine, Tag::AirCooled]));
    }

    #[test]
    fn what_is_not_known_is_looked_at() {
        assert!(applies(&[Tag::AirCooled], &[]));
        assert!(applies(&[Tag::AirCooled], &[Tag::OpenBody]));
    }

    #[test]
    fn a_car_may_have_both_kinds_of_brake() {
        assert!(applies(&[Tag::DrumBrakes], &[Tag::DiscBrakes, Tag::DrumBrakes]));
    }

    #[test]
    fn every_tag_is_in_all_and_every_group_has_tags() {
        for group in TagGroup::ALL {
            assert!(group.tags().count() >= 2, "{group:?}");
        }
    }
}
