//! What a column of a table of sales can hold, and how it is guessed from its head.

/// Bytes of the longest text that is taken for a head, which is a few words.
const LONGEST: usize = 100;

/// A part of a sale, as a column of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Heading {
    /// When it was sold, or seen on offer.
    Date,
    /// The price.
    Price,
    /// Currency of the price.
    Currency,
    /// How the price came about.
    Kind,
    /// Mileage.
    Mileage,
    /// Condition, 0 to 100.
    Condition,
    /// How the condition is known.
    ConditionKnown,
    /// Departures from standard.
    Departures,
    /// Where the sale is known from.
    Source,
    /// Whether it is left out.
    LeftOut,
    /// Why, or why it is kept.
    Reason,
    /// Id of the sale.
    Id,
}

impl Heading {
    /// Every heading, in the order of an exported table.
    pub const ALL: [Self; 12] = [
        Self::Date,
        Self::Price,
        Self::Currency,
        Self::Kind,
        Self::Mileage,
        Self::Condition,
        Self::ConditionKnown,
        Self::Departures,
        Self::Source,
        Self::LeftOut,
        Self::Reason,
        Self::Id,
    ];

    /// The heading as it is shown and exported.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Date => "date",
            Self::Price => "price",
            Self::Currency => "currency",
            Self::Kind => "kind",
            Self::Mileage => "mileage",
            Self::Condition => "condition",
            Self::ConditionKnown => "condition known from",
            Self::Departures => "departures",
            Self::Source => "source",
            Self::LeftOut => "left out",
            Self::Reason => "reason",
            Self::Id => "id",
        }
    }

    /// Words that a head of the column may have, beside its name.
    const fn words(self) -> &'static [&'static str] {
        match self {
            Self::Date => &["sold on", "day", "when", "sale date", "auction date"],
            Self::Price => &["hammer", "amount", "asking", "sold for", "paid", "result", "cost", "value"],
            Self::Currency => &["ccy"],
            Self::Kind => &["type", "basis", "how sold", "sale type"],
            Self::Mileage => &["miles", "mile", "km", "kilometres", "odometer", "distance", "reading"],
            Self::Condition => &["score", "state"],
            Self::ConditionKnown => &["seen", "known", "inspected"],
            Self::Departures => &["changes", "modifications", "specification", "spec"],
            Self::Source => &["lot", "seller", "where", "house", "reference", "link", "note", "notes"],
            Self::LeftOut => &["excluded", "exclude", "omit"],
            Self::Reason => &["why", "because"],
            Self::Id => &["identifier"],
        }
    }

    /// What a head says that its column holds: by its whole text first, then by any word in it.
    #[must_use]
    pub fn of(head: &str) -> Option<Self> {
        if head.len() > LONGEST {
            return None;
        }
        let head: String =
            head.chars().map(|sign| if sign.is_alphanumeric() { sign.to_ascii_lowercase() } else { ' ' }).collect();
        let words: Vec<&str> = head.split_whitespace().collect();
        let whole = words.join(" ");
        let named = |heading: &Self, text: &str| heading.name() == text || heading.words().contains(&text);
        let by_whole = Self::ALL.into_iter().find(|heading| named(heading, &whole));
        // The longer names go first, so that "condition known" is not taken for the condition.
        let by_part = || Self::ALL.into_iter().rev().find(|heading| words.iter().any(|word| named(heading, word)));
        by_whole.or_else(by_part)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn means(head: &str, want: Option<Heading>) {
        assert_eq!(Heading::of(head), want, "{head:?}");
    }

    #[test]
    fn a_long_text_is_no_head() {
        means(&format!("date{}", " ".repeat(LONGEST - 4)), Some(Heading::Date));
        means(&format!("date{}", " ".repeat(LONGEST - 3)), None);
    }

    #[test]
    fn every_exported_head_is_found() {
        for heading in Heading::ALL {
            means(heading.name(), Some(heading));
        }
    }

    #[test]
    fn heads_that_people_write() {
        means("Sale date", Some(Heading::Date));
        means("Hammer price (GBP)", Some(Heading::Price));
        means("Mileage (mi)", Some(Heading::Mileage));
        means("km", Some(Heading::Mileage));
        means("  SOLD FOR ", Some(Heading::Price));
        means("Lot", Some(Heading::Source));
        means("colour", None);
        means("", None);
        means("2025-08-23", None);
    }
}
