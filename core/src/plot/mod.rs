//! Pictures of figures: what is drawn and where, in fractions of the drawing, with axes, words and the table
//! behind it. Screens and reports only give it size and ink.

pub mod sales;
pub mod scale;
pub mod ticks;

/// A place in the drawing: 0 to 1 from the left, and 0 to 1 from the bottom.
pub type Point = (f64, f64);

/// A tick of an axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Tick {
    /// Where, 0 to 1 along the axis.
    pub at: f64,
    /// What stands beside it.
    pub label: String,
}

/// An axis.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Axis {
    /// What it measures, and in which unit if the labels do not say.
    pub title: String,
    /// Its ticks, from its start.
    pub ticks: Vec<Tick>,
}

/// How a mark is drawn; told apart by form, not by colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// A filled disc.
    Disc,
    /// A ring.
    Ring,
}

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Marks at places.
    Marks(Mark, Vec<Point>),
    /// Thin lines from place to place.
    Stems(Vec<(Point, Point)>),
    /// A line through places.
    Line(Vec<Point>),
    /// A range along the first axis: thin between its ends, thick between its inner ends, struck at its middle.
    Range {
        /// Place on the second axis.
        across: f64,
        /// Low end, inner low end, middle, inner high end, high end, on the first axis.
        ends: [f64; 5],
    },
    /// The same along the second axis.
    Upright {
        /// Place on the first axis.
        across: f64,
        /// Its ends, on the second axis.
        ends: [f64; 5],
    },
}

/// One thing in the drawing, with its name for the key; what has none belongs to the thing after it.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// What it is.
    pub name: &'static str,
    /// How it is drawn.
    pub shape: Shape,
}

/// A picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// What it shows.
    pub title: &'static str,
    /// What is to be seen in it, in a sentence or two, for those who cannot see it.
    pub description: String,
    /// The axis from left to right.
    pub x: Axis,
    /// The axis upward.
    pub y: Axis,
    /// How many lanes lie above each other, where the drawing is made of lanes.
    pub lanes: Option<usize>,
    /// What is drawn, in order.
    pub series: Vec<Series>,
    /// What is not in it and why; may be empty.
    pub note: String,
    /// Heads of the table behind it.
    pub head: Vec<&'static str>,
    /// Its rows; the first cell names the row.
    pub rows: Vec<Vec<String>>,
}
