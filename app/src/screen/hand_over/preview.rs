//! A document drawn: what is seen here is what is printed.

use kerbworth_core::figure::Figure;
use kerbworth_core::hand_over::{Align, Block, Document, FindingLines, Level, Table};
use kerbworth_core::show::Show;
use kerbworth_core::worksheet::Photo;
use leptos::prelude::*;

use crate::live::{Derived, live};
use crate::part::photo::Photograph;
use crate::part::plot::Picture;
use crate::part::tally::{Tally, UnsafeMark};
use crate::words::t;

/// The document.
#[component]
pub fn Preview(
    /// What is drawn.
    document: Derived<Document>,
    /// How its figures are shown.
    show: Derived<Show>,
) -> impl IntoView {
    view! {
        <article class="document">
            {live(move || {
                let Document { title, blocks, .. } = document.get();
                view! {
                    <h2>{title}</h2>
                    {blocks.into_iter().map(|it| block(it, show)).collect_view()}
                }
            })}
        </article>
    }
}

fn block(block: Block, show: Derived<Show>) -> AnyView {
    match block {
        Block::Heading(Level::Part, heading) => view! { <h3>{heading}</h3> }.into_any(),
        Block::Heading(Level::Section, heading) => view! { <h4>{heading}</h4> }.into_any(),
        Block::Paragraph(said) => view! { <p>{held(&said)}</p> }.into_any(),
        Block::List(points) => {
            view! { <ul>{points.into_iter().map(|point| view! { <li>{held(&point)}</li> }).collect_view()}</ul> }
                .into_any()
        }
        Block::Facts(facts) => lines(facts),
        Block::Table(table) => table_view(table),
        Block::Finding(finding) => finding_view(finding),
        Block::Figure(figure) => view! { <ul class="plain workings">{working(figure, show)}</ul> }.into_any(),
        Block::Picture(plot) => view! { <Picture plot=*plot table=false /> }.into_any(),
        Block::Caution(said) => view! { <p class="caution"><strong>{t("Caution")} ": "</strong> {said}</p> }.into_any(),
        Block::SignatureLines(names) => signature_lines(names),
    }
}

/// A text whose figures stay on one line with their sign.
fn held(text: &str) -> String {
    text.replace(" %", "\u{a0}%")
}

/// Names and what they are.
fn lines(lines: Vec<(String, String)>) -> AnyView {
    let line = |(name, said): (String, String)| view! { <div><dt>{name}</dt><dd>{held(&said)}</dd></div> };
    view! { <dl>{lines.into_iter().map(line).collect_view()}</dl> }.into_any()
}

fn signature_lines(names: Vec<String>) -> AnyView {
    let line = |name: String| view! { <li>{name}</li> };
    view! { <ul class="plain signing">{names.into_iter().map(line).collect_view()}</ul> }.into_any()
}

fn table_view(table: Table) -> AnyView {
    let ends: Vec<Option<&str>> =
        (0..table.head.len()).map(|column| (table.align_of(column) == Align::End).then_some("amount")).collect();
    let end = move |column: usize| ends.get(column).copied().flatten();
    let head = table.head.into_iter().enumerate();
    let head = head.map(|(column, head)| view! { <th scope="col" class=end(column)>{head}</th> }).collect_view();
    let row = |row: Vec<String>| {
        let cells = row.into_iter().enumerate().map(|(column, cell)| {
            // A line feed in a cell begins a new line in it.
            let said = cell.lines().map(|line| view! { <div>{held(line)}</div> }).collect_view();
            if column == 0 {
                view! { <th scope="row">{said}</th> }.into_any()
            } else {
                view! { <td class=end(column)>{said}</td> }.into_any()
            }
        });
        view! { <tr>{cells.collect_view()}</tr> }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=table.caption>
            <table>
                <thead><tr>{head}</tr></thead>
                <tbody>{table.rows.into_iter().map(row).collect_view()}</tbody>
            </table>
        </div>
    }
    .into_any()
}

fn finding_view(finding: FindingLines) -> AnyView {
    let FindingLines { name, grade, is_unsafe, lines: said, photos } = finding;
    let photo = |Photo { id, caption }: Photo| {
        // The caption stands below; told in the same words, the picture would be told twice.
        let told = if caption.is_empty() { String::new() } else { format!("{} {caption}", t("Photograph:")) };
        view! {
            <li>
                <figure>
                    <Photograph id caption=told />
                    {(!caption.is_empty()).then(|| view! { <figcaption>{caption}</figcaption> })}
                </figure>
            </li>
        }
    };
    view! {
        <div class="finding">
            <p>
                <strong>{name}</strong>
                {match grade {
                    Some(grade) => view! { <Tally grade /> }.into_any(),
                    None => view! { <span>{t("not graded")}</span> }.into_any(),
                }}
                {is_unsafe.then(|| view! { <UnsafeMark /> })}
            </p>
            {(!said.is_empty()).then(|| lines(said))}
            {(!photos.is_empty())
                .then(|| view! { <ul class="plain photos">{photos.into_iter().map(photo).collect_view()}</ul> })}
        </div>
    }
    .into_any()
}

/// A figure with all of its working open: paper cannot be opened.
fn working(figure: Figure, show: Derived<Show>) -> AnyView {
    let Figure { label, amount, note, parts } = figure;
    view! {
        <li>
            <div class="figure-line">
                <span>{live(move || show.with(|show| show.say(&label)))}</span>
                <span class="amount">{live(move || show.with(|show| show.amount(amount)))}</span>
            </div>
            {(!note.is_empty()).then(|| view! { <p class="quiet">{live(move || show.with(|show| show.say(&note)))}</p> })}
            {(!parts.is_empty())
                .then(|| view! { <ul class="plain">{parts.into_iter().map(|part| working(part, show)).collect_view()}</ul> })}
        </li>
    }
    .into_any()
}
