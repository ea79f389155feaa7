//! Core's pictures drawn: a frame with axes, the series in it, a key by form, and the table behind it.

mod axes;
mod series;

use kerbworth_core::plot::{Mark, Plot, Shape};
use leptos::prelude::*;

use crate::ids;
use crate::part::unfold::Unfold;
use crate::words::t;
use axes::{Frame, axes};

/// A picture.
#[component]
pub fn Picture(
    /// The picture.
    plot: Plot,
    /// Whether the table behind it goes with it: not where its figures stand in a table of their own.
    #[prop(default = true)]
    table: bool,
) -> impl IntoView {
    let frame = Frame::of(&plot);
    let (title, desc) = (ids::field(plot.title), ids::message(plot.title));
    let drawn: Vec<AnyView> = plot.series.iter().map(|series| series::draw(&series.shape, &frame)).collect();
    let key: Vec<AnyView> = plot
        .series
        .iter()
        .filter(|series| !series.name.is_empty())
        .map(|series| {
            let drawn = series::draw(&sample(&series.shape), &Frame::KEY);
            view! { <li><svg viewBox="0 0 32 16" aria-hidden="true">{drawn}</svg> {t(series.name)}</li> }.into_any()
        })
        .collect();
    let (labelled, described) = (title.clone(), desc.clone());
    let (head, rows) = (plot.head.clone(), StoredValue::new(plot.rows.clone()));
    view! {
        <figure class="plot">
            <figcaption><h3>{t(plot.title)}</h3></figcaption>
            <svg viewBox=frame.view_box() role="img" aria-labelledby=labelled aria-describedby=described>
                <title id=title>{t(plot.title)}</title>
                <desc id=desc>{plot.description.clone()}</desc>
                {axes(&plot, &frame)}
                {drawn}
            </svg>
            <ul class="plain key">{key}</ul>
            {(!plot.note.is_empty()).then(|| view! { <p class="quiet">{plot.note.clone()}</p> })}
            {table.then(|| view! {
                <Unfold summary=ViewFn::from(|| t("The figures behind it"))>
                    <p class="quiet">{plot.description.clone()}</p>
                    {rows_of(plot.title, &head, &rows.get_value())}
                </Unfold>
            })}
        </figure>
    }
}

/// What stands for a series in the key.
fn sample(shape: &Shape) -> Shape {
    const MIDDLE: (f64, f64) = (0.5, 0.5);
    const ENDS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];
    match shape {
        Shape::Marks(mark, _) => Shape::Marks(*mark, vec![MIDDLE]),
        Shape::Stems(_) => Shape::Marks(Mark::Ring, vec![MIDDLE]),
        Shape::Line(_) => Shape::Line(vec![(0.0, 0.5), (1.0, 0.5)]),
        // Lying in the key even where it stands in the picture: there is no height for it.
        Shape::Range { .. } | Shape::Upright { .. } => Shape::Range { across: 0.5, ends: ENDS },
    }
}

fn rows_of(title: &'static str, head: &[&'static str], rows: &[Vec<String>]) -> AnyView {
    let cells = |row: &Vec<String>| {
        let mut cells = row.iter().cloned();
        let name = cells.next();
        let rest: Vec<_> = cells.map(|cell| view! { <td class="amount">{cell}</td> }).collect();
        view! { <tr><th scope="row">{name}</th>{rest}</tr> }
    };
    let heads: Vec<_> = head
        .iter()
        .enumerate()
        .map(|(place, head)| view! { <th scope="col" class:amount=move || place.ne(&0)>{t(head)}</th> })
        .collect();
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=t(title)>
            <table>
                <thead><tr>{heads}</tr></thead>
                <tbody>{rows.iter().map(cells).collect::<Vec<_>>()}</tbody>
            </table>
        </div>
    }
    .into_any()
}
