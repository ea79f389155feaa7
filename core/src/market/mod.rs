//! The market: sales, the grid, the range.
