//! One series of a picture. However many marks it has, it is one path: thousands stay light.

use std::fmt::Write as _;

use kerbworth_core::plot::{Mark, Point, Shape};
use leptos::prelude::*;

use super::axes::Frame;

/// Draws a series in a frame.
pub fn draw(shape: &Shape, frame: &Frame) -> AnyView {
    match shape {
        Shape::Marks(Mark::Disc, points) => path("disc", at_each(points, frame, |x, y| format!("M{x:.1} {y:.1}h0"))),
        Shape::Marks(Mark::Ring, points) => path(
            "ring",
            at_each(points, frame, |x, y| format!("M{:.1} {y:.1}a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0", x - 3.5)),
        ),
        Shape::Stems(stems) => {
            let mut lines = String::new();
            for (from, to) in stems {
                line(&mut lines, &[frame.at(*from), frame.at(*to)]);
            }
            path("stem", lines)
        }
        Shape::Line(points) => {
            let mut lines = String::new();
            line(&mut lines, &points.iter().map(|point| frame.at(*point)).collect::<Vec<_>>());
            path("fit", lines)
        }
        Shape::Range { across, ends } => range(ends.map(|end| frame.at((end, *across))), (0.0, 7.0)),
        Shape::Upright { across, ends } => range(ends.map(|end| frame.at((*across, end))), (7.0, 0.0)),
    }
}

/// A range through five places; its middle is struck to either side.
fn range([low, inner_low, middle, inner_high, high]: [Point; 5], (dx, dy): (f64, f64)) -> AnyView {
    let stroke = |class: &'static str, from: Point, to: Point| {
        let mut lines = String::new();
        line(&mut lines, &[from, to]);
        path(class, lines)
    };
    let (x, y) = middle;
    view! {
        {stroke("outer", low, high)}
        {stroke("inner", inner_low, inner_high)}
        {stroke("middle", (x - dx, y - dy), (x + dx, y + dy))}
    }
    .into_any()
}

fn at_each(points: &[Point], frame: &Frame, mark: impl Fn(f64, f64) -> String) -> String {
    points
        .iter()
        .map(|point| {
            let (x, y) = frame.at(*point);
            mark(x, y)
        })
        .collect()
}

fn line(lines: &mut String, points: &[Point]) {
    for (place, (x, y)) in points.iter().enumerate() {
        // Writing to a text does not fail.
        let _ = write!(lines, "{}{x:.1} {y:.1}", if place == 0 { 'M' } else { 'L' });
    }
}

fn path(class: &'static str, d: String) -> AnyView {
    view! { <path class=class d=d /> }.into_any()
}
