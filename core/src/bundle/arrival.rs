//! What taking something in would change.

use crate::ledger::Ledger;
use crate::worksheet::Sale;

/// What comes in, beside what is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Arrival {
    /// It is not there yet.
    New,
    /// It is there, word for word.
    Same,
    /// It is there with other content.
    Differs,
}

impl Arrival {
    /// What comes in, beside what is there under its id.
    pub fn of<T: PartialEq>(comes: &T, there: Option<&T>) -> Self {
        match there {
            None => Self::New,
            Some(there) if there == comes => Self::Same,
            Some(_) => Self::Differs,
        }
    }

    /// As it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Same => "already here, the same",
            Self::Differs => "already here, different",
        }
    }
}

/// The ledger's sales that are not in another by their ids; the others stay as they are there.
#[must_use]
pub fn sales_to_add(comes: &Ledger, there: &Ledger) -> Vec<Sale> {
    let is_there = |id: &str| there.sales.iter().any(|sale| sale.id == id);
    comes.sales.iter().filter(|sale| !is_there(&sale.id)).cloned().collect()
}
