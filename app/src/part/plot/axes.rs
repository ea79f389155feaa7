//! The frame of a picture: its size, and axes with ticks, labels and titles.

use kerbworth_core::plot::{Axis, Plot, Point};
use leptos::prelude::*;

/// Width of a drawing in its own units: about that of a phone's page, so that letters come out in their size.
const WIDTH: f64 = 400.0;
/// Height of the part that is drawn in, where the picture does not say.
const HEIGHT: f64 = 230.0;
/// Height of a lane.
const LANE: f64 = 22.0;
/// Length of a tick.
const TICK: f64 = 5.0;

/// Where in the drawing the fractions of a picture lie.
pub struct Frame {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
    below: f64,
}

impl Frame {
    /// The little drawing in the key.
    pub const KEY: Self = Self { left: 3.0, top: 2.0, width: 26.0, height: 12.0, below: 2.0 };

    /// The frame that a picture needs; lanes have names, which are longer than amounts.
    pub fn of(plot: &Plot) -> Self {
        let (left, top, height) = match plot.lanes {
            Some(lanes) => (84.0, 6.0, lanes as f64 * LANE),
            None => (62.0, 26.0, HEIGHT),
        };
        Self { left, top, width: WIDTH - left - 18.0, height, below: 46.0 }
    }

    pub fn view_box(&self) -> String {
        format!("0 0 {WIDTH} {}", self.bottom() + self.below)
    }

    /// Where a point lies.
    pub fn at(&self, (x, y): Point) -> (f64, f64) {
        (self.left + x * self.width, self.bottom() - y * self.height)
    }

    fn bottom(&self) -> f64 {
        self.top + self.height
    }
}

/// Both axes.
pub fn axes(plot: &Plot, frame: &Frame) -> AnyView {
    let (left, bottom) = frame.at((0.0, 0.0));
    let (right, top) = frame.at((1.0, 1.0));
    let along = ticks(&plot.x, |at| {
        let (x, _) = frame.at((at, 0.0));
        (format!("M{x:.1} {bottom}v{TICK}"), format!("M{x:.1} {bottom}V{top}"), x, bottom + 18.0)
    });
    let up = ticks(&plot.y, |at| {
        let (_, y) = frame.at((0.0, at));
        (format!("M{left} {y:.1}h-{TICK}"), format!("M{left} {y:.1}H{right}"), left - 8.0, y + 4.0)
    });
    view! {
        <g class="along">{along}</g>
        <g class="up">{up}</g>
        <path class="axis" d=format!("M{left} {top}V{bottom}H{right}") />
        <text class="along title" x=(left + right) / 2.0 y=bottom + 38.0>{plot.x.title.clone()}</text>
        <text class="title" x="4" y="14">{plot.y.title.clone()}</text>
    }
    .into_any()
}

/// Ticks of an axis: `place` gives the tick, the line across the picture, and where the label goes.
fn ticks(axis: &Axis, place: impl Fn(f64) -> (String, String, f64, f64)) -> Vec<AnyView> {
    let tick = |tick: &kerbworth_core::plot::Tick| {
        let (short, across, x, y) = place(tick.at);
        view! {
            <path class="across" d=across />
            <path class="axis" d=short />
            <text x=x y=y>{tick.label.clone()}</text>
        }
        .into_any()
    };
    axis.ticks.iter().map(tick).collect()
}
