//! A document on the page, held against the one that core makes.

use kerbworth_core::figure::Figure;
use kerbworth_core::hand_over::{Block, Document};
use kerbworth_core::show::Show;

use crate::app::{App, one_line};

/// The page's document is this one: its headings, its paragraphs and points, every fact, every cell of its tables, every line
/// of every finding and every figure with its working.
///
/// # Panics
/// When something of it is not the same to the last digit.
#[track_caller]
pub fn is_on_page(app: &App, document: &Document, show: &Show) {
    app.until("the document is there", || {
        (app.run("return document.querySelector('.document h2')?.innerText ?? ''", &[]) == document.title.trim())
            .then_some(())
    });
    let wanted = lines(document, show);
    // Alone on a line of their own, as core's lines are told below; a caption under a photograph is the finding's.
    let parts = ".document h3, .document h4, .document > p, .document > ul > li, .document dl > div, .document th, \
                 .document td, .document .finding > p > strong, .document .figure-line, .document .figure-line + p";
    let script = "return [...document.querySelectorAll(arguments[0])]
        .filter((part) => !part.closest('figure') && !part.matches('.workings > li'))
        .map((part) => part.innerText)";
    let shown: Vec<String> = serde_json::from_value(app.run(script, &[parts.into()])).expect("texts of parts");
    let shown: Vec<String> = shown.iter().map(|text| one_line(text)).collect();
    let differ = shown.iter().zip(&wanted).find(|(shown, wanted)| shown != wanted);
    assert_eq!(differ, None, "a line of “{}” on the page, and core's", document.title);
    assert_eq!(shown.len(), wanted.len(), "lines of “{}” on the page, and core's", document.title);
}

/// What the document says but for its title, line by line, each cell of a table a line.
#[must_use]
pub fn lines(document: &Document, show: &Show) -> Vec<String> {
    document.blocks.iter().flat_map(|block| of_block(block, show)).collect()
}

/// What a block says, line by line.
#[must_use]
pub fn of_block(block: &Block, show: &Show) -> Vec<String> {
    let facts = |facts: &[(String, String)]| facts.iter().map(|(name, said)| format!("{name} {said}")).collect();
    let lines: Vec<String> = match block {
        Block::Heading(_, said) | Block::Paragraph(said) => vec![said.clone()],
        Block::List(points) => points.clone(),
        Block::SignatureLines(names) => names.clone(),
        Block::Facts(said) => facts(said),
        Block::Table(table) => table.head.iter().chain(table.rows.iter().flatten()).cloned().collect(),
        Block::Finding(finding) => std::iter::once(finding.name.clone()).chain(facts(&finding.lines)).collect(),
        Block::Figure(figure) => workings(figure, show),
        // The same figures stand in tables.
        Block::Picture(_) => Vec::new(),
        Block::Caution(said) => vec![format!("Caution: {said}")],
    };
    lines.iter().map(|line| one_line(line)).collect()
}

/// A figure with all of its working.
fn workings(figure: &Figure, show: &Show) -> Vec<String> {
    let mut lines = vec![format!("{} {}", show.say(&figure.label), show.amount(figure.amount))];
    lines.extend((!figure.note.is_empty()).then(|| show.say(&figure.note)));
    lines.extend(figure.parts.iter().flat_map(|part| workings(part, show)));
    lines
}
