//! The market: from a handful of comparable sales to a range, and to the grid that shows how it came about.
//!
//! The order of the work: [`rates`] say what a difference is worth, as far as is known before any sale is
//! looked at; [`imputed`] turns sales and car into differences and says how sure each is; [`fit`] weighs them;
//! [`grid`] lays the result out as lines that a person can add up; [`ratio_study`] tries the method on the
//! sales themselves and [`measures`] sets its figures against published bounds; [`diagnostics`] says what to be wary
//! of, and [`tried`] how far the range can be trusted.
//!
//! Prices are plain numbers here, in any one unit (the app uses minor units of one currency); all logarithms
//! are natural.

pub mod diagnostics;
pub mod fit;
pub mod grid;
pub mod imputed;
pub mod measures;
pub mod range;
pub mod rates;
pub mod ratio_study;
mod rounds;
pub mod tried;
mod warning;
