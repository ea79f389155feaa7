//! A document as plain text, for a message or an advertisement.
//!
//! No line is broken and no column is lined up by spaces: both come apart in another typeface. A table's row
//! becomes a line of its own, each figure with the name of its column.

use super::document::{Block, Document, FindingLines, Level, Table};
use crate::figure::{Amount, Figure};
use crate::say;
use crate::show::Show;

/// The document as text, ending with a line feed.
#[must_use]
pub fn text(document: &Document, show: &Show) -> String {
    let mut out = format!("{}\n", document.title.trim());
    let mut last: Option<&Block> = None;
    for block in &document.blocks {
        // Findings stand close together, as lines of one list.
        let close = matches!((last, block), (Some(Block::Finding(_)), Block::Finding(_)));
        if !close {
            out.push('\n');
        }
        write(&mut out, block, show);
        last = Some(block);
    }
    out
}

fn line(out: &mut String, text: &str) {
    out.push_str(text.trim_end());
    out.push('\n');
}

fn write(out: &mut String, block: &Block, show: &Show) {
    match block {
        Block::Heading(Level::Part, heading) => {
            line(out, heading);
            line(out, &"-".repeat(heading.chars().count()));
        }
        Block::Heading(Level::Section, heading) => line(out, &format!("{heading}:")),
        Block::Paragraph(said) => line(out, said),
        Block::List(points) => {
            for point in points {
                line(out, &format!("- {point}"));
            }
        }
        Block::Facts(facts) => {
            for (name, what) in facts {
                line(out, &format!("{name}: {}", in_one_line(what)));
            }
        }
        Block::Table(table) => write_table(out, table),
        Block::Finding(finding) => write_finding(out, finding, show),
        Block::Figure(figure) => write_figure(out, figure, show, 0),
        Block::Picture(plot) => line(out, &format!("{}: {}", show.word(plot.title), plot.description)),
        Block::Caution(said) => line(out, &say!(show, "CAUTION: {0}", said)),
        Block::SignatureLines(names) => {
            for name in names {
                line(out, &format!("{name}: {}", "_".repeat(30)));
            }
        }
    }
}

fn in_one_line(cell: &str) -> String {
    let mut line = String::new();
    for part in cell.lines().map(str::trim).filter(|part| !part.is_empty()) {
        if !line.is_empty() {
            line.push_str(if line.ends_with('.') { " " } else { "; " });
        }
        line.push_str(part);
    }
    line
}

fn write_table(out: &mut String, table: &Table) {
    for row in &table.rows {
        let mut cells = row.iter().map(|cell| in_one_line(cell)).zip(&table.head);
        let Some((name, head)) = cells.next() else { continue };
        // A bare number says nothing without the name of its column.
        let bare = !name.is_empty() && name.chars().all(|sign| sign.is_ascii_digit());
        let name = if bare { format!("{head} {name}") } else { name };
        let rest: Vec<String> =
            cells.filter(|(cell, _)| !cell.is_empty()).map(|(cell, head)| format!("{head}: {cell}")).collect();
        line(out, &format!("- {name}. {}", rest.join(" | ")));
    }
}

fn write_finding(out: &mut String, finding: &FindingLines, show: &Show) {
    let grade = show.word(finding.grade.map_or("not graded", crate::grade::Grade::word)).to_owned();
    let grade = if finding.is_unsafe { say!(show, "{0}, UNSAFE", grade) } else { grade };
    line(out, &format!("- {}: {grade}", finding.name));
    for (name, said) in &finding.lines {
        line(out, &format!("  {name}: {said}"));
    }
    for photo in finding.photos.iter().filter(|photo| !photo.caption.trim().is_empty()) {
        line(out, &say!(show, "  Photograph: {0}", photo.caption.trim().to_owned()));
    }
}

fn write_figure(out: &mut String, figure: &Figure, show: &Show, depth: usize) {
    let amount = show.amount(figure.amount);
    let gap = if matches!(figure.amount, Amount::None) { "" } else { ": " };
    let note = if figure.note.is_empty() { String::new() } else { format!(" ({})", show.say(&figure.note)) };
    line(out, &format!("{}{}{gap}{amount}{note}", "  ".repeat(depth), show.say(&figure.label)));
    for part in &figure.parts {
        write_figure(out, part, show, depth + 1);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grade::Grade;
    use crate::hand_over::document::Align;
    use crate::units::Money;
    use crate::worksheet::Photo;

    #[test]
    fn every_block_has_its_text() {
        let mut document = Document::titled("Title ", &Show::default());
        document.part("Part");
        document.paragraph("Said.");
        document.section("Section");
        document.list(vec!["one".into(), "two".into()]);
        document.facts(vec![("Name", "what\nelse".into()), ("Left out", " ".into())]);
        let mut table = Table::of("Sales", &[("Sale", Align::Start), ("Price", Align::End), ("Note", Align::Start)]);
        table.rows.push(vec!["1".into(), "£10".into(), String::new()]);
        table.rows.push(vec!["Mine".into(), "£20".into(), "two\nlines".into()]);
        document.table(table);
        for grade in [Some(Grade::Failed), None] {
            document.block(Block::Finding(FindingLines {
                name: "Hoses".into(),
                grade,
                is_unsafe: grade.is_some(),
                lines: vec![("Note".into(), "cracked".into())],
                photos: ["", "hose "]
                    .map(|caption| Photo { id: "p".into(), caption: caption.into() })
                    .into_iter()
                    .filter(|_| grade.is_some())
                    .collect(),
            }));
        }
        let part = Figure::new("Part", Amount::Money(Money(-500))).noted("why");
        document.block(Block::Figure(Figure::new("Whole", Amount::None).from_parts(vec![part])));
        document.block(Block::Caution("Hot.".into()));
        document.block(Block::SignatureLines(vec!["Date".into()]));
        let expected = "Title\n\nPart\n----\n\nSaid.\n\nSection:\n\n- one\n- two\n\nName: what; else\n\n\
                        - Sale 1. Price: £10\n- Mine. Price: £20 | Note: two; lines\n\n\
                        - Hoses: failed, UNSAFE\n  Note: cracked\n  Photograph: hose\n- Hoses: not graded\n  Note: cracked\n\n\
                        Whole\n  Part: −£5 (why)\n\nCAUTION: Hot.\n\nDate: ______________________________\n";
        assert_eq!(text(&document, &Show::default()), expected);
    }

    #[test]
    fn nothing_to_say_is_left_out() {
        let mut document = Document::titled("Bare", &Show::default());
        document.paragraph("  ");
        document.list(Vec::new());
        document.facts(vec![("Empty", String::new())]);
        document.table(Table::of("None", &[]));
        assert_eq!(text(&document, &Show::default()), "Bare\n");
    }
}
