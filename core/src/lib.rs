//! Kerbworth's judgement: what is wrong with one older car, whether it is safe to drive, what it costs to put right and
//! what it is worth as it stands, each with its working.
//!
//! Pure: no input or output, no clock, no chance, and the same digits on every machine. A [`worksheet::Worksheet`] holds
//! what a person recorded, a [`sheet::TypeSheet`] what is known of the kind of car; [`appraise::appraise`] makes the
//! [`appraise::Appraisal`] of both, and [`hand_over`] puts it into words.
//!
//! ```
//! use kerbworth_core::appraise::appraise;
//! use kerbworth_core::grade::Grade;
//! use kerbworth_core::sheet::general;
//! use kerbworth_core::worksheet::{Edit, Finding, Look, Seen, Worksheet};
//!
//! let sheet = general::general()?;
//! let mut worksheet = Worksheet::default();
//! let check = sheet.checks.iter().find(|check| check.before_driving).ok_or("some come before any drive")?;
//! let sign = check.signs.first().ok_or("every check has signs")?;
//! let finding = Finding {
//!     look: Some(Look::Grade(Grade::Serious)),
//!     signs: [(sign.id.clone(), Seen::Yes)].into(),
//!     ..Finding::default()
//! };
//! Edit::Finding(check.id.clone(), Some(Box::new(finding))).apply(&mut worksheet);
//!
//! let appraisal = appraise(&worksheet, &sheet);
//! let (before, after) = (appraise(&Worksheet::default(), &sheet), &appraisal);
//! assert!(after.repairs.found.middle > before.repairs.found.middle, "what was seen costs something");
//! assert!(after.worth.is_none(), "and a worth needs comparable sales");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod appraise;
pub mod bid;
pub mod bundle;
pub mod condition;
pub mod figure;
pub mod grade;
pub mod hand_over;
pub mod lamps;
pub mod ledger;
pub mod link;
pub mod market;
pub mod merge;
mod ordered;
pub mod parcel;
pub mod phrase;
pub mod plot;
pub mod qr;
pub mod readings;
pub mod reason;
pub mod repair;
pub mod restore;
#[cfg(feature = "schema")]
pub mod schema;
pub mod seal;
pub mod sheet;
pub mod show;
pub mod statistics;
pub mod steps;
pub mod units;
pub mod walk;
pub mod worksheet;
pub mod worth;
