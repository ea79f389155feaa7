//! One file a screen, or a folder where it has parts of its own. What two screens share is in `part`.

pub mod arrivals;
pub mod blank;
pub mod car;
pub mod checks;
pub mod compare;
pub mod departures;
pub mod first_steps;
pub mod hand_over;
pub mod lamps;
pub mod ledger;
pub mod plan;
pub mod receipts;
pub mod received;
pub mod sales;
pub mod seal;
pub mod settings;
pub mod sheets;
pub mod shelf;
pub mod worth;
